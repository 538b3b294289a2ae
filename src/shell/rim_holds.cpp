// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/rim_holds.hpp"

#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>

#include "base/units.hpp"

namespace calmplate::shell {
namespace {

/// One stretch of rim between neighbouring nodes.
struct Stretch {
  int from = -1, to = -1;
  const EdgeInput* edge = nullptr;
};

/// A part as a list of stretches; a part's nodes repeat the first at the end if it is closed.
std::vector<std::vector<Stretch>> stretches_of(const panel::Panel& panel) {
  std::vector<std::vector<Stretch>> out;
  for (const panel::RimPart& part : panel.rim) {
    std::vector<Stretch> list;
    for (std::size_t i = 0; i + 1 < part.nodes.size(); ++i)
      list.push_back({part.nodes[i], part.nodes[i + 1], nullptr});
    out.push_back(list);
  }
  return out;
}

/// All stretches that an edge means, in walking order over the parts named.
std::vector<Stretch*> named_stretches(const panel::Panel& panel,
                                      const EdgeInput& edge,
                                      std::vector<std::vector<Stretch>>& all) {
  const std::vector<int> parts = panel::parts_named(panel, edge.part);
  if (parts.empty())
    throw std::invalid_argument("rim_holds: the panel has no rim part named " + edge.part);
  std::vector<Stretch*> out;
  for (const int p : parts)
    for (Stretch& s : all[static_cast<std::size_t>(p)]) out.push_back(&s);
  return out;
}

/// Index of the stretch whose node at `end` lies nearest to a flat position.
std::size_t nearest(const panel::Panel& panel,
                    const std::vector<Stretch*>& list,
                    const Eigen::Vector2d& flat,
                    int Stretch::*end) {
  std::size_t best = 0;
  double best_distance = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < list.size(); ++i) {
    const double d = (panel.flat.points().row(list[i]->*end).transpose() - flat).squaredNorm();
    if (d < best_distance) {
      best_distance = d;
      best = i;
    }
  }
  return best;
}

void apply(const panel::Panel& panel,
           const EdgeInput& edge,
           std::vector<std::vector<Stretch>>& all) {
  const std::vector<Stretch*> list = named_stretches(panel, edge, all);
  if (!edge.from || !edge.to) {
    for (Stretch* s : list) s->edge = &edge;
    return;
  }
  // From the node nearest `from`, round the list if need be, up to the node nearest `to`.
  const std::size_t first = nearest(panel, list, *edge.from, &Stretch::from);
  const std::size_t last = nearest(panel, list, *edge.to, &Stretch::to);
  if (list[first]->from == list[last]->to) return;  // one rim point: nothing lies between
  for (std::size_t i = first;; i = (i + 1) % list.size()) {
    list[i]->edge = &edge;
    if (i == last) return;
  }
}

/// What the two stretches at a node ask of it.
struct NodeDemand {
  std::vector<Eigen::Vector3d> along;         ///< of every stretch
  std::vector<Eigen::Vector3d> along_simply;  ///< of the simply supported ones
  bool clamped = false, pinned = false;
};

void hold_node(const NodeDemand& d, Eigen::Index node, RimHolds& out) {
  auto held = out.held.row(node);
  const std::vector<Eigen::Vector3d>& along = d.along_simply.empty() ? d.along : d.along_simply;
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (const Eigen::Vector3d& direction : along) sum += direction;
  out.tangent.row(node) = sum.normalized();
  if (d.clamped) held.setConstant(true);
  if (d.pinned) held.head<3>().setConstant(true);
  if (d.along_simply.empty()) return;
  held(0) = held(2) = held(4) = true;
  const bool corner = d.along_simply.size() > 1 &&
                      d.along_simply[0].dot(d.along_simply[1]) < std::cos(base::from_degrees(20.0));
  if (corner) held(1) = held(3) = true;
}

}  // namespace

RimHolds rim_holds(const panel::Panel& panel, const std::vector<EdgeInput>& edges) {
  std::vector<std::vector<Stretch>> all = stretches_of(panel);
  for (const EdgeInput& edge : edges) apply(panel, edge, all);

  RimHolds out;
  const Eigen::Index n = panel.mesh.nodes.rows();
  out.tangent = panel::Nodes::Zero(n, 3);
  out.held.setConstant(n, 6, false);
  std::map<int, NodeDemand> demand;
  for (const auto& part : all)
    for (const Stretch& s : part) {
      const Eigen::Vector3d step =
          panel.mesh.nodes.row(s.to).transpose() - panel.mesh.nodes.row(s.from).transpose();
      const Eigen::Vector3d along = step.normalized();
      const Hold hold = s.edge != nullptr ? s.edge->hold : Hold::free;
      for (const int node : {s.from, s.to}) {
        NodeDemand& d = demand[node];
        d.clamped = d.clamped || hold == Hold::clamped;
        d.pinned = d.pinned || hold == Hold::pinned;
        d.along.push_back(along);
        if (hold == Hold::simply_supported) d.along_simply.push_back(along);
        if (hold == Hold::springs) out.elastic.push_back({node, 0.5 * step.norm(), along, s.edge});
      }
    }
  for (const auto& [node, d] : demand) hold_node(d, node, out);
  return out;
}

std::vector<NodeSpring> node_springs(const RimHolds& holds,
                                     const std::vector<Eigen::Matrix3d>& axes) {
  std::map<std::pair<int, double>, NodeSpring> sum;
  for (const ElasticShare& share : holds.elastic) {
    NodeSpring& spring = sum[{share.node, share.edge->loss_factor}];
    spring.node = share.node;
    spring.loss_factor = share.edge->loss_factor;
    const Eigen::Vector3d t =
        axes[static_cast<std::size_t>(share.node)].transpose() * share.tangent;
    spring.stiffness(0, 0) += share.length_m * share.edge->in_plane_stiffness;
    spring.stiffness(1, 1) += share.length_m * share.edge->in_plane_stiffness;
    spring.stiffness(2, 2) += share.length_m * share.edge->normal_stiffness;
    spring.stiffness.block<3, 3>(3, 3) +=
        share.length_m * share.edge->rotation_stiffness * t * t.transpose();
  }
  std::vector<NodeSpring> out;
  for (const auto& entry : sum) out.push_back(entry.second);
  return out;
}

}  // namespace calmplate::shell
