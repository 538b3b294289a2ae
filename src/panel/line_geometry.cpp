// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/line_geometry.hpp"

#include <algorithm>
#include <limits>

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

/// A point that the stretches a-b and c-d share, or nothing. Parallel ones are taken to be apart:
/// whatever lies along another crosses or touches it with a neighbour too.
std::optional<Vector2d> meeting(const Vector2d& a,
                                const Vector2d& b,
                                const Vector2d& c,
                                const Vector2d& d) {
  if (std::max(a.x(), b.x()) < std::min(c.x(), d.x()) ||
      std::max(c.x(), d.x()) < std::min(a.x(), b.x()) ||
      std::max(a.y(), b.y()) < std::min(c.y(), d.y()) ||
      std::max(c.y(), d.y()) < std::min(a.y(), b.y()))
    return std::nullopt;
  const Vector2d ab = b - a, cd = d - c;
  const double turn = cross(ab, cd);
  if (turn == 0.0) return std::nullopt;
  const double s = cross(c - a, cd) / turn, t = cross(c - a, ab) / turn;
  if (s < 0.0 || s > 1.0 || t < 0.0 || t > 1.0) return std::nullopt;
  return Vector2d(a + s * ab);
}

Vector2d row(const FlatPoints& points, Eigen::Index i) {
  return points.row(i % points.rows()).transpose();
}

}  // namespace

NearestOnLine nearest_on_line(const Vector2d& p, const FlatPoints& line, bool closed) {
  NearestOnLine best{(row(line, 0) - p).norm(), row(line, 0)};
  const Eigen::Index n = closed ? line.rows() : line.rows() - 1;
  for (Eigen::Index i = 0; i < n; ++i) {
    const Vector2d a = row(line, i), ab = row(line, i + 1) - a;
    const double square = ab.squaredNorm();
    const double share = square > 0.0 ? std::clamp((p - a).dot(ab) / square, 0.0, 1.0) : 0.0;
    const Vector2d at = a + share * ab;
    const double distance = (at - p).norm();
    if (distance < best.distance_m) best = {distance, at};
  }
  return best;
}

bool inside_loop(const Vector2d& p, const FlatPoints& loop) {
  bool odd = false;
  for (Eigen::Index i = 0; i < loop.rows(); ++i) {
    const Vector2d a = row(loop, i), b = row(loop, i + 1);
    if ((a.y() > p.y()) != (b.y() > p.y()) &&
        p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x()))
      odd = !odd;
  }
  return odd;
}

std::optional<Vector2d> loops_meet(const FlatPoints& a, const FlatPoints& b) {
  for (Eigen::Index i = 0; i < a.rows(); ++i)
    for (Eigen::Index j = 0; j < b.rows(); ++j)
      if (const auto at = meeting(row(a, i), row(a, i + 1), row(b, j), row(b, j + 1))) return at;
  return std::nullopt;
}

std::optional<Vector2d> loop_meets_itself(const FlatPoints& loop) {
  const Eigen::Index n = loop.rows();
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;  // neighbours
      if (const auto at = meeting(row(loop, i), row(loop, i + 1), row(loop, j), row(loop, j + 1)))
        return at;
    }
  return std::nullopt;
}

}  // namespace calmplate::panel
