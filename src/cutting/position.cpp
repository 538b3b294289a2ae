// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/position.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;

constexpr double kWell = 0.8660254037844387;  ///< cos 30 degrees: tapes that cross well
constexpr double kSquare = 0.05;              ///< tapes that cross squarely, within 3 degrees
constexpr double kStep_m = 0.004;
constexpr double kSamePlace_m = 1e-6;
constexpr std::size_t kFewCorners = 8;
constexpr double kChord_m = 0.012;             ///< over which a turn is measured
constexpr double kSharp = 0.7660444431189780;  ///< cos 40 degrees

struct Foot {
  int part = -1;
  Vector2d at = Vector2d::Zero();
  double distance = std::numeric_limits<double>::max();
  bool at_end = false;  ///< of the side: a tape swung over the rim would run on to the next one
};

/// Cosine of the angle between two tapes from one corner; 1 if one has no length.
double cosine(const Vector2d& from, const Vector2d& a, const Vector2d& b) {
  const double both = (a - from).norm() * (b - from).norm();
  return both > 0.0 ? (a - from).dot(b - from) / both : 1.0;
}

/// The nearest point of one rim part. @param square_to  only where a tape to here crosses squarely
Foot foot_on(const panel::Panel& panel, int part, const Vector2d& from, const Vector2d* square_to) {
  const std::vector<int>& nodes = panel.rim[static_cast<std::size_t>(part)].nodes;
  Foot best;
  for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
    const Vector2d p = panel.flat.points().row(nodes[i]).transpose();
    const Vector2d d = panel.flat.points().row(nodes[i + 1]).transpose() - p;
    double s = std::clamp((from - p).dot(d) / d.squaredNorm(), 0.0, 1.0);
    if (square_to != nullptr) {
      // Where the line square to the first tape meets this stretch of the rim.
      const Vector2d first = *square_to - from;
      if (d.dot(first) == 0.0) continue;
      s = std::clamp((from - p).dot(first) / d.dot(first), 0.0, 1.0);
    }
    const Vector2d at = p + s * d;
    const double distance = (at - from).norm();
    if (distance >= best.distance) continue;
    if (square_to != nullptr && std::abs(cosine(from, at, *square_to)) > kSquare) continue;
    best = {part, at, distance, false};
  }
  const Vector2d first = panel.flat.points().row(nodes.front()).transpose();
  const Vector2d last = panel.flat.points().row(nodes.back()).transpose();
  best.at_end = nodes.front() != nodes.back() &&
                ((best.at - first).norm() < kSamePlace_m || (best.at - last).norm() < kSamePlace_m);
  return best;
}

Foot nearest_foot(const panel::Panel& panel, const Vector2d& from) {
  Foot best;
  for (int part = 0; part < static_cast<int>(panel.rim.size()); ++part) {
    if (panel.rim[static_cast<std::size_t>(part)].hole) continue;
    const Foot foot = foot_on(panel, part, from, nullptr);
    if (foot.distance < best.distance) best = foot;
  }
  return best;
}

/// The nearest other side whose tape crosses the first well; if there is none, the rim squarely to
/// the first tape.
Foot second_foot(const panel::Panel& panel, const Vector2d& from, const Foot& first, bool& square) {
  Foot best;
  for (const bool now : {false, true}) {
    square = now;
    for (int part = 0; part < static_cast<int>(panel.rim.size()); ++part) {
      if (panel.rim[static_cast<std::size_t>(part)].hole) continue;
      if (!square && part == first.part) continue;
      const Foot foot = foot_on(panel, part, from, square ? &first.at : nullptr);
      if (foot.part < 0) continue;
      if (!square && (foot.at_end || std::abs(cosine(from, foot.at, first.at)) > kWell)) continue;
      if (foot.distance < best.distance) best = foot;
    }
    if (best.part >= 0) break;
  }
  return best;
}

MarkedCorner marked(const panel::Panel& panel, const Vector2d& at, char letter) {
  MarkedCorner corner{letter, at, {}};
  const Foot first = nearest_foot(panel, at);
  if (first.part < 0) return corner;
  const auto add = [&](const Foot& foot, bool square) {
    corner.sides.push_back({panel.rim[static_cast<std::size_t>(foot.part)].name,
                            skin_length(panel, at, foot.at),
                            foot.at,
                            square});
  };
  add(first, false);
  bool square = false;
  const Foot second = second_foot(panel, at, first, square);
  if (second.part >= 0) add(second, square);
  return corner;
}

/// The point a way along the outline from a corner, forwards or backwards.
Vector2d along(const panel::Polygon& outline, Eigen::Index corner, double way, int step) {
  const Eigen::Index n = outline.rows();
  Eigen::Index i = corner;
  while (true) {
    const Eigen::Index next = (i + step + n) % n;
    const Vector2d a = outline.row(i).transpose(), d = outline.row(next).transpose() - a;
    const double length = d.norm();
    if (length >= way) return a + way / length * d;
    way -= length;
    i = next;
  }
}

/// Corners that a finger finds; all corners of an outline that has fewer than two of them.
std::vector<Eigen::Index> corners_of(const panel::Polygon& outline) {
  double length = 0.0;
  std::vector<Eigen::Index> sharp, all;
  for (Eigen::Index i = 0; i < outline.rows(); ++i) {
    length += (outline.row((i + 1) % outline.rows()) - outline.row(i)).norm();
    all.push_back(i);
  }
  const double way = std::min(kChord_m, length / 16.0);
  for (const Eigen::Index i : all) {
    const Vector2d at = outline.row(i).transpose();
    const Vector2d from = at - along(outline, i, way, -1), to = along(outline, i, way, 1) - at;
    if (from.dot(to) > kSharp * from.norm() * to.norm()) continue;
    // Of corners a few millimetres apart one is enough.
    if (!sharp.empty() && (outline.row(sharp.back()) - outline.row(i)).norm() < way) continue;
    sharp.push_back(i);
  }
  return sharp.size() < 2 ? all : sharp;
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
  const std::vector<Eigen::Index> corners = corners_of(outline);
  const std::size_t n = corners.size();
  Position position;
  std::size_t first = 0;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < n; ++i) {
    const MarkedCorner corner = marked(panel, outline.row(corners[i]).transpose(), 'A');
    // Tapes that differ by rounding alone must not decide.
    if (i > 0 && tape(corner) >= least - 1e-9) continue;
    least = tape(corner);
    first = i;
    position.a = corner;
  }
  std::size_t second = first;
  double longest = -1.0;
  for (std::size_t i = 0; i < n; ++i) {
    const bool beside = i == (first + 1) % n || i == (first + n - 1) % n;
    if (n <= kFewCorners && !beside) continue;
    const double distance = (outline.row(corners[i]) - outline.row(corners[first])).norm();
    if (distance <= longest + 1e-9) continue;
    longest = distance;
    second = i;
  }
  position.b = marked(panel, outline.row(corners[second]).transpose(), 'B');
  return position;
}

}  // namespace calmplate::cutting
