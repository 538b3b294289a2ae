// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/beam.hpp"

#include <Eigen/Geometry>
#include <array>
#include <stdexcept>

namespace calmplate::shell {
namespace {

/// Bending in one plane: dofs (w1, r1, w2, r2) with r = dw/dx.
Eigen::Matrix4d bending(double ei, double length) {
  const double l = length;
  Eigen::Matrix4d k;
  k << 12, 6 * l, -12, 6 * l, 6 * l, 4 * l * l, -6 * l, 2 * l * l, -12, -6 * l, 12, -6 * l, 6 * l,
      2 * l * l, -6 * l, 4 * l * l;
  return ei / (l * l * l) * k;
}

Eigen::Matrix4d bending_mass(double mass_per_length, double length) {
  const double l = length;
  Eigen::Matrix4d m;
  m << 156, 22 * l, 54, -13 * l, 22 * l, 4 * l * l, 13 * l, -3 * l * l, 54, 13 * l, 156, -22 * l,
      -13 * l, -3 * l * l, -22 * l, 4 * l * l;
  return mass_per_length * l / 420.0 * m;
}

/// Adds a plane of bending; sign is that of the rotation dof against dw/dx.
void add_plane(const Eigen::Matrix4d& plane, int w, int r, double sign, Matrix12d& out) {
  const std::array<int, 4> place = {w, r, w + 6, r + 6};
  const std::array<double, 4> s = {1.0, sign, 1.0, sign};
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t j = 0; j < 4; ++j)
      out(place[i], place[j]) += s[i] * s[j] * plane(static_cast<int>(i), static_cast<int>(j));
}

void add_linear(double diagonal, double side, int dof, Matrix12d& out) {
  out(dof, dof) += diagonal;
  out(dof + 6, dof + 6) += diagonal;
  out(dof, dof + 6) += side;
  out(dof + 6, dof) += side;
}

}  // namespace

BeamElement beam_element(const Eigen::Vector3d& start,
                         const Eigen::Vector3d& end,
                         const Eigen::Vector3d& normal,
                         const BeamInput& section) {
  const Eigen::Vector3d along = end - start;
  const double length = along.norm();
  if (!(length > 0.0)) throw std::invalid_argument("beam_element: start and end coincide");
  BeamElement b;
  b.axes.col(0) = along / length;
  const Eigen::Vector3d side = b.axes.col(0).cross(normal);
  if (!(side.norm() > 1e-9 * normal.norm()))
    throw std::invalid_argument("beam_element: normal lies along the beam");
  b.axes.col(2) = side.normalized();
  b.axes.col(1) = b.axes.col(2).cross(b.axes.col(0));

  const sheet::Material& m = section.material;
  const double shear = 0.5 * m.young_pa / (1.0 + m.poisson);
  const double line_mass = m.density * section.area_m2;
  const double spin = m.density * (section.inertia_normal_m4 + section.inertia_in_plane_m4);
  Matrix12d k = Matrix12d::Zero(), mass = Matrix12d::Zero();
  add_linear(m.young_pa * section.area_m2 / length, -m.young_pa * section.area_m2 / length, 0, k);
  add_linear(shear * section.torsion_m4 / length, -shear * section.torsion_m4 / length, 3, k);
  // Axis 1 (out of the skin): dw/dx = +rotation about axis 2; axis 2: minus rotation about axis 1.
  add_plane(bending(m.young_pa * section.inertia_normal_m4, length), 1, 5, 1.0, k);
  add_plane(bending(m.young_pa * section.inertia_in_plane_m4, length), 2, 4, -1.0, k);
  add_linear(line_mass * length / 3.0, line_mass * length / 6.0, 0, mass);
  add_linear(spin * length / 3.0, spin * length / 6.0, 3, mass);
  add_plane(bending_mass(line_mass, length), 1, 5, 1.0, mass);
  add_plane(bending_mass(line_mass, length), 2, 4, -1.0, mass);

  Matrix12d turn = Matrix12d::Zero();
  for (int i = 0; i < 4; ++i) turn.block<3, 3>(3 * i, 3 * i) = b.axes.transpose();
  b.stiffness = turn.transpose() * k * turn;
  b.mass = turn.transpose() * mass * turn;
  return b;
}

}  // namespace calmplate::shell
