// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/mesh.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace calmplate::panel {

Eigen::VectorXd triangle_areas(const Mesh& mesh) {
  Eigen::VectorXd areas(mesh.triangles.rows());
  for (Eigen::Index t = 0; t < areas.size(); ++t) {
    const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)).transpose();
    const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(t, 1)).transpose();
    const Eigen::Vector3d c = mesh.nodes.row(mesh.triangles(t, 2)).transpose();
    areas[t] = 0.5 * (b - a).cross(c - a).norm();
  }
  return areas;
}

Nodes node_normals(const Mesh& mesh) {
  Nodes normals = Nodes::Zero(mesh.nodes.rows(), 3);
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      const int here = mesh.triangles(t, k);
      const Eigen::Vector3d p = mesh.nodes.row(here).transpose();
      const Eigen::Vector3d u = mesh.nodes.row(mesh.triangles(t, (k + 1) % 3)).transpose() - p;
      const Eigen::Vector3d v = mesh.nodes.row(mesh.triangles(t, (k + 2) % 3)).transpose() - p;
      const Eigen::Vector3d cross = u.cross(v);
      const double length = cross.norm();
      if (length > 0.0)
        normals.row(here) += (std::atan2(length, u.dot(v)) / length * cross).transpose();
    }
  for (Eigen::Index i = 0; i < normals.rows(); ++i) {
    const double length = normals.row(i).norm();
    if (length > 0.0) normals.row(i) /= length;
  }
  return normals;
}

}  // namespace calmplate::panel
