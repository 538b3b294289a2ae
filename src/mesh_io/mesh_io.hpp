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
/// cut into triangles; lines and loose points beside a surface are left out. Only .vtp and .vtu
/// load VTK. STL corners at exactly the same place become one node; nothing else is mended here.
/// @param metres_per_unit  length of the file's unit, above 0
/// @return nodes in the order of the file, in metres
/// @throws base::InputError  one line with file name and fault: not there, a folder, not readable,
///         an ending we do not know, empty, damaged or cut short, no surface cell, volume or curved
///         cells, a coordinate that is not finite, a polygon with a point that does not exist
/// @throws std::invalid_argument  if metres_per_unit is not finite or not above 0
/// @throws std::runtime_error     if the module with VTK is missing or no process can be started
panel::Mesh read_mesh(const std::filesystem::path& file, double metres_per_unit);

/// Writes mesh and fields as VTU (compressed binary). Lengths in metres. The file appears whole or
/// not at all.
/// @throws std::runtime_error     if the file cannot be written or the module with VTK is missing
/// @throws std::invalid_argument  if a field's rows do not fit, or the mesh names nodes that it
/// does
///         not have or has coordinates that are not finite
void write_vtu(const std::filesystem::path& file,
               const panel::Mesh& mesh,
               const std::vector<Field>& node_fields,
               const std::vector<Field>& triangle_fields);

/// Writes a bare surface mesh as .vtp, .vtu, .stl (binary), .ply or .obj by its ending; whole or
/// not at all.
/// @throws base::InputError for an ending we do not know; the others as write_vtu
void write_mesh(const std::filesystem::path& file, const panel::Mesh& mesh);

}  // namespace calmplate::mesh_io
