// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/region_domain.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

/// A distance this near to the margin counts as above it, so that no line runs through a node.
constexpr double kAwayFromNodes = 1e-12;
constexpr double kStraight = 1e-9;
constexpr int kCutLabel = 3;  // labels 0 to 2 are the triangle's sides, 3 and 4 the two lines

double clear_of_zero(double value) {
  return std::abs(value) < kAwayFromNodes ? kAwayFromNodes : value;
}

/// Names a point so that both triangles at an edge call it the same: a node (0, i, 0), a line's
/// crossing of an edge (1 + line, i, j), the crossing of both lines (3, triangle, 0).
using Key = std::tuple<int, int, int>;

struct Corner {
  Key key;
  Vector3d weight;  // barycentric
  int label;        // of the edge to the next corner
};

/// Takes off what lies below zero of the values at the triangle's nodes.
void take_off(std::vector<Corner>& polygon,
              const Eigen::RowVector3i& nodes,
              const Vector3d& value,
              int line,
              int triangle) {
  std::vector<Corner> kept;
  const auto at = [&](const Corner& c) { return clear_of_zero(c.weight.dot(value)); };
  for (std::size_t n = 0; n < polygon.size(); ++n) {
    const Corner& from = polygon[n];
    const Corner& to = polygon[(n + 1) % polygon.size()];
    const double here = at(from), there = at(to);
    if (here > 0.0) kept.push_back(from);
    if ((here > 0.0) == (there > 0.0)) continue;
    Corner crossing{Key{3, triangle, 0}, Vector3d::Zero(), 0};
    if (from.label < kCutLabel) {
      int i = from.label, j = (from.label + 1) % 3;
      if (nodes[i] > nodes[j]) std::swap(i, j);
      const double share = value[i] / (value[i] - value[j]);
      crossing.key = Key{1 + line, nodes[i], nodes[j]};
      crossing.weight[i] = 1.0 - share;
      crossing.weight[j] = share;
    } else {
      crossing.weight = from.weight + here / (here - there) * (to.weight - from.weight);
    }
    crossing.label = here > 0.0 ? kCutLabel + line : from.label;
    kept.push_back(crossing);
  }
  polygon.swap(kept);
}

/// Leaves one of points that coincide, and none that a straight line passes.
void tidy(Corners& loop) {
  Corners apart;
  for (const Vector2d& p : loop)
    if (apart.empty() || (p - apart.back()).norm() >= kStraight) apart.push_back(p);
  while (apart.size() > 1 && (apart.front() - apart.back()).norm() < kStraight) apart.pop_back();
  loop.swap(apart);
  for (bool again = true; again && loop.size() > 3;) {
    again = false;
    Corners kept;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      // Against the last corner kept, so that a gentle curve is not eaten up bit by bit.
      const Vector2d& before = kept.empty() ? loop.back() : kept.back();
      const Vector2d along = loop[(i + 1) % loop.size()] - before, here = loop[i] - before;
      const double length = along.norm();
      const double off =
          length > 0.0 ? std::abs(along.x() * here.y() - along.y() * here.x()) / length : 0.0;
      const bool between = here.dot(along) >= 0.0 && here.dot(along) <= length * length;
      if (off < kStraight && between)
        again = true;
      else
        kept.push_back(loop[i]);
    }
    if (kept.size() < 3) return;
    loop.swap(kept);
  }
}

/// The corners of what the margins leave of a triangle.
std::vector<Corner> left_of(const Panel& panel,
                            int triangle,
                            const double (&margin)[2],
                            const bool (&active)[2]) {
  const Eigen::RowVector3i nodes = panel.mesh.triangles.row(triangle);
  std::vector<Corner> polygon;
  for (int k = 0; k < 3; ++k) polygon.push_back({Key{0, nodes[k], 0}, Vector3d::Unit(k), k});
  const Eigen::VectorXd* distance[2] = {&panel.rim_distance_m, &panel.hole_distance_m};
  for (int line = 0; line < 2; ++line) {
    if (!active[line]) continue;
    Vector3d value;
    for (int k = 0; k < 3; ++k)
      value[k] = clear_of_zero((*distance[line])[nodes[k]] - margin[line]);
    if (value.minCoeff() > 0.0) continue;
    take_off(polygon, nodes, value, line, triangle);
  }
  return polygon;
}

Vector2d place(const Panel& panel, int triangle, const Vector3d& weight) {
  Vector2d sum = Vector2d::Zero();
  for (int k = 0; k < 3; ++k)
    sum += weight[k] * panel.flat.points().row(panel.mesh.triangles(triangle, k)).transpose();
  return sum;
}

}  // namespace

RegionDomain::RegionDomain(const Panel& panel, double rim_margin_m, double hole_margin_m)
    : panel_(panel), margin_{rim_margin_m, hole_margin_m}, active_{} {
  active_[0] = rim_margin_m > 0.0;
  active_[1] = hole_margin_m > 0.0 && panel.hole_distance_m.size() > 0 &&
               std::isfinite(panel.hole_distance_m[0]);
}

void RegionDomain::corners(int triangle, Corners& out) const {
  out.clear();
  bool whole = true;
  for (int k = 0; k < 3; ++k) {
    const int node = panel_.mesh.triangles(triangle, k);
    whole = whole && (!active_[0] || panel_.rim_distance_m[node] > margin_[0]) &&
            (!active_[1] || panel_.hole_distance_m[node] > margin_[1]);
  }
  if (whole) {
    for (int k = 0; k < 3; ++k)
      out.push_back(panel_.flat.points().row(panel_.mesh.triangles(triangle, k)).transpose());
    return;
  }
  for (const Corner& c : left_of(panel_, triangle, margin_, active_))
    out.push_back(place(panel_, triangle, c.weight));
}

double RegionDomain::triangle_area(int triangle) const {
  const auto& p = panel_.flat.points();
  const auto t = panel_.mesh.triangles.row(triangle);
  const Vector2d u = (p.row(t[1]) - p.row(t[0])).transpose();
  const Vector2d v = (p.row(t[2]) - p.row(t[0])).transpose();
  return 0.5 * (u.x() * v.y() - u.y() * v.x());
}

std::vector<Corners> RegionDomain::loops() const {
  const Triangles across = neighbours(panel_.mesh.triangles);
  std::map<Key, std::pair<Key, Vector2d>> next;  // from a corner, which lies at the Vector2d
  for (int t = 0; t < static_cast<int>(across.rows()); ++t) {
    const std::vector<Corner> polygon = left_of(panel_, t, margin_, active_);
    for (std::size_t n = 0; n < polygon.size(); ++n) {
      const Corner& from = polygon[n];
      if (from.label < kCutLabel && across(t, from.label) >= 0) continue;
      next.emplace(
          from.key,
          std::make_pair(polygon[(n + 1) % polygon.size()].key, place(panel_, t, from.weight)));
    }
  }
  std::vector<Corners> loops;
  while (!next.empty()) {
    Corners loop;
    for (auto at = next.begin(); at != next.end();) {
      loop.push_back(at->second.second);
      const Key to = at->second.first;
      next.erase(at);
      at = next.find(to);
    }
    tidy(loop);
    if (loop.size() >= 3 && std::abs(signed_area(loop)) > kStraight * kStraight)
      loops.push_back(std::move(loop));
  }
  return loops;
}

}  // namespace calmplate::panel
