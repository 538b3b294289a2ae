// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "mesh_io/polygon_soup.hpp"
#include "panel/mesh.hpp"

namespace calmplate::mesh_io {

/// Reads STL, ascii or binary, that lies in memory. Corners at exactly the same place become one
/// point. A binary file must have the length that its count of triangles asks for: a cut file would
/// otherwise pass as a smaller mesh.
/// @return false if it is no whole STL file
bool read_stl(const std::string& text, PolygonSoup& soup);

/// Reads OBJ that lies in memory: v and f lines, negative numbers too; lines and points are counted
/// and left out, texture and normals passed over. An OBJ file does not say how long it is: one cut
/// off at the end of a line cannot be told from a whole one.
/// @return false if a line of it cannot be understood
bool read_obj(const std::string& text, PolygonSoup& soup);

/// The mesh as binary STL (single precision, as the format has it).
std::string stl_text(const panel::Mesh& mesh);

/// The mesh as binary PLY with coordinates in double precision.
std::string ply_text(const panel::Mesh& mesh);

/// The mesh as OBJ with 17 significant digits.
std::string obj_text(const panel::Mesh& mesh);

}  // namespace calmplate::mesh_io
