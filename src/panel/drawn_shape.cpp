// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/drawn_shape.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <string>

#include "base/units.hpp"
#include "panel/line_geometry.hpp"
#include "panel/relief.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kSmallest = 0.02, kLargest = 4.0;  // m
constexpr double kBridge = 2e-3;                    // m
constexpr double kCrownReach = 0.030;               // m
constexpr int kGrid = 48;                           // places each way at which slopes are looked at

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2g", value);
  return text;
}

std::string mm(double value_m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g mm", base::to_mm(value_m));
  return text;
}

void check_size(const DrawnInput& input, const FlatPoints& rim) {
  const double across = (rim.colwise().maxCoeff() - rim.colwise().minCoeff()).maxCoeff();
  if (across < kSmallest || across > kLargest)
    throw base::InputError(input.outline.where,
                           "is " + mm(across) + " across (are the points in millimetres?)",
                           "20 to 4000 mm");
}

double gap_between(const FlatPoints& a, const FlatPoints& b) {
  double gap = std::numeric_limits<double>::infinity();
  for (Eigen::Index i = 0; i < a.rows(); ++i)
    gap = std::min(gap, nearest_on_line(a.row(i).transpose(), b, true).distance_m);
  for (Eigen::Index i = 0; i < b.rows(); ++i)
    gap = std::min(gap, nearest_on_line(b.row(i).transpose(), a, true).distance_m);
  return gap;
}

/// One hole against a line that it must keep clear of.
void check_clear(const base::Where& where,
                 const FlatPoints& hole,
                 const FlatPoints& other,
                 const std::string& name) {
  if (const auto at = loops_meet(hole, other))
    throw base::InputError(
        where, "crosses " + name + " near " + flat_place_in_mm(*at), "a hole with skin all round");
  const double gap = gap_between(hole, other);
  if (gap < kBridge)
    throw base::InputError(where,
                           "leaves " + mm(gap) + " of skin to " + name,
                           "2 mm or more, or one opening in place of the two");
}

void check_holes(const DrawnInput& input, const DrawnShape& shape) {
  for (std::size_t i = 0; i < shape.hole_lines.size(); ++i) {
    const FlatPoints& hole = shape.hole_lines[i];
    const base::Where& where = input.holes[i].where;
    const bool crosses = loops_meet(hole, shape.rim).has_value();
    if (!crosses && !inside_loop(hole.row(0).transpose(), shape.rim))
      throw base::InputError(where, "lies outside the outline", "a hole with skin all round");
    check_clear(where, hole, shape.rim, "the outline");
    for (std::size_t j = 0; j < i; ++j) {
      const FlatPoints& other = shape.hole_lines[j];
      const std::string name = input.holes[j].where.key;
      check_clear(where, hole, other, name);
      if (inside_loop(hole.row(0).transpose(), other) ||
          inside_loop(other.row(0).transpose(), hole))
        throw base::InputError(
            where, "and " + name + " lie one in the other", "one opening in place of the two");
    }
  }
}

void check_crown(const DrawnInput& input, const DrawnShape& shape) {
  for (const CrownPoint& p : input.crown)
    for (const Vector2d& at : {p.at, p.from.value_or(p.at), p.to.value_or(p.at)})
      if (!inside_loop(at, shape.rim) &&
          nearest_on_line(at, shape.rim, true).distance_m > kCrownReach &&
          !inside_loop(at, input.outline.corners))
        throw base::InputError(p.where,
                               "is measured at " + flat_place_in_mm(at) + ", off the outline",
                               "places inside the outline or within 30 mm of it");
  const Relief relief(input, shape.middle());
  const Vector2d low = shape.rim.colwise().minCoeff(), high = shape.rim.colwise().maxCoeff();
  std::vector<std::pair<Vector2d, Vector2d>> slopes;  // place, slope
  Vector2d mean = Vector2d::Zero();
  for (int i = 0; i <= kGrid; ++i)
    for (int j = 0; j <= kGrid; ++j) {
      const Vector2d at =
          low + (high - low).cwiseProduct(Vector2d(i, j) / static_cast<double>(kGrid));
      if (!inside_loop(at, shape.rim)) continue;
      slopes.emplace_back(at, relief.crown_slope(at));
      mean += slopes.back().second;
    }
  if (!slopes.empty()) mean /= static_cast<double>(slopes.size());
  for (const auto& [at, slope] : slopes)
    if ((slope - mean).norm() > kSteepestCrown)
      throw base::InputError(input.crown_where,
                             "makes the skin slope by " + number((slope - mean).norm()) + " near " +
                                 flat_place_in_mm(at) + ", which is no shallow skin",
                             "a slope of 0.5 at most; heights in mm, radii in m");
}

