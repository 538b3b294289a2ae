// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <string>
#include <vector>

#include "panel/mesh.hpp"

/// The only door for mesh files. VTK's readers and writers live in a module that is loaded from the
/// program's own folder when a file is read or written, so that start-up does not pay for them.
namespace calmplate::mesh_io {

/// A named array on the nodes or the triangles of a mesh.
struct Field {
  std::string name;        ///< with its unit, such as "benefit_dB"
  Eigen::MatrixXd values;  ///< [n_node | n_tri x components]
};

/// Reads a surface mesh: .vtp, .vtu, .stl, .obj, .ply (ending in any case). Quads and polygons are
/// cut into triangles; everything that is no surface cell is refused.
/// @param metres_per_unit  length of the file's unit
/// @throws base::InputError  one line with file name and fault: not there, a folder, not readable,
/// an
///         ending we do not know, empty, no surface cell, volume cells, a coordinate that is not
///         finite
panel::Mesh read_mesh(const std::filesystem::path& file, double metres_per_unit);

/// Writes mesh and fields as VTU (compressed binary). Lengths in metres.
/// @throws std::runtime_error if the file cannot be written; std::invalid_argument if a field's
/// rows
///         do not fit
void write_vtu(const std::filesystem::path& file,
               const panel::Mesh& mesh,
               const std::vector<Field>& node_fields,
               const std::vector<Field>& triangle_fields);

/// Writes a bare surface mesh as .vtp, .stl (binary), .ply or .obj by its ending.
void write_mesh(const std::filesystem::path& file, const panel::Mesh& mesh);

}  // namespace calmplate::mesh_io
