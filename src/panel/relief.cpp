// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/relief.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "panel/drawn_curve.hpp"
#include "panel/line_geometry.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kStep = 1e-3;  // m, for slopes

/// Height of a circle of that radius over a length along it from its top, at or below 0.
double circle_height(double along, double radius) {
  return radius > 0.0 ? radius * (std::cos(along / radius) - 1.0) : 0.0;
}

/// Half a cosine from 0 to 1.
double half_cosine(double t) { return 0.5 - 0.5 * std::cos(base::kPi * std::clamp(t, 0.0, 1.0)); }

}  // namespace

Relief::Relief(const DrawnInput& input, const Vector2d& middle)
    : input_(input), centre_(input.crown_centre.value_or(middle)) {
  if (!input.crown.empty()) spline_.emplace(input.crown);
}

double Relief::crown(const Vector2d& at) const {
  if (spline_) return spline_->height(at);
  return circle_height(at.x() - centre_.x(), input_.radius_along_m) +
         circle_height(at.y() - centre_.y(), input_.radius_up_m);
}

double Relief::swages(const Vector2d& at) const {
  double sum = 0.0;
  for (const SwageInput& swage : input_.swages) {
    const double share = nearest_on_line(at, swage.line, false).distance_m / (0.5 * swage.width_m);
    sum += swage.height_m * (1.0 - half_cosine(share));
  }
  return sum;
}

double Relief::recesses(const Vector2d& at) const {
  double sum = 0.0;
  for (const RecessInput& recess : input_.recesses)
    sum -= recess.depth_m * half_cosine(-recess_distance(recess, at) / recess.wall_m);
  return sum;
}

Vector2d Relief::crown_slope(const Vector2d& at) const {
  const Vector2d x(kStep, 0.0), y(0.0, kStep);
  return Vector2d(crown(at + x) - crown(at - x), crown(at + y) - crown(at - y)) / (2.0 * kStep);
}

double steepest(const SwageInput& swage) {
  return base::kPi * std::abs(swage.height_m) / swage.width_m;
}

double steepest(const RecessInput& recess) {
  return 0.5 * base::kPi * std::abs(recess.depth_m) / recess.wall_m;
}

double recess_distance(const RecessInput& recess, const Vector2d& at) {
  const Vector2d local = Eigen::Rotation2Dd(-recess.angle_rad) * (at - recess.centre);
  const Vector2d over =
      local.cwiseAbs() - 0.5 * recess.size + Vector2d::Constant(recess.corner_radius_m);
  return over.cwiseMax(0.0).norm() + std::min(over.maxCoeff(), 0.0) - recess.corner_radius_m;
}

FlatPoints recess_line(const RecessInput& recess, double inset_m, double step_m) {
  const Vector2d half = 0.5 * recess.size - Vector2d::Constant(inset_m);
  const Eigen::Rotation2Dd turn(recess.angle_rad);
  ClosedLine line;
  line.corners.resize(4, 2);
  const Vector2d corner[4] = {
      {-half.x(), -half.y()}, {half.x(), -half.y()}, {half.x(), half.y()}, {-half.x(), half.y()}};
  for (int i = 0; i < 4; ++i) line.corners.row(i) = (recess.centre + turn * corner[i]).transpose();
  // A hair less than half the smaller side, so that no side is used up to the last digit.
  const double radius =
      std::clamp(recess.corner_radius_m - inset_m, 0.0, (1.0 - 1e-9) * half.minCoeff());
  line.radius_m.assign(4, radius);
  line.bow_m.assign(4, 0.0);
  line.where = recess.where;
  const DrawnCurve curve(line);
  const auto n =
      std::max<Eigen::Index>(8, static_cast<Eigen::Index>(std::lround(curve.length() / step_m)));
  FlatPoints out(n, 2);
  for (Eigen::Index i = 0; i < n; ++i)
    out.row(i) = curve.at(curve.length() * static_cast<double>(i) / static_cast<double>(n));
  return out;
}

}  // namespace calmplate::panel
