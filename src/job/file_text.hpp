// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

namespace calmplate::job {

/// All bytes of a file that a person wrote.
/// @param what   what it should be: "a job file"
/// @param least  what it should hold at least, told if it is empty
/// @throws base::InputError if it is not an ordinary file of up to 4 MB, cannot be read or is empty
std::string file_text(const std::filesystem::path& file,
                      const std::string& what,
                      const std::string& least);

}  // namespace calmplate::job
