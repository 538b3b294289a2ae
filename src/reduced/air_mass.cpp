// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/air_mass.hpp"

#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>
#include <vector>

#include "base/units.hpp"

namespace calmplate::reduced {
namespace {

/// What a patch of unit area acts on itself with, so that the sum over a square lattice of patches
/// is the integral for every smooth motion: -4 zeta(1/2) beta(1/2), the integral of 1 / r less the
/// sum over the other patches' middles.
constexpr double kOnItself = 3.9002649;

struct Patches {
  std::vector<int> of_node;  ///< [n_node]
  Eigen::VectorXd area;      ///< [n_patch] m2
  panel::Nodes centre;       ///< [n_patch x 3] m
};

/// Nodes that share a square of the flat map form a patch.
Patches gather(const shell::Skin& skin) {
  constexpr double kWanted = 1200.0;
  const panel::FlatPoints& flat = skin.panel->flat.points();
  const double side = std::sqrt(skin.node_area.sum() / kWanted);
  std::map<std::pair<long, long>, int> number;
  Patches p;
  for (Eigen::Index i = 0; i < flat.rows(); ++i) {
    const std::pair<long, long> cell(std::lround(std::floor(flat(i, 0) / side)),
                                     std::lround(std::floor(flat(i, 1) / side)));
    p.of_node.push_back(number.emplace(cell, static_cast<int>(number.size())).first->second);
  }
  const auto n = static_cast<Eigen::Index>(number.size());
  p.area = Eigen::VectorXd::Zero(n);
  p.centre = panel::Nodes::Zero(n, 3);
  for (Eigen::Index i = 0; i < flat.rows(); ++i) {
    const int k = p.of_node[static_cast<std::size_t>(i)];
    p.area(k) += skin.node_area(i);
    p.centre.row(k) += skin.node_area(i) * skin.panel->mesh.nodes.row(i);
  }
  p.centre.array().colwise() /= p.area.array();
  return p;
}

}  // namespace

Eigen::MatrixXd air_mass(const shell::Skin& skin, const Eigen::MatrixXd& normal, int faces) {
  if (faces < 0 || faces > 2) throw std::invalid_argument("air_mass: faces must be 0, 1 or 2");
  const Eigen::Index r = normal.cols();
  if (faces == 0) return Eigen::MatrixXd::Zero(r, r);
  const Patches p = gather(skin);
  const Eigen::Index n = p.area.size();
  Eigen::MatrixXd volume = Eigen::MatrixXd::Zero(n, r);  // displaced by each patch
  for (Eigen::Index i = 0; i < normal.rows(); ++i)
    volume.row(p.of_node[static_cast<std::size_t>(i)]) += skin.node_area(i) * normal.row(i);
  Eigen::MatrixXd inverse_distance(n, n);
  for (Eigen::Index j = 0; j < n; ++j) {
    for (Eigen::Index i = 0; i < j; ++i)
      inverse_distance(i, j) = inverse_distance(j, i) =
          1.0 / (p.centre.row(i) - p.centre.row(j)).norm();
    inverse_distance(j, j) = kOnItself / std::sqrt(p.area(j));
  }
  const Eigen::MatrixXd m = volume.transpose() * (inverse_distance * volume);
  return base::kAirDensity * faces / (4.0 * base::kPi) * (m + m.transpose());
}

}  // namespace calmplate::reduced
