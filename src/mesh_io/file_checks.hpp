// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

namespace calmplate::mesh_io {

enum class Format { kVtp, kVtu, kStl, kObj, kPly };

/// The format that a file name's ending means, in any case.
/// @throws base::InputError if the ending is none of .vtp, .vtu, .stl, .obj, .ply
Format format_of(const std::filesystem::path& file);

/// "VTP", "VTU", "STL", "OBJ" or "PLY".
std::string format_name(Format format);

/// @throws base::InputError if `file` is not there, a folder, no ordinary file, empty or not
///         readable
void check_readable(const std::filesystem::path& file);

/// The whole file. @throws base::InputError if it cannot be read
std::string read_whole(const std::filesystem::path& file);

/// True if the file's last bytes close the VTK document. VTK itself forgives a cut in the data's
/// last lines.
bool ends_as_vtk_file(const std::filesystem::path& file);

/// Refuses a file that its reader gave up on.
[[noreturn]] void refuse_damaged(const std::filesystem::path& file, Format format);

}  // namespace calmplate::mesh_io
