// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "mesh_io/polygon_soup.hpp"

namespace calmplate::mesh_io {

/// Reads STL, ascii or binary, that lies in memory. Corners at exactly the same place become one
/// point. A binary file must have the length that its count of triangles asks for, and an ascii
/// file must end in "endsolid": a cut file would otherwise pass as a smaller mesh. Own code: CGAL
/// 5.5 keeps the corners in a tree, which a coordinate that is no number puts out of order, and
/// gives every triangle a list of its own.
/// @return false if it is no whole STL file
bool read_stl(const std::string& text, PolygonSoup& soup);

}  // namespace calmplate::mesh_io
