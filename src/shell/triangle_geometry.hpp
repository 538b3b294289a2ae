// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

namespace calmplate::shell {

/// A flat triangle in its own frame: x from node 1 to node 2, z normal, nodes anticlockwise.
struct TriangleGeometry {
  Eigen::Matrix3d axes;            ///< columns: unit x, y, z of the frame
  Eigen::Matrix<double, 3, 2> xy;  ///< [node x 2] m, node coordinates in the frame
  double area = 0.0;               ///< m2
};

/// @param corners  rows: the three corner positions, m
/// @throws std::invalid_argument if the area is not above 0
TriangleGeometry triangle_geometry(const Eigen::Matrix3d& corners);

}  // namespace calmplate::shell
