// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <cstddef>
#include <filesystem>
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::mesh_io {

/// What every file format is read into: points in the file's unit and polygons that name them.
/// Nothing is checked yet.
struct PolygonSoup {
  std::vector<std::array<double, 3>> points;
  std::vector<std::vector<std::size_t>> polygons;  ///< three or more point numbers from 0
  std::size_t lines_and_points = 0;                ///< cells without area, left out of `polygons`
};

/// Checks a soup and cuts it into triangles. Quads take the diagonal that keeps both halves
/// upright, the shorter one if both do; larger polygons are cut by CGAL's hole filling.
/// @param file             for messages
/// @param metres_per_unit  length of the file's unit, above 0
/// @return points in the order of the file, also those that no triangle uses; in metres
/// @throws base::InputError  no polygon; a coordinate that is not finite; a polygon with fewer than
///         three points, with a point that does not exist, or that cannot be cut
panel::Mesh to_mesh(const PolygonSoup& soup,
                    const std::filesystem::path& file,
                    double metres_per_unit);

}  // namespace calmplate::mesh_io
