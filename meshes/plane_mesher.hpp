// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <functional>
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::demo {

using Loop = std::vector<Eigen::Vector2d>;  ///< closed polygon, m; the first point is not repeated

/// A plane region with holes cut into triangles.
struct PlaneMesh {
  panel::FlatPoints points;    ///< [n_node x 2] m, in rising order of the first, then the second
  panel::Triangles triangles;  ///< [n_tri x 3] anticlockwise, in rising order
};

/// Constrained Delaunay mesh of the region inside `outline` and outside `holes`.
/// @param longest   longest edge wanted at a place, m
/// @param smooth    rounds of Lloyd smoothing after refinement; 0 leaves the mesh irregular
PlaneMesh mesh_region(const Loop& outline,
                      const std::vector<Loop>& holes,
                      const std::function<double(const Eigen::Vector2d&)>& longest,
                      int smooth);

/// Points at equal steps along a closed polygon, about `step` apart.
Loop resample(const Loop& loop, double step);

}  // namespace calmplate::demo
