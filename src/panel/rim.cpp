// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/rim.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>
#include <string>
#include <utility>

#include "base/units.hpp"
#include "panel/cover.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

FlatPoints loop_points(const std::vector<int>& loop, const FlatPoints& points) {
  FlatPoints out(static_cast<Eigen::Index>(loop.size()), 2);
  for (std::size_t i = 0; i < loop.size(); ++i)
    out.row(static_cast<Eigen::Index>(i)) = points.row(loop[i]);
  return out;
}

/// To nine decimals, so that rounding does not decide an order.
long long rounded(double value) { return std::llround(value * 1e9); }

/// A closed polyline that can be asked for the point at a length along it.
class ClosedLine {
 public:
  explicit ClosedLine(const FlatPoints& points) : points_(points) {
    for (Eigen::Index i = 0; i < points.rows(); ++i)
      at_.push_back(at_.back() + (points.row((i + 1) % points.rows()) - points.row(i)).norm());
  }
  double length() const { return at_.back(); }
  double at_node(int i) const { return at_[static_cast<std::size_t>(i)]; }
  Vector2d point(double along) const {
    along -= std::floor(along / length()) * length();
    const auto after = std::upper_bound(at_.begin() + 1, at_.end() - 1, along);
    const auto i = static_cast<Eigen::Index>(after - at_.begin()) - 1;
    const double from = at_[static_cast<std::size_t>(i)];
    const double span = at_[static_cast<std::size_t>(i + 1)] - from;
    const double share = span > 0.0 ? (along - from) / span : 0.0;
    return ((1.0 - share) * points_.row(i) + share * points_.row((i + 1) % points_.rows()))
        .transpose();
  }

 private:
  const FlatPoints& points_;
  std::vector<double> at_{0.0};
};

/// Side of the map that a stretch faces, from its chord run anticlockwise.
std::string facing(const Vector2d& chord) {
  const Vector2d outward(chord.y(), -chord.x());
  if (std::abs(outward.x()) > std::abs(outward.y())) return outward.x() > 0.0 ? "right" : "left";
  return outward.y() > 0.0 ? "top" : "bottom";
}

double length_on_skin(const Nodes& nodes, const std::vector<int>& chain) {
  double length = 0.0;
  for (std::size_t i = 0; i + 1 < chain.size(); ++i)
    length += (nodes.row(chain[i + 1]) - nodes.row(chain[i])).norm();
  return length;
}

/// The second and later parts that face one side get a number, by falling length.
void number_names(std::vector<RimPart>& parts) {
  std::vector<std::size_t> order(parts.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return rounded(parts[a].length_m) > rounded(parts[b].length_m);
  });
  std::map<std::string, int> seen;
  for (const std::size_t i : order) {
    const int number = ++seen[parts[i].name];
    if (number > 1) parts[i].name += "-" + std::to_string(number);
  }
}

std::vector<RimPart> outer_parts(const Mesh& mesh,
                                 const FlatPoints& points,
                                 const std::vector<int>& loop,
                                 double corner_degrees) {
  const auto n = static_cast<int>(loop.size());
  const std::vector<int> cuts = corners(loop_points(loop, points), corner_degrees);
  std::vector<RimPart> parts;
  if (cuts.size() < 2) {
    RimPart whole{"rim", {}, 0.0, false};
    const int start = cuts.empty() ? 0 : cuts[0];
    for (int i = 0; i <= n; ++i)
      whole.nodes.push_back(loop[static_cast<std::size_t>((start + i) % n)]);
    whole.length_m = length_on_skin(mesh.nodes, whole.nodes);
    return {whole};
  }
  // Begin at the corner nearest the datum.
  std::size_t first = 0;
  for (std::size_t c = 1; c < cuts.size(); ++c)
    if (points.row(loop[static_cast<std::size_t>(cuts[c])]).norm() <
        points.row(loop[static_cast<std::size_t>(cuts[first])]).norm() - 1e-9)
      first = c;
  for (std::size_t c = 0; c < cuts.size(); ++c) {
    const int from = cuts[(first + c) % cuts.size()], to = cuts[(first + c + 1) % cuts.size()];
    const int count = (to - from + n) % n;
    RimPart part;
    for (int i = 0; i <= count; ++i)
      part.nodes.push_back(loop[static_cast<std::size_t>((from + i) % n)]);
    part.name =
        facing((points.row(part.nodes.back()) - points.row(part.nodes.front())).transpose());
    part.length_m = length_on_skin(mesh.nodes, part.nodes);
    parts.push_back(std::move(part));
  }
  number_names(parts);
  return parts;
}

}  // namespace

std::vector<std::vector<int>> ordered_loops(const Triangles& triangles, const FlatPoints& points) {
  std::vector<std::vector<int>> loops = boundary_loops(triangles);
  std::vector<std::pair<long long, std::size_t>> order;  // falling area; ties keep node order
  for (std::size_t i = 0; i < loops.size(); ++i)
    order.emplace_back(-rounded(std::abs(polygon_area(loop_points(loops[i], points)))), i);
  std::sort(order.begin(), order.end());
  std::vector<std::vector<int>> sorted;
  for (const auto& entry : order) sorted.push_back(std::move(loops[entry.second]));
  return sorted;
}

double corner_chord(const FlatPoints& loop) {
  const double length = ClosedLine(loop).length();
  const double edge = length / static_cast<double>(loop.rows());
  return std::min(std::max({0.030, length / 40.0, 2.0 * edge}), length / 16.0);
}

std::vector<int> corners(const FlatPoints& loop, double degrees) {
  const ClosedLine line(loop);
  const auto n = static_cast<int>(loop.rows());
  const double chord = corner_chord(loop), limit = base::from_degrees(degrees);
  std::vector<double> turn(static_cast<std::size_t>(n));
  for (int i = 0; i < n; ++i) {
    const double s = line.at_node(i);
    const Vector2d here = loop.row(i).transpose();
    const Vector2d in = here - line.point(s - chord), out = line.point(s + chord) - here;
    turn[static_cast<std::size_t>(i)] =
        std::abs(std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out)));
  }
  // Sharpest first; whatever lies within a chord of one already taken belongs to the same corner.
  std::vector<int> order(static_cast<std::size_t>(n));
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return rounded(turn[static_cast<std::size_t>(a)]) > rounded(turn[static_cast<std::size_t>(b)]);
  });
  std::vector<int> found;
  for (const int i : order) {
    if (turn[static_cast<std::size_t>(i)] <= limit) break;
    const bool near = std::any_of(found.begin(), found.end(), [&](int other) {
      const double gap = std::abs(line.at_node(i) - line.at_node(other));
      return std::min(gap, line.length() - gap) < chord * (1.0 + 1e-9);
    });
    if (!near) found.push_back(i);
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::vector<RimPart> rim_parts(const Mesh& mesh, const FlatPoints& points, double corner_degrees) {
  const std::vector<std::vector<int>> loops = ordered_loops(mesh.triangles, points);
  std::vector<RimPart> parts = outer_parts(mesh, points, loops.front(), corner_degrees);
  for (std::size_t h = 1; h < loops.size(); ++h) {
    RimPart hole{"hole-" + std::to_string(h), loops[h], 0.0, true};
    hole.nodes.push_back(loops[h].front());
    hole.length_m = length_on_skin(mesh.nodes, hole.nodes);
    parts.push_back(std::move(hole));
  }
  return parts;
}

}  // namespace calmplate::panel
