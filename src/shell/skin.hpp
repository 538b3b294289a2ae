// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>
#include <vector>

#include "panel/panel.hpp"
#include "shell/facet.hpp"
#include "shell/hold_input.hpp"

namespace calmplate::shell {

/// Number of one held degree of freedom: it does not appear in any matrix.
constexpr int kHeld = -1;

/// An elastic support of one rim node, in the node's axes.
struct NodeSpring {
  int node = -1;
  Eigen::Matrix<double, 6, 6> stiffness = Eigen::Matrix<double, 6, 6>::Zero();
  double loss_factor = 0.0;
};

/// The panel as a supported shell: node axes, what is held, and the numbering of what is free.
/// Degrees of freedom a node, in the node's own axes (two tangents, outward normal):
/// displacement 1, 2, n, rotation 1, 2, n. At a rim node tangent 1 runs along the rim.
struct Skin {
  const panel::Panel* panel = nullptr;  ///< must outlive this object
  Plate plate;
  double loss_factor = 0.0;
  std::vector<Eigen::Matrix3d> axes;  ///< [n_node] columns: tangent 1, tangent 2, normal
  Eigen::MatrixXi dof;                ///< [n_node x 6] number, or kHeld
  int n_dof = 0;
  std::vector<NodeSpring> springs;
  Eigen::VectorXd node_area;  ///< [n_node] m2, a third of each triangle's area to its corners

  /// Facet of a triangle, moved out of the mid-surface by height_m along the node normals.
  FacetNodes facet(int triangle, double height_m) const;
  /// Numbers of a triangle's 18 degrees of freedom, node by node.
  std::array<int, 18> facet_dofs(int triangle) const;
};

/// Applies the holds to the rim. Each stretch of rim between two nodes obeys the last entry that
/// names it; a node obeys both of its stretches.
/// @throws std::invalid_argument if an edge names a part that the panel has not
Skin make_skin(const panel::Panel& panel,
               const Plate& plate,
               double loss_factor,
               const std::vector<EdgeInput>& edges);

/// Normal displacement at a skin point as a row of weights over the skin's degrees of freedom: the
/// load of a unit normal force there, and the read-out of what it does. [n_dof]
Eigen::VectorXd normal_at(const Skin& skin, const panel::SkinPoint& point);

/// Load of a unit pressure that pushes outwards everywhere. [n_dof] N/Pa
Eigen::VectorXd uniform_pressure(const Skin& skin);

}  // namespace calmplate::shell