void check_swages(const DrawnInput& input, const DrawnShape& shape) {
  for (const SwageInput& swage : input.swages) {
    bool touches = false;
    for (Eigen::Index i = 0; i + 1 < swage.line.rows(); ++i)
      for (int k = 0; k <= 100; ++k) {
        const Vector2d at =
            swage.line.row(i) + 0.01 * k * (swage.line.row(i + 1) - swage.line.row(i));
        touches = touches || inside_loop(at, shape.rim);
      }
    if (!touches)
      throw base::InputError(swage.where, "lies off the outline", "a line that runs over the skin");
    if (steepest(swage) > kSteepestSwage)
      throw base::InputError(
          swage.where,
          "is " + mm(std::abs(swage.height_m)) + " high over a width of " + mm(swage.width_m) +
              ": its sides would be steeper than 45 degrees",
          "up to " + mm(kSteepestSwage / base::kPi * swage.width_m) + " in that width");
  }
}

void check_recesses(const DrawnInput& input, const DrawnShape& shape) {
  for (const RecessInput& recess : input.recesses) {
    if (!inside_loop(recess.centre, shape.rim))
      throw base::InputError(
          recess.where,
          "has its middle at " + flat_place_in_mm(recess.centre) + ", off the outline",
          "a recess in the skin");
    const double half = 0.5 * recess.size.minCoeff();
    if (recess.wall_m > 0.95 * half || recess.corner_radius_m > half)
      throw base::InputError(
          recess.where,
          recess.wall_m > 0.95 * half
              ? "has walls " + mm(recess.wall_m) + " wide, which leave no floor"
              : "has corners of " + mm(recess.corner_radius_m) + ", over half its smaller side",
          "up to " + mm(recess.wall_m > 0.95 * half ? 0.95 * half : half));
    if (steepest(recess) > kSteepestWall)
      throw base::InputError(recess.where,
                             "is " + mm(std::abs(recess.depth_m)) + " deep over walls " +
                                 mm(recess.wall_m) + " wide: they would be steeper than 56 degrees",
                             "walls of " +
                                 mm(0.5 * base::kPi * std::abs(recess.depth_m) / kSteepestWall) +
                                 " or wider, or less depth");
  }
}

}  // namespace

Vector2d DrawnShape::middle() const {
  return 0.5 * (rim.colwise().minCoeff() + rim.colwise().maxCoeff()).transpose();
}

bool DrawnShape::on_skin(const Vector2d& at) const {
  return inside_loop(at, rim) &&
         std::none_of(hole_lines.begin(), hole_lines.end(), [&at](const FlatPoints& hole) {
           return inside_loop(at, hole);
         });
}

DrawnShape drawn_shape(const DrawnInput& input) {
  DrawnShape shape{DrawnCurve(input.outline), {}, {}, {}, 0.0};
  shape.rim = shape.outline.polygon();
  shape.area_m2 = shape.outline.area();
  check_size(input, shape.rim);
  for (const ClosedLine& hole : input.holes) {
    shape.holes.emplace_back(hole);
    shape.hole_lines.push_back(shape.holes.back().polygon());
    shape.area_m2 -= shape.holes.back().area();
  }
  check_holes(input, shape);
  check_crown(input, shape);
  check_swages(input, shape);
  check_recesses(input, shape);
  return shape;
}

}  // namespace calmplate::panel
