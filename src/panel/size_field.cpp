// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/size_field.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "panel/line_geometry.hpp"
#include "panel/relief.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kGrowth = 0.25;
constexpr double kOfRadius = 0.5;
constexpr double kOfSwage = 1.0 / 10.0;
constexpr double kOfWall = 1.0 / 3.0;
constexpr double kOfBridge = 0.5;
constexpr double kFinest = 1e-3;  // m
constexpr int kFewest = 12;       // of a curve without corners

FlatPoints to_points(const std::vector<Vector2d>& list) {
  FlatPoints out(static_cast<Eigen::Index>(list.size()), 2);
  for (std::size_t i = 0; i < list.size(); ++i)
    out.row(static_cast<Eigen::Index>(i)) = list[i].transpose();
  return out;
}

/// Points along a stretch, about `step` apart, both ends among them.
FlatPoints along(const Stretch& s, double step) {
  const int n = std::max(1, static_cast<int>(std::ceil(s.length() / step)));
  std::vector<Vector2d> out;
  for (int k = 0; k <= n; ++k) out.push_back(s.at(s.length() * k / n));
  return to_points(out);
}

/// The places between `from` and `to` that divide a curve as the field wants it: from, not to.
/// @param fewest  of them
void divide(const DrawnCurve& curve,
            const SizeField& field,
            double from,
            double to,
            int fewest,
            std::vector<Vector2d>& out) {
  // How many sides fit up to each of many steps.
  const double finest_step = 0.1 * std::min(field.coarsest(), to - from);
  const int n = std::max(32, static_cast<int>(std::ceil((to - from) / finest_step)));
  const double step = (to - from) / n;
  std::vector<double> sides{0.0};
  for (int k = 0; k < n; ++k)
    sides.push_back(sides.back() + step / field.at(curve.at(from + (k + 0.5) * step)));
  const int count = std::max(fewest, static_cast<int>(std::lround(sides.back())));
  std::size_t k = 0;
  for (int i = 0; i < count; ++i) {
    const double wanted = sides.back() * i / count;
    while (sides[k + 1] <= wanted && k + 2 < sides.size()) ++k;
    const double share = (wanted - sides[k]) / (sides[k + 1] - sides[k]);
    out.push_back(curve.at(from + (static_cast<double>(k) + share) * step));
  }
}

/// Points of a line of straight pieces as far apart as the field wants.
void walk(const FlatPoints& line, const SizeField& field, std::vector<Vector2d>& out) {
  for (Eigen::Index i = 0; i + 1 < line.rows(); ++i) {
    const Vector2d a = line.row(i), ab = line.row(i + 1) - line.row(i);
    const double size = field.at(a + 0.5 * ab);
    const int n = std::max(1, static_cast<int>(std::lround(ab.norm() / size)));
    for (int k = 0; k <= n; ++k) out.push_back(a + ab * k / n);
  }
}

}  // namespace

SizeField::SizeField(const DrawnInput& input, const DrawnShape& shape) {
  if (!(input.element_m > 0.0) || !std::isfinite(input.element_m))
    throw std::invalid_argument("SizeField: the drawing has no element size");
  coarsest_ = input.element_m;
  factor_ = input.feature_factor;
  finest_ = coarsest_;
  add_curve(shape.outline);
  for (const DrawnCurve& hole : shape.holes) add_curve(hole);
  for (std::size_t i = 0; i < shape.hole_lines.size(); ++i) {
    add_bridges(shape.hole_lines[i], shape.rim);
    for (std::size_t j = 0; j < i; ++j) add_bridges(shape.hole_lines[i], shape.hole_lines[j]);
  }
  for (const SwageInput& swage : input.swages)
    add(swage.line, false, kOfSwage * swage.width_m, 0.5 * swage.width_m);
  for (const RecessInput& recess : input.recesses) {
    const double size = kOfWall * recess.wall_m;
    add(recess_line(recess, 0.5 * recess.wall_m, size), true, size, 0.5 * recess.wall_m);
  }
  for (const FinerLine& finer : input.finer)
    add(finer.line, finer.closed, finer.size_m, 0.5 * finer.size_m);
}

void SizeField::add(const FlatPoints& line, bool closed, double size_m, double reach_m) {
  size_m *= factor_;
  if (size_m >= coarsest_) return;
  size_m = std::max(size_m, std::min(kFinest, coarsest_));
  finest_ = std::min(finest_, size_m);
  sources_.push_back({line,
                      closed,
                      size_m,
                      reach_m,
                      line.colwise().minCoeff().transpose(),
                      line.colwise().maxCoeff().transpose()});
}

void SizeField::add_curve(const DrawnCurve& curve) {
  for (const Stretch& s : curve.stretches()) {
    const double wanted = s.radius_m > 0.0 ? kOfRadius * s.radius_m : s.length();
    add(along(s, s.radius_m > 0.0 ? 0.2 * s.radius_m : s.length()), false, wanted, 0.0);
  }
}

void SizeField::add_bridges(const FlatPoints& a, const FlatPoints& b) {
  const double limit = coarsest_ / (kOfBridge * factor_);
  const auto look = [&](const FlatPoints& from, const FlatPoints& to) {
    for (Eigen::Index i = 0; i < from.rows(); ++i) {
      const NearestOnLine near = nearest_on_line(from.row(i).transpose(), to, true);
      if (near.distance_m >= limit) continue;
      FlatPoints bridge(2, 2);
      bridge << from.row(i), near.at.transpose();
      add(bridge, false, kOfBridge * near.distance_m, 0.0);
    }
  };
  look(a, b);
  look(b, a);
}

double SizeField::at(const Vector2d& place) const {
  double size = coarsest_;
  for (const Source& s : sources_) {
    // A source that is too far off to matter costs no more than its box.
    const double off = (s.low - place).cwiseMax(place - s.high).cwiseMax(0.0).norm();
    if (s.size_m + kGrowth * (off - s.reach_m) >= size) continue;
    const double distance = nearest_on_line(place, s.line, s.closed).distance_m;
    size = std::min(size, s.size_m + kGrowth * std::max(0.0, distance - s.reach_m));
  }
  return size;
}

FlatPoints divided(const DrawnCurve& curve, const SizeField& field) {
  std::vector<Vector2d> out;
  const std::vector<double>& corners = curve.corners();
  if (corners.empty()) divide(curve, field, 0.0, curve.length(), kFewest, out);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const bool last = i + 1 == corners.size();
    const double to = last ? corners[0] + curve.length() : corners[i + 1];
    divide(curve, field, corners[i], to, corners.size() == 1 ? kFewest : 1, out);
  }
  return to_points(out);
}

FlatPoints feature_rows(const DrawnInput& input, const SizeField& field) {
  std::vector<Vector2d> out;
  for (const SwageInput& swage : input.swages) walk(swage.line, field, out);
  for (const RecessInput& recess : input.recesses)
    for (const double inset : {0.0, recess.wall_m}) {
      const double size =
          std::min(field.coarsest(), input.feature_factor * kOfWall * recess.wall_m);
      const FlatPoints line = recess_line(recess, inset, size);
      for (Eigen::Index i = 0; i < line.rows(); ++i) out.push_back(line.row(i).transpose());
    }
  return to_points(out);
}

}  // namespace calmplate::panel
