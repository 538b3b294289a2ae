// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/topology.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "base/units.hpp"

namespace calmplate::panel {

Groups grouped(const std::vector<int>& key, int n_key) {
  Groups groups;
  groups.first.assign(static_cast<std::size_t>(n_key) + 1, 0);
  for (const int k : key) ++groups.first[static_cast<std::size_t>(k) + 1];
  for (std::size_t k = 1; k < groups.first.size(); ++k) groups.first[k] += groups.first[k - 1];
  std::vector<int> next(groups.first.begin(), groups.first.end() - 1);
  groups.list.resize(key.size());
  for (std::size_t i = 0; i < key.size(); ++i)
    groups.list[static_cast<std::size_t>(next[static_cast<std::size_t>(key[i])]++)] =
        static_cast<int>(i);
  return groups;
}

Groups corners_by_node(const Triangles& triangles, Eigen::Index n_node) {
  return grouped(std::vector<int>(triangles.data(), triangles.data() + triangles.size()),
                 static_cast<int>(n_node));
}

std::vector<TriangleSide> sorted_sides(const Triangles& triangles) {
  if (triangles.rows() == 0) return {};
  std::vector<TriangleSide> sides;
  sides.reserve(static_cast<std::size_t>(triangles.size()));
  std::vector<int> lows;
  lows.reserve(sides.capacity());
  for (int t = 0; t < static_cast<int>(triangles.rows()); ++t)
    for (int k = 0; k < 3; ++k)
      lows.push_back(std::min(triangles(t, k), triangles(t, (k + 1) % 3)));
  // Grouped by the lower node first: a general sort of millions of sides takes ten times as long.
  const Groups by_low = grouped(lows, triangles.maxCoeff() + 1);
  for (std::size_t n = 0; n + 1 < by_low.first.size(); ++n) {
    const std::size_t begin = sides.size();
    for (int i = by_low.first[n]; i < by_low.first[n + 1]; ++i) {
      const int t = by_low.list[static_cast<std::size_t>(i)] / 3;
      const int k = by_low.list[static_cast<std::size_t>(i)] % 3;
      const int a = triangles(t, k), b = triangles(t, (k + 1) % 3);
      sides.push_back({std::min(a, b), std::max(a, b), t, k});
    }
    std::sort(sides.begin() + static_cast<std::ptrdiff_t>(begin),
              sides.end(),
              [](const TriangleSide& a, const TriangleSide& b) {
                return std::tie(a.high, a.triangle, a.side) < std::tie(b.high, b.triangle, b.side);
              });
  }
  return sides;
}

Triangles neighbours(const Triangles& triangles) {
  Triangles across = Triangles::Constant(triangles.rows(), 3, -1);
  const std::vector<TriangleSide> sides = sorted_sides(triangles);
  for (std::size_t i = 0; i < sides.size();) {
    std::size_t end = i + 1;
    while (end < sides.size() && sides[end].low == sides[i].low && sides[end].high == sides[i].high)
      ++end;
    if (end - i > 2) throw std::invalid_argument("neighbours: an edge has over two triangles");
    if (end - i == 2) {
      across(sides[i].triangle, sides[i].side) = sides[i + 1].triangle;
      across(sides[i + 1].triangle, sides[i + 1].side) = sides[i].triangle;
    }
    i = end;
  }
  return across;
}

std::vector<std::vector<int>> boundary_loops(const Triangles& triangles) {
  if (triangles.rows() == 0) return {};
  const Triangles across = neighbours(triangles);
  // The next node along the rim, by node number, so that loops come in that order.
  std::vector<int> next(static_cast<std::size_t>(triangles.maxCoeff()) + 1, -1);
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      if (across(t, k) >= 0) continue;
      int& after = next[static_cast<std::size_t>(triangles(t, k))];
      if (after >= 0) throw std::invalid_argument("boundary_loops: a node belongs to two loops");
      after = triangles(t, (k + 1) % 3);
    }
  std::vector<std::vector<int>> loops;
  for (std::size_t start = 0; start < next.size(); ++start) {
    if (next[start] < 0) continue;
    std::vector<int> loop;
    int here = static_cast<int>(start);
    do {
      const int after = next[static_cast<std::size_t>(here)];
      if (after < 0)
        throw std::invalid_argument("boundary_loops: triangles are not consistently oriented");
      loop.push_back(here);
      next[static_cast<std::size_t>(here)] = -1;
      here = after;
    } while (here != static_cast<int>(start));
    loops.push_back(std::move(loop));
  }
  return loops;
}

double worst_angle_degrees(const Mesh& mesh) {
  double worst = 180.0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      const Eigen::Vector3d p = mesh.nodes.row(mesh.triangles(t, k)).transpose();
      const Eigen::Vector3d u = mesh.nodes.row(mesh.triangles(t, (k + 1) % 3)).transpose() - p;
      const Eigen::Vector3d v = mesh.nodes.row(mesh.triangles(t, (k + 2) % 3)).transpose() - p;
      worst = std::min(worst, std::atan2(u.cross(v).norm(), u.dot(v)) * 180.0 / base::kPi);
    }
  return worst;
}

double mean_edge_length(const Mesh& mesh) {
  double sum = 0.0;
  int count = 0;
  int low = -1, high = -1;
  for (const TriangleSide& side : sorted_sides(mesh.triangles)) {
    if (side.low == low && side.high == high) continue;
    low = side.low;
    high = side.high;
    sum += (mesh.nodes.row(low) - mesh.nodes.row(high)).norm();
    ++count;
  }
  return count > 0 ? sum / count : 0.0;
}

}  // namespace calmplate::panel
