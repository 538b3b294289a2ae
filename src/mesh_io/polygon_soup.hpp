// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <limits>
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::mesh_io {

/// Number of a point in a soup, from 0.
using PointNumber = std::uint32_t;
/// Stands for a point that surely does not exist.
constexpr PointNumber kNoPoint = std::numeric_limits<PointNumber>::max();

/// The point numbers of one polygon.
struct PolygonView {
  const PointNumber* first = nullptr;
  std::size_t size = 0;
  PointNumber operator[](std::size_t k) const { return first[k]; }
  const PointNumber* begin() const { return first; }
  const PointNumber* end() const { return first + size; }
};

/// What every file format is read into: points in the file's unit and polygons that name them, all
/// corners in one list, because scans have millions. Nothing is checked yet.
struct PolygonSoup {
  std::vector<std::array<double, 3>> points;
  std::vector<PointNumber> corners;  ///< of all polygons, one polygon after the other
  std::vector<std::size_t> ends;     ///< end of each polygon in `corners`
  std::size_t lines_and_points = 0;  ///< cells without area, left out

  std::size_t polygon_count() const { return ends.size(); }
  PolygonView polygon(std::size_t p) const {
    const std::size_t begin = p == 0 ? 0 : ends[p - 1];
    return {corners.data() + begin, ends[p] - begin};
  }
  /// Makes the corners added since the last call a polygon.
  void close_polygon() { ends.push_back(corners.size()); }
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
