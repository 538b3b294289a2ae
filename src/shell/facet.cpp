// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/facet.hpp"

#include <Eigen/Geometry>
#include <stdexcept>

#include "shell/bending_triangle.hpp"
#include "shell/membrane_triangle.hpp"
#include "shell/triangle_geometry.hpp"
#include "shell/triangle_mass.hpp"

namespace calmplate::shell {
namespace {

// Places of the facet's own dofs (u, v, w, rx, ry, rz a node) in the two elements' order.
constexpr std::array<int, 9> kMembrane = {0, 1, 5, 6, 7, 11, 12, 13, 17};
constexpr std::array<int, 9> kBending = {2, 3, 4, 8, 9, 10, 14, 15, 16};

void scatter(const Matrix9d& small, const std::array<int, 9>& place, Matrix18d& large) {
  for (std::size_t i = 0; i < 9; ++i)
    for (std::size_t j = 0; j < 9; ++j)
      large(place[i], place[j]) += small(static_cast<int>(i), static_cast<int>(j));
}

/// Turns a matrix from the facet's axes to the node axes, block by block.
Matrix18d to_node_axes(const Matrix18d& local, const Eigen::Matrix3d& facet, const FacetNodes& n) {
  std::array<Eigen::Matrix3d, 3> turn;
  for (std::size_t i = 0; i < 3; ++i) turn[i] = facet.transpose() * n.axes[i];
  Matrix18d out;
  for (int i = 0; i < 6; ++i)
    for (int j = 0; j < 6; ++j)
      out.block<3, 3>(3 * i, 3 * j).noalias() = turn[static_cast<std::size_t>(i / 2)].transpose() *
                                                local.block<3, 3>(3 * i, 3 * j) *
                                                turn[static_cast<std::size_t>(j / 2)];
  return out;
}

}  // namespace

Plate plate_of(const sheet::Material& material, double thickness_m) {
  return {thickness_m, material.young_pa, material.poisson, material.density};
}

Matrix18d facet_stiffness(const FacetNodes& nodes, const Plate& plate, Part part) {
  const TriangleGeometry g = triangle_geometry(nodes.corners);
  const Eigen::Matrix3d e = plane_stress(plate.young_pa, plate.poisson);
  const double h = plate.thickness_m;
  Matrix18d local = Matrix18d::Zero();
  if (part != Part::bending) scatter(membrane_stiffness(g, h * e, plate.poisson), kMembrane, local);
  if (part != Part::membrane) scatter(bending_stiffness(g, h * h * h / 12.0 * e), kBending, local);
  return to_node_axes(local, g.axes, nodes);
}

Matrix18d facet_mass(const FacetNodes& nodes, double mass_per_area) {
  const TriangleGeometry g = triangle_geometry(nodes.corners);
  Matrix18d local = Matrix18d::Zero();
  scatter(bending_mass(g, mass_per_area), kBending, local);
  const Eigen::Matrix3d in_plane = linear_mass(g, mass_per_area);
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      local(6 * i, 6 * j) += in_plane(i, j);
      local(6 * i + 1, 6 * j + 1) += in_plane(i, j);
    }
  return to_node_axes(local, g.axes, nodes);
}

Matrix30d core_shear_stiffness(const FacetNodes& nodes, double thickness_m, double dz_m) {
  if (!(thickness_m > 0.0))
    throw std::invalid_argument("core_shear_stiffness: thickness_m must be above 0");
  const TriangleGeometry g = triangle_geometry(nodes.corners);
  const Eigen::Vector3d normal = g.axes.col(2);
  Matrix30d k = Matrix30d::Zero();
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3;
    const Eigen::Vector3d side = nodes.corners.row(static_cast<Eigen::Index>(j)) -
                                 nodes.corners.row(static_cast<Eigen::Index>(i));
    const double length = side.norm();
    const Eigen::Vector3d along = side / length;
    Eigen::Matrix<double, 3, 30> slip = Eigen::Matrix<double, 3, 30>::Zero();
    Eigen::Matrix<double, 1, 30> slope = Eigen::Matrix<double, 1, 30>::Zero();
    for (const std::size_t c : {i, j}) {
      const auto at = static_cast<Eigen::Index>(10 * c);
      const Eigen::Matrix3d& e = nodes.axes[c];
      slip.middleCols<2>(at) += 0.5 * e.leftCols<2>();
      slip.middleCols<2>(at + 2) -= 0.5 * e.leftCols<2>();
      // theta x n = theta2 e1 - theta1 e2 in the node's axes.
      slip.col(at + 7) += 0.5 * dz_m * e.col(1);
      slip.col(at + 8) -= 0.5 * dz_m * e.col(0);
      // Slope by deflections less the mean of the nodes' own slopes, theta . (along x normal).
      const double sign = c == i ? -1.0 : 1.0;
      slope.middleCols<3>(at + 4) += sign / length * normal.transpose() * e;
      slope.middleCols<3>(at + 7) += 0.5 * along.cross(normal).transpose() * e * -1.0;
    }
    slip += 1.5 * dz_m * along * slope;
    k.noalias() += g.area / (3.0 * thickness_m) * slip.transpose() * slip;
  }
  return k;
}

}  // namespace calmplate::shell
