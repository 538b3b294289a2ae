// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/facet.hpp"

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

Matrix18d core_shear_stiffness(const FacetNodes& nodes, double thickness_m, double dz_m) {
  if (!(thickness_m > 0.0))
    throw std::invalid_argument("core_shear_stiffness: thickness_m must be above 0");
  const TriangleGeometry g = triangle_geometry(nodes.corners);
  // theta x n = theta2 e1 - theta1 e2 in the node's axes.
  Eigen::Matrix<double, 2, 6> slip;
  slip << 1.0, 0.0, -1.0, 0.0, 0.0, -dz_m, 0.0, 1.0, 0.0, -1.0, dz_m, 0.0;
  Matrix18d k;
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) {
      const double weight = g.area / (12.0 * thickness_m) * (i == j ? 2.0 : 1.0);
      const Eigen::Matrix2d angle =
          nodes.axes[i].leftCols<2>().transpose() * nodes.axes[j].leftCols<2>();
      k.block<6, 6>(6 * static_cast<int>(i), 6 * static_cast<int>(j)) =
          weight * slip.transpose() * angle * slip;
    }
  return k;
}

}  // namespace calmplate::shell
