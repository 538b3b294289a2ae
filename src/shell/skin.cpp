// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/skin.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <stdexcept>

#include "shell/rim_holds.hpp"

namespace calmplate::shell {
namespace {

/// Tangent axes with the first as near as can be to `wanted`.
Eigen::Matrix3d axes_at(const Eigen::Vector3d& normal, const Eigen::Vector3d& wanted) {
  Eigen::Vector3d t = wanted - wanted.dot(normal) * normal;
  if (t.norm() < 0.1) t = Eigen::Vector3d::UnitY() - normal.y() * normal;
  if (t.norm() < 0.1) t = Eigen::Vector3d::UnitZ() - normal.z() * normal;
  Eigen::Matrix3d axes;
  axes.col(0) = t.normalized();
  axes.col(2) = normal;
  axes.col(1) = normal.cross(axes.col(0));
  return axes;
}

}  // namespace

FacetNodes Skin::facet(int triangle, double height_m) const {
  FacetNodes f;
  for (int c = 0; c < 3; ++c) {
    const int node = panel->mesh.triangles(triangle, c);
    f.corners.row(c) = panel->mesh.nodes.row(node) + height_m * panel->normals.row(node);
    f.axes[static_cast<std::size_t>(c)] = axes[static_cast<std::size_t>(node)];
  }
  return f;
}

std::array<int, 18> Skin::facet_dofs(int triangle) const {
  std::array<int, 18> out{};
  for (int c = 0; c < 3; ++c)
    for (int k = 0; k < 6; ++k)
      out[static_cast<std::size_t>(6 * c + k)] = dof(panel->mesh.triangles(triangle, c), k);
  return out;
}

Skin make_skin(const panel::Panel& panel,
               const Plate& plate,
               double loss_factor,
               const std::vector<EdgeInput>& edges) {
  Skin skin;
  skin.panel = &panel;
  skin.plate = plate;
  skin.loss_factor = loss_factor;
  const Eigen::Index n_node = panel.mesh.nodes.rows();
  const RimHolds holds = rim_holds(panel, edges);
  skin.axes.reserve(static_cast<std::size_t>(n_node));
  for (Eigen::Index i = 0; i < n_node; ++i) {
    const Eigen::Vector3d rim = holds.tangent.row(i);
    const Eigen::Vector3d wanted = rim.norm() > 0.5 ? rim : Eigen::Vector3d::UnitX();
    skin.axes.push_back(axes_at(panel.normals.row(i), wanted));
  }
  skin.dof.resize(n_node, 6);
  for (Eigen::Index i = 0; i < n_node; ++i)
    for (int k = 0; k < 6; ++k) skin.dof(i, k) = holds.held(i, k) ? kHeld : skin.n_dof++;
  skin.springs = node_springs(holds, skin.axes);

  skin.node_area = Eigen::VectorXd::Zero(n_node);
  const Eigen::VectorXd area = panel::triangle_areas(panel.mesh);
  for (Eigen::Index t = 0; t < area.size(); ++t)
    for (int c = 0; c < 3; ++c) skin.node_area(panel.mesh.triangles(t, c)) += area(t) / 3.0;
  return skin;
}

Eigen::VectorXd normal_at(const Skin& skin, const panel::SkinPoint& point) {
  Eigen::VectorXd row = Eigen::VectorXd::Zero(skin.n_dof);
  for (int c = 0; c < 3; ++c) {
    const int d = skin.dof(skin.panel->mesh.triangles(point.triangle, c), 2);
    if (d != kHeld) row(d) += point.weight(c);
  }
  return row;
}

Eigen::VectorXd uniform_pressure(const Skin& skin) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(skin.n_dof);
  for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
    if (skin.dof(i, 2) != kHeld) load(skin.dof(i, 2)) += skin.node_area(i);
  return load;
}

}  // namespace calmplate::shell
