// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/rim_sampling.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/units.hpp"
#include "panel/rim.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kSharpDegrees = 25.0;
constexpr double kNarrow = 0.75;  // of a length
constexpr int kHalvings = 2;
constexpr int kFewestSamples = 8;  // of a loop without corners

/// Position in space (3) and on the map (2).
using Point = Eigen::Matrix<double, 1, 5>;
using Points = Eigen::Matrix<double, Eigen::Dynamic, 5, Eigen::RowMajor>;

/// A closed line that begins at a corner, with the length along it in space.
struct Curve {
  Points points;            // [n + 1 x 5], the first repeated at the end
  std::vector<double> at;   // [n + 1] m
  std::vector<int> corner;  // numbers of points, first and last among them; empty: no corner

  double length() const { return at.back(); }
  Point point(double along) const {
    const auto after = std::upper_bound(at.begin() + 1, at.end() - 1, along);
    const auto i = static_cast<Eigen::Index>(after - at.begin()) - 1;
    const double from = at[static_cast<std::size_t>(i)];
    const double span = at[static_cast<std::size_t>(i) + 1] - from;
    const double share = span > 0.0 ? std::clamp((along - from) / span, 0.0, 1.0) : 0.0;
    return (1.0 - share) * points.row(i) + share * points.row(i + 1);
  }
  void measure() {
    at.assign(1, 0.0);
    for (Eigen::Index i = 0; i + 1 < points.rows(); ++i)
      at.push_back(at.back() + (points.row(i + 1) - points.row(i)).head<3>().norm());
  }
};

FlatPoints loop_points(const std::vector<int>& loop, const FlatPoints& flat) {
  FlatPoints out(static_cast<Eigen::Index>(loop.size()), 2);
  for (std::size_t i = 0; i < loop.size(); ++i)
    out.row(static_cast<Eigen::Index>(i)) = flat.row(loop[i]);
  return out;
}

/// Nodes at which the loop turns sharply by itself, none within `apart` of a sharper one.
std::vector<int> sharp_nodes(const FlatPoints& loop, double apart) {
  const auto n = static_cast<int>(loop.rows());
  std::vector<std::pair<double, int>> turns;
  for (int i = 0; i < n; ++i) {
    const Vector2d in = (loop.row(i) - loop.row((i + n - 1) % n)).transpose();
    const Vector2d out = (loop.row((i + 1) % n) - loop.row(i)).transpose();
    const double turn = std::abs(std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out)));
    // Rounded, so that equal corners are taken in order.
    if (turn > base::from_degrees(kSharpDegrees)) turns.emplace_back(-std::round(turn * 1e9), i);
  }
  std::sort(turns.begin(), turns.end());
  std::vector<int> found;
  for (const auto& [turn, i] : turns)
    if (std::none_of(found.begin(), found.end(), [&](int other) {
          return (loop.row(i) - loop.row(other)).norm() < apart;
        }))
      found.push_back(i);
  return found;
}

Curve make_curve(const Mesh& mesh,
                 const FlatPoints& flat,
                 const std::vector<int>& loop,
                 double size,
                 bool ragged) {
  const FlatPoints line = loop_points(loop, flat);
  std::vector<int> found;
  if (!ragged) found = sharp_nodes(line, 0.5 * size);
  for (const int c : corners(line, kSharpDegrees)) {
    const bool near = std::any_of(found.begin(), found.end(), [&](int other) {
      return (line.row(c) - line.row(other)).norm() < 1.5 * size;
    });
    if (!near) found.push_back(c);
  }
  std::sort(found.begin(), found.end());
  Curve curve;
  const std::size_t n = loop.size();
  const auto first = static_cast<std::size_t>(found.empty() ? 0 : found[0]);
  curve.points.resize(static_cast<Eigen::Index>(n) + 1, 5);
  for (std::size_t i = 0; i <= n; ++i) {
    const int node = loop[(first + i) % n];
    curve.points.row(static_cast<Eigen::Index>(i)) << mesh.nodes.row(node), flat.row(node);
  }
  for (const int c : found) curve.corner.push_back(c - static_cast<int>(first));
  if (!found.empty()) curve.corner.push_back(static_cast<int>(n));
  curve.measure();
  return curve;
}

