// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "panel/mesh.hpp"

namespace calmplate::mesh_io {

/// The mesh as binary STL (single precision, as the format has it).
std::string stl_text(const panel::Mesh& mesh);

/// The mesh as binary PLY with coordinates in double precision.
std::string ply_text(const panel::Mesh& mesh);

/// The mesh as OBJ with 17 significant digits.
std::string obj_text(const panel::Mesh& mesh);

}  // namespace calmplate::mesh_io
