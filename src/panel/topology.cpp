// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/topology.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "base/units.hpp"

namespace calmplate::panel {

std::vector<TriangleSide> sorted_sides(const Triangles& triangles) {
  std::vector<TriangleSide> sides;
  sides.reserve(static_cast<std::size_t>(3 * triangles.rows()));
  for (int t = 0; t < static_cast<int>(triangles.rows()); ++t)
    for (int k = 0; k < 3; ++k) {
      const int a = triangles(t, k), b = triangles(t, (k + 1) % 3);
      sides.push_back({std::min(a, b), std::max(a, b), t, k});
    }
  std::sort(sides.begin(), sides.end(), [](const TriangleSide& a, const TriangleSide& b) {
    return std::tie(a.low, a.high, a.triangle, a.side) <
           std::tie(b.low, b.high, b.triangle, b.side);
  });
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
  const Triangles across = neighbours(triangles);
  std::map<int, int> next;  // by node number, so that loops come in that order
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k)
      if (across(t, k) < 0 && !next.emplace(triangles(t, k), triangles(t, (k + 1) % 3)).second)
        throw std::invalid_argument("boundary_loops: a node belongs to two loops");
  std::vector<std::vector<int>> loops;
  while (!next.empty()) {
    const int start = next.begin()->first;
    std::vector<int> loop;
    int here = start;
    do {
      const auto step = next.find(here);
      if (step == next.end())
        throw std::invalid_argument("boundary_loops: triangles are not consistently oriented");
      loop.push_back(here);
      here = step->second;
      next.erase(step);
    } while (here != start);
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
