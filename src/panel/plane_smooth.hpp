// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <vector>

/// Better places for the points of a triangulation in the plane. Triangles stay as they are, and so
/// do the first `n_fixed` points; the order of the points alone decides, so that the same input
/// gives the same bytes.
namespace calmplate::panel {

using PlaneTriangles = std::vector<std::array<int, 3>>;

/// Every point to the area-weighted mean of the centroids of its triangles.
void to_centroids(std::vector<Eigen::Vector2d>& points,
                  std::size_t n_fixed,
                  const PlaneTriangles& triangles);

/// Moves points at whose triangles an angle is under 33 degrees, as long as the smallest angle
/// round the point grows by that.
void open_angles(std::vector<Eigen::Vector2d>& points,
                 std::size_t n_fixed,
                 const PlaneTriangles& triangles);

}  // namespace calmplate::panel
