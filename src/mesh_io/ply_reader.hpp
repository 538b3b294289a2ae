// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "mesh_io/polygon_soup.hpp"

namespace calmplate::mesh_io {

/// Reads a PLY file (ascii, binary of either byte order) that lies in memory. Elements and
/// properties other than vertex x, y, z and face vertex_indices (or vertex_index) are passed over.
/// Own code, because the readers of VTK 9.1 and CGAL 5.5 end the process or return part of the mesh
/// when such a file is cut or a count in it is wrong; here no byte outside `text` is touched and no
/// count is believed before the bytes for it are there.
/// @return false if it is no whole PLY file
bool read_ply(const std::string& text, PolygonSoup& soup);

}  // namespace calmplate::mesh_io