/// Means over up to `reach` either way along the line; the reach shrinks towards corners.
void take_off_teeth(Curve& curve, double reach) {
  const Curve before = curve;
  const int steps = 8;
  const auto n = static_cast<int>(curve.points.rows()) - 1;
  for (int i = 0; i <= n; ++i) {
    const double here = before.at[static_cast<std::size_t>(i)];
    double room = reach;
    for (const int c : before.corner)
      room = std::min(room, std::abs(here - before.at[static_cast<std::size_t>(c)]));
    Point sum = Point::Zero();
    for (int s = -steps; s <= steps; ++s) {
      double along = here + room * s / steps;
      if (before.corner.empty()) along -= std::floor(along / before.length()) * before.length();
      sum += before.point(along);
    }
    curve.points.row(i) = sum / (2 * steps + 1);
  }
  curve.measure();
}

/// Lengths along the curve at which it is divided.
std::vector<double> divide(const Curve& curve, double size) {
  std::vector<double> cuts;
  std::vector<double> ends;
  for (const int c : curve.corner) ends.push_back(curve.at[static_cast<std::size_t>(c)]);
  int fewest = 1;
  if (ends.empty()) {
    ends = {0.0, curve.length()};
    fewest = kFewestSamples;
  } else if (ends.size() < 4) {
    fewest = 3;  // one or two corners: enough for a polygon
  }
  for (std::size_t e = 0; e + 1 < ends.size(); ++e) {
    const double span = ends[e + 1] - ends[e];
    const int count = std::max(fewest, static_cast<int>(std::lround(span / size)));
    for (int i = 0; i < count; ++i) cuts.push_back(ends[e] + span * i / count);
  }
  return cuts;
}

double distance_to_segment(const Vector2d& p, const Vector2d& a, const Vector2d& b) {
  const Vector2d ab = b - a;
  const double square = ab.squaredNorm();
  const double share = square > 0.0 ? std::clamp((p - a).dot(ab) / square, 0.0, 1.0) : 0.0;
  return (a + share * ab - p).norm();
}

/// Samples of one curve with the lengths they stand at.
struct Line {
  std::vector<double> at;
  RimSamples sample;
};

Line line_of(const Curve& curve, std::vector<double> at) {
  Line line{std::move(at), {}};
  for (const double along : line.at) {
    const Point p = curve.point(along);
    line.sample.push_back({p.head<3>().transpose(), p.tail<2>().transpose()});
  }
  return line;
}

/// Halves the lengths that have another stretch of rim nearby. @return whether there was one
bool halve_narrow(const std::vector<Curve>& curves, std::vector<Line>& lines) {
  std::vector<std::vector<double>> fresh(lines.size());
  bool any = false;
  for (std::size_t a = 0; a < lines.size(); ++a) {
    const std::size_t n = lines[a].sample.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vector2d& from = lines[a].sample[i].flat;
      const Vector2d& to = lines[a].sample[(i + 1) % n].flat;
      const Vector2d middle = 0.5 * (from + to);
      const double limit = kNarrow * (to - from).norm();
      bool narrow = false;
      for (std::size_t b = 0; b < lines.size() && !narrow; ++b) {
        const std::size_t m = lines[b].sample.size();
        for (std::size_t j = 0; j < m && !narrow; ++j) {
          const bool same = a == b && (j == i || j == (i + 1) % n || (j + 1) % n == i);
          narrow = !same &&
                   distance_to_segment(
                       middle, lines[b].sample[j].flat, lines[b].sample[(j + 1) % m].flat) < limit;
        }
      }
      fresh[a].push_back(lines[a].at[i]);
      if (!narrow) continue;
      any = true;
      const double next = i + 1 < n ? lines[a].at[i + 1] : curves[a].length();
      fresh[a].push_back(0.5 * (lines[a].at[i] + next));
    }
  }
  for (std::size_t a = 0; a < lines.size(); ++a) lines[a] = line_of(curves[a], fresh[a]);
  return any;
}

}  // namespace

std::vector<RimSamples> sample_rim(const Mesh& mesh,
                                   const FlatPoints& flat,
                                   double size_m,
                                   bool ragged) {
  std::vector<Curve> curves;
  std::vector<Line> lines;
  for (const std::vector<int>& loop : ordered_loops(mesh.triangles, flat)) {
    curves.push_back(make_curve(mesh, flat, loop, size_m, ragged));
    if (ragged) take_off_teeth(curves.back(), size_m);
    lines.push_back(line_of(curves.back(), divide(curves.back(), size_m)));
  }
  for (int round = 0; round < kHalvings && halve_narrow(curves, lines); ++round) {
  }
  std::vector<RimSamples> loops;
  for (Line& line : lines) loops.push_back(std::move(line.sample));
  return loops;
}

}  // namespace calmplate::panel
