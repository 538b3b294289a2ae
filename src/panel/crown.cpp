// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/crown.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <vector>

#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector3d;

double length_of(const Nodes& nodes, const std::vector<int>& loop) {
  double length = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i)
    length += (nodes.row(loop[i]) - nodes.row(loop[(i + 1) % loop.size()])).norm();
  return length;
}

/// Twice the vector area of triangle t.
Vector3d area_vector(const Mesh& mesh, Eigen::Index t) {
  const Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)).transpose();
  const Vector3d b = mesh.nodes.row(mesh.triangles(t, 1)).transpose();
  const Vector3d c = mesh.nodes.row(mesh.triangles(t, 2)).transpose();
  return (b - a).cross(c - a);
}

}  // namespace

RimPlane rim_plane(const Mesh& mesh, const Vector3d& along) {
  const std::vector<std::vector<int>> loops = boundary_loops(mesh.triangles);
  std::size_t longest = 0;
  for (std::size_t i = 1; i < loops.size(); ++i)
    if (length_of(mesh.nodes, loops[i]) > length_of(mesh.nodes, loops[longest])) longest = i;
  const std::vector<int>& loop = loops[longest];
  Vector3d mean = Vector3d::Zero();
  double length = 0.0;
  const auto each_edge = [&](const auto& visit) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vector3d a = mesh.nodes.row(loop[i]).transpose();
      const Vector3d b = mesh.nodes.row(loop[(i + 1) % loop.size()]).transpose();
      visit(Vector3d(0.5 * (a + b)), (b - a).norm());
    }
  };
  each_edge([&](const Vector3d& middle, double edge) {
    mean += edge * middle;
    length += edge;
  });
  mean /= length;
  Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
  each_edge([&](const Vector3d& middle, double edge) {
    spread += edge * (middle - mean) * (middle - mean).transpose();
  });
  Vector3d facing = Vector3d::Zero();
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) facing += area_vector(mesh, t);
  RimPlane plane;
  plane.origin = mean;
  plane.normal =
      Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread).eigenvectors().col(0).normalized();
  if (plane.normal.dot(facing) < 0.0) plane.normal = -plane.normal;
  plane.along = (along - along.dot(plane.normal) * plane.normal).normalized();
  plane.up = plane.normal.cross(plane.along);
  return plane;
}

Crown crown_of(const Mesh& mesh, const RimPlane& plane) {
  using Vector6d = Eigen::Matrix<double, 6, 1>;
  Eigen::Matrix<double, 6, 6> matrix = Eigen::Matrix<double, 6, 6>::Zero();
  Vector6d right = Vector6d::Zero();
  double volume = 0.0, area = 0.0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    Vector3d centre = -plane.origin;
    for (int k = 0; k < 3; ++k) centre += mesh.nodes.row(mesh.triangles(t, k)).transpose() / 3.0;
    const double seen = 0.5 * area_vector(mesh, t).dot(plane.normal);
    const double height = centre.dot(plane.normal);
    const double u = centre.dot(plane.along), v = centre.dot(plane.up);
    Vector6d row;
    row << 1.0, u, v, 0.5 * u * u, u * v, 0.5 * v * v;
    matrix += seen * row * row.transpose();
    right += seen * height * row;
    volume += seen * height;
    area += seen;
  }
  const Vector6d fit = matrix.ldlt().solve(right);
  return {volume / area, -fit[3], -fit[5]};
}

}  // namespace calmplate::panel
