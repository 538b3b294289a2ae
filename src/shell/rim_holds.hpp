// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "panel/panel.hpp"
#include "shell/skin.hpp"

namespace calmplate::shell {

/// Half a stretch of elastic rim at one of its two nodes.
struct ElasticShare {
  int node = -1;
  double length_m = 0.0;
  Eigen::Vector3d tangent = Eigen::Vector3d::Zero();
  const EdgeInput* edge = nullptr;  ///< into the list given to rim_holds
};

struct RimHolds {
  /// [n_node x 3] direction of the rim at its nodes, unit; zero inside and at corners without one
  panel::Nodes tangent;
  Eigen::Matrix<bool, Eigen::Dynamic, 6> held;  ///< [n_node x 6] in the node's axes
  std::vector<ElasticShare> elastic;
};

/// What each rim node must obey. A simply supported rim holds the displacement out of the skin and
/// along the rim and the rotation about the skin direction square to it; where the rim turns by
/// more than 20 degrees at a node, it holds both displacements and both rotations in the skin.
/// @throws std::invalid_argument if an edge names a part that the panel has not
RimHolds rim_holds(const panel::Panel& panel, const std::vector<EdgeInput>& edges);

/// The elastic shares summed into one spring a node and loss factor.
std::vector<NodeSpring> node_springs(const RimHolds& holds,
                                     const std::vector<Eigen::Matrix3d>& axes);

}  // namespace calmplate::shell
