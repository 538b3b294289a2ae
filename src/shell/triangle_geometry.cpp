// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/triangle_geometry.hpp"

#include <Eigen/Geometry>
#include <stdexcept>

namespace calmplate::shell {

TriangleGeometry triangle_geometry(const Eigen::Matrix3d& corners) {
  const Eigen::Vector3d p = corners.row(0);
  const Eigen::Vector3d side2 = corners.row(1).transpose() - p;
  const Eigen::Vector3d side3 = corners.row(2).transpose() - p;
  const Eigen::Vector3d normal = side2.cross(side3);
  TriangleGeometry g;
  g.area = 0.5 * normal.norm();
  if (!(g.area > 0.0)) throw std::invalid_argument("triangle_geometry: the area is not above 0");
  g.axes.col(0) = side2.normalized();
  g.axes.col(2) = normal.normalized();
  g.axes.col(1) = g.axes.col(2).cross(g.axes.col(0));
  g.xy.row(0).setZero();
  g.xy.row(1) << side2.norm(), 0.0;
  g.xy.row(2) << side3.dot(g.axes.col(0)), side3.dot(g.axes.col(1));
  return g;
}

}  // namespace calmplate::shell
