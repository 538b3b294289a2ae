// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "mesh_io/polygon_soup.hpp"

namespace calmplate::mesh_io {

/// Reads OBJ that lies in memory: v and f lines, negative numbers too; lines and points are counted
/// and left out, textures, normals, groups and curves passed over. An OBJ file does not say how
/// long it is: one cut off at the end of a line cannot be told from a whole one. Own code: CGAL 5.5
/// knows no line elements, tabs or continued lines, and takes about five times as long.
/// @return false if a line of it cannot be understood
bool read_obj(const std::string& text, PolygonSoup& soup);

}  // namespace calmplate::mesh_io
