// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/position.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;

constexpr double kSteepest = 0.8660254037844387;  ///< cos 30 degrees
constexpr double kStep_m = 0.004;
constexpr Eigen::Index kFewCorners = 8;

struct Foot {
  int part = -1;
  Vector2d at = Vector2d::Zero();
  double distance = std::numeric_limits<double>::max();
};

/// The nearest point of one rim part, as far as its tape runs across `other` (if there is one).
Foot foot_on(const panel::Panel& panel, int part, const Vector2d& from, const Foot* other) {
  const std::vector<int>& nodes = panel.rim[static_cast<std::size_t>(part)].nodes;
  Foot best;
  for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
    const Vector2d p = panel.flat.points().row(nodes[i]).transpose();
    const Vector2d d = panel.flat.points().row(nodes[i + 1]).transpose() - p;
    const double s = std::clamp((from - p).dot(d) / d.squaredNorm(), 0.0, 1.0);
    const Vector2d at = p + s * d;
    const double distance = (at - from).norm();
    if (distance >= best.distance) continue;
    if (other != nullptr) {
      const double both = distance * other->distance;
      if (both <= 0.0 || std::abs((at - from).dot(other->at - from)) > kSteepest * both) continue;
    }
    best = {part, at, distance};
  }
  return best;
}

Foot nearest_foot(const panel::Panel& panel, const Vector2d& from, const Foot* other) {
  Foot best;
  for (int part = 0; part < static_cast<int>(panel.rim.size()); ++part) {
    if (panel.rim[static_cast<std::size_t>(part)].hole) continue;
    // A side is used once, unless the whole rim is one.
    const bool closed = panel.rim[static_cast<std::size_t>(part)].nodes.front() ==
                        panel.rim[static_cast<std::size_t>(part)].nodes.back();
    if (other != nullptr && other->part == part && !closed) continue;
    const Foot foot = foot_on(panel, part, from, other);
    if (foot.distance < best.distance) best = foot;
  }
  return best;
}

MarkedCorner marked(const panel::Panel& panel, const Vector2d& at, char letter) {
  MarkedCorner corner{letter, at, {}};
  const Foot first = nearest_foot(panel, at, nullptr);
  if (first.part < 0) return corner;
  const auto add = [&](const Foot& foot) {
    corner.sides.push_back({panel.rim[static_cast<std::size_t>(foot.part)].name,
                            skin_length(panel, at, foot.at),
                            foot.at});
  };
  add(first);
  const Foot second = nearest_foot(panel, at, &first);
  if (second.part >= 0) add(second);
  return corner;
}

double tape(const MarkedCorner& corner) {
  if (corner.sides.size() < 2) return std::numeric_limits<double>::max();
  return corner.sides[0].distance_m + corner.sides[1].distance_m;
}

}  // namespace

double skin_length(const panel::Panel& panel, const Vector2d& a, const Vector2d& b) {
  const double flat = (b - a).norm();
  const int steps = std::max(1, static_cast<int>(std::ceil(flat / kStep_m)));
  double sum = 0.0;
  std::optional<Eigen::Vector3d> last;
  for (int i = 0; i <= steps; ++i) {
    std::optional<Eigen::Vector3d> here;
    if (const auto on_skin = panel.flat.to_skin(a + (b - a) * i / steps))
      here = panel.flat.to_space(*on_skin);
    if (i > 0) sum += here && last ? (*here - *last).norm() : flat / steps;
    last = here;
  }
  return sum;
}

Position position_of(const panel::Panel& panel, const Part& part) {
  const panel::Polygon& outline = part.loops.front();
  const Eigen::Index n = outline.rows();
  Position position;
  Eigen::Index first = 0;
  double least = std::numeric_limits<double>::infinity();
  for (Eigen::Index i = 0; i < n; ++i) {
    const MarkedCorner corner = marked(panel, outline.row(i).transpose(), 'A');
    // Tapes that differ by rounding alone must not decide.
    if (tape(corner) >= least - 1e-9) continue;
    least = tape(corner);
    first = i;
    position.a = corner;
  }
  if (position.a.sides.empty()) position.a = marked(panel, outline.row(0).transpose(), 'A');
  Eigen::Index second = first;
  double longest = -1.0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const bool beside = i == (first + 1) % n || i == (first + n - 1) % n;
    if (n <= kFewCorners && !beside) continue;
    const double distance = (outline.row(i) - outline.row(first)).norm();
    if (distance <= longest + 1e-9) continue;
    longest = distance;
    second = i;
  }
  position.b = marked(panel, outline.row(second).transpose(), 'B');
  return position;
}

}  // namespace calmplate::cutting
