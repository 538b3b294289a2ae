// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/drawn_curve.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <stdexcept>

#include "base/units.hpp"
#include "panel/line_geometry.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kNoLength = 1e-7;  // m
constexpr double kNoTurn = 1e-6;    // rad
constexpr double kFold = 179.0;     // degrees
constexpr double kCorner = 15.0;    // degrees
constexpr double kChord = 5.0;      // degrees of arc

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }
Vector2d left_of(const Vector2d& d) { return {-d.y(), d.x()}; }
double turn_between(const Vector2d& a, const Vector2d& b) {
  return std::atan2(cross(a, b), a.dot(b));
}
double sign_of(double value) { return value < 0.0 ? -1.0 : 1.0; }

std::string mm(double value_m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g mm", base::to_mm(value_m));
  return text;
}

/// A line in anticlockwise order that remembers the person's own numbers of points.
struct Ordered {
  std::vector<Vector2d> corner;
  std::vector<double> radius, bow;
  std::vector<int> number;  // from 1
};

Ordered anticlockwise(const ClosedLine& line) {
  const auto n = static_cast<std::size_t>(line.corners.rows());
  if (n < 2 || line.radius_m.size() != n || line.bow_m.size() != n)
    throw std::invalid_argument(
        "DrawnCurve: corners, radii and bows are not as many as each other");
  double area = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const auto a = static_cast<Eigen::Index>(i), b = static_cast<Eigen::Index>((i + 1) % n);
    area += cross(line.corners.row(a).transpose(), line.corners.row(b).transpose());
  }
  Ordered out;
  for (std::size_t k = 0; k < n; ++k) {
    // Backwards, the side after a corner is the one that came before it.
    const std::size_t i = area < 0.0 ? n - 1 - k : k;
    const std::size_t side = area < 0.0 ? (i + n - 1) % n : i;
    out.corner.emplace_back(line.corners.row(static_cast<Eigen::Index>(i)).transpose());
    out.radius.push_back(line.radius_m[i]);
    out.bow.push_back(line.bow_m[side]);
    out.number.push_back(static_cast<int>(i) + 1);
  }
  return out;
}

std::string side_text(const Ordered& line, std::size_t i) {
  return "the side from point " + std::to_string(line.number[i]) + " to " +
         std::to_string(line.number[(i + 1) % line.number.size()]);
}

Stretch straight(const Vector2d& from, const Vector2d& to) {
  Stretch s;
  s.from = from;
  s.to = to;
  return s;
}

Stretch arc(const Vector2d& centre, const Vector2d& from, const Vector2d& to, double sweep) {
  Stretch s = straight(from, to);
  s.centre = centre;
  s.radius_m = (from - centre).norm();
  s.angle_rad = std::atan2(from.y() - centre.y(), from.x() - centre.x());
  s.sweep_rad = sweep;
  return s;
}

Stretch side_of(const Ordered& line, std::size_t i, const base::Where& where) {
  const Vector2d from = line.corner[i], to = line.corner[(i + 1) % line.corner.size()];
  const double half = 0.5 * (to - from).norm(), bow = line.bow[i];
  if (half < 0.5 * kNoLength)
    throw base::InputError(where,
                           "has points " + std::to_string(line.number[i]) + " and " +
                               std::to_string(line.number[(i + 1) % line.number.size()]) +
                               " in the same place",
                           "each corner once");
  if (std::abs(bow) > half * (1.0 + 1e-9))
    throw base::InputError(
        where,
        side_text(line, i) + " bows by " + mm(bow) + " over a length of " + mm(2.0 * half),
        "at most half the length, which makes a half circle");
  if (std::abs(bow) < 1e-3 * kNoLength) return straight(from, to);
  // Anticlockwise, outside is on the right: an arc that bows out has its centre on the left.
  const double radius = 0.5 * (half * half + bow * bow) / std::abs(bow);
  const Vector2d to_centre = left_of((to - from).normalized()) * sign_of(bow);
  return arc(0.5 * (from + to) + to_centre * (radius - std::abs(bow)),
             from,
             to,
             4.0 * std::atan(bow / half));
}

/// The stretch moved to its left by d, as a whole line or circle; radius 0: a line.
struct Offset {
  Vector2d point, along;
  double radius = 0.0;
};

Offset offset_left(const Stretch& s, double d) {
  if (s.radius_m == 0.0) {
    const Vector2d along = (s.to - s.from).normalized();
    return {s.from + d * left_of(along), along, 0.0};
  }
  return {s.centre, Vector2d::Zero(), s.radius_m - sign_of(s.sweep_rad) * d};
}

void meet_line(const Offset& line, const Offset& circle, std::vector<Vector2d>& out) {
  const Vector2d foot = line.point + (circle.point - line.point).dot(line.along) * line.along;
  const double square = circle.radius * circle.radius - (foot - circle.point).squaredNorm();
  if (square < 0.0) return;
  for (const double s : {-1.0, 1.0}) out.push_back(foot + s * std::sqrt(square) * line.along);
}

std::vector<Vector2d> meetings(const Offset& a, const Offset& b) {
  std::vector<Vector2d> out;
  if (a.radius < 0.0 || b.radius < 0.0) return out;
  if (a.radius == 0.0 && b.radius == 0.0) {
    const double turn = cross(a.along, b.along);
    if (turn != 0.0) out.push_back(a.point + cross(b.point - a.point, b.along) / turn * a.along);
  } else if (a.radius == 0.0) {
    meet_line(a, b, out);
  } else if (b.radius == 0.0) {
    meet_line(b, a, out);
  } else {
    const Vector2d between = b.point - a.point;
    const double d = between.norm();
    if (d == 0.0) return out;
    // The chord that both circles share, as a line.
    const double along = 0.5 * (d + (a.radius * a.radius - b.radius * b.radius) / d);
    meet_line({a.point + along / d * between, left_of(between / d), 0.0}, a, out);
  }
  return out;
}

/// Length along a stretch at which a place lies, below 0 or over its length if it is off the ends.
double length_at(const Stretch& s, const Vector2d& place) {
  if (s.radius_m == 0.0) return (place - s.from).dot((s.to - s.from).normalized());
  const Vector2d d = place - s.centre;
  const double middle = s.angle_rad + 0.5 * s.sweep_rad;
  const double off = std::remainder(std::atan2(d.y(), d.x()) - middle, base::kTwoPi);
  return 0.5 * s.length() + sign_of(s.sweep_rad) * s.radius_m * off;
}

/// How far a corner's arc cuts into the side before and after it, and its centre.
struct Fillet {
  double before = 0.0, after = 0.0;
  Vector2d centre = Vector2d::Zero();
  double side = 0.0;  // +1: the curve turns left; 0: no arc
};

Fillet fillet_at(const Ordered& line,
                 std::size_t i,
                 const Stretch& before,
                 const Stretch& after,
                 const base::Where& where) {
  const double turn = turn_between(before.tangent(before.length()), after.tangent(0.0));
  if (std::abs(turn) > base::from_degrees(kFold))
    throw base::InputError(where,
                           "folds back on itself at point " + std::to_string(line.number[i]),
                           "an outline that does not touch itself");
  Fillet out;
  if (line.radius[i] == 0.0 || std::abs(turn) < kNoTurn) return out;
  out.side = sign_of(turn);
  const double d = out.side * line.radius[i];
  double best = std::numeric_limits<double>::infinity();
  for (const Vector2d& centre : meetings(offset_left(before, d), offset_left(after, d)))
    if ((centre - line.corner[i]).norm() < best) {
      best = (centre - line.corner[i]).norm();
      out.centre = centre;
    }
  if (!std::isfinite(best))
    throw base::InputError(where,
                           "has no room for the radius of " + mm(line.radius[i]) + " at point " +
                               std::to_string(line.number[i]),
                           "a smaller radius");
  out.before = before.length() - length_at(before, out.centre);
  out.after = length_at(after, out.centre);
  return out;
}

/// What the fillets at both ends leave of a side.
Stretch trimmed(const Stretch& side, double from, double to) {
  Stretch out = side;
  out.from = side.at(from);
  out.to = side.at(to);
  if (side.radius_m > 0.0) {
    out.angle_rad = side.angle_rad + side.sweep_rad * from / side.length();
    out.sweep_rad = side.sweep_rad * (to - from) / side.length();
  }
  return out;
}

}  // namespace

double Stretch::length() const {
  return radius_m == 0.0 ? (to - from).norm() : radius_m * std::abs(sweep_rad);
}

Vector2d Stretch::at(double along) const {
  if (radius_m == 0.0) return from + along * (to - from).normalized();
  const double angle = angle_rad + sign_of(sweep_rad) * along / radius_m;
  return centre + radius_m * Vector2d(std::cos(angle), std::sin(angle));
}

Vector2d Stretch::tangent(double along) const {
  if (radius_m == 0.0) return (to - from).normalized();
  const double angle = angle_rad + sign_of(sweep_rad) * along / radius_m;
  return sign_of(sweep_rad) * Vector2d(-std::sin(angle), std::cos(angle));
}

DrawnCurve::DrawnCurve(const ClosedLine& input) {
  const Ordered line = anticlockwise(input);
  const std::size_t n = line.corner.size();
  std::vector<Stretch> sides;
  for (std::size_t i = 0; i < n; ++i) sides.push_back(side_of(line, i, input.where));
  std::vector<Fillet> fillets;
  for (std::size_t i = 0; i < n; ++i)
    fillets.push_back(fillet_at(line, i, sides[(i + n - 1) % n], sides[i], input.where));
  for (std::size_t i = 0; i < n; ++i) {
    const Fillet& here = fillets[i];
    const Fillet& next = fillets[(i + 1) % n];
    const double length = sides[i].length(), needed = here.after + next.before;
    if (here.after < -kNoLength || next.before < -kNoLength || needed > length + kNoLength)
      throw base::InputError(input.where,
                             side_text(line, i) + " is " + mm(length) +
                                 " long, and the rounding of its corners needs " + mm(needed),
                             "smaller corner radii");
    if (here.side != 0.0) {
      const Stretch& before = sides[(i + n - 1) % n];
      const Vector2d from = before.at(before.length() - here.before);
      const Vector2d to = sides[i].at(here.after);
      const double sweep = turn_between(from - here.centre, to - here.centre);
      stretches_.push_back(arc(here.centre, from, to, sweep));
    }
    if (length - needed > kNoLength)
      stretches_.push_back(trimmed(sides[i], here.after, length - next.before));
  }
  for (std::size_t i = 0; i < stretches_.size(); ++i) {
    const Stretch& before = stretches_[(i + stretches_.size() - 1) % stretches_.size()];
    starts_.push_back(length_);
    const double turn = turn_between(before.tangent(before.length()), stretches_[i].tangent(0.0));
    if (std::abs(turn) > base::from_degrees(kCorner)) corners_.push_back(length_);
    length_ += stretches_[i].length();
  }
  if (const auto at = loop_meets_itself(polygon()))
    throw base::InputError(input.where,
                           "crosses itself near " + flat_place_in_mm(*at),
                           "an outline that does not touch itself");
}

Vector2d DrawnCurve::at(double along) const {
  const auto after = std::upper_bound(starts_.begin() + 1, starts_.end(), along);
  const auto i = static_cast<std::size_t>(after - starts_.begin()) - 1;
  return stretches_[i].at(along - starts_[i]);
}

double DrawnCurve::area() const {
  double area = 0.0;
  for (const Stretch& s : stretches_) {
    area += 0.5 * cross(s.from, s.to);
    area += 0.5 * s.radius_m * s.radius_m * (s.sweep_rad - std::sin(s.sweep_rad));
  }
  return area;
}

FlatPoints DrawnCurve::polygon() const {
  std::vector<Vector2d> points;
  for (const Stretch& s : stretches_) {
    const int parts = std::max(
        1, static_cast<int>(std::ceil(std::abs(s.sweep_rad) / base::from_degrees(kChord))));
    for (int k = 0; k < parts; ++k) points.push_back(s.at(s.length() * k / parts));
  }
  FlatPoints out(static_cast<Eigen::Index>(points.size()), 2);
  for (std::size_t i = 0; i < points.size(); ++i)
    out.row(static_cast<Eigen::Index>(i)) = points[i].transpose();
  return out;
}

ClosedLine circle(const Vector2d& centre, double diameter_m) {
  ClosedLine out;
  const double r = 0.5 * diameter_m;
  out.corners.resize(2, 2);
  out.corners << centre.x() - r, centre.y(), centre.x() + r, centre.y();
  out.radius_m = {0.0, 0.0};
  out.bow_m = {r, r};
  return out;
}

ClosedLine slot(const Vector2d& centre, double length_m, double width_m, double angle_rad) {
  ClosedLine out;
  const Vector2d along = Eigen::Rotation2Dd(angle_rad) * Vector2d(0.5 * (length_m - width_m), 0.0);
  const Vector2d up = Eigen::Rotation2Dd(angle_rad) * Vector2d(0.0, 0.5 * width_m);
  out.corners.resize(4, 2);
  out.corners << (centre - along - up).transpose(), (centre + along - up).transpose(),
      (centre + along + up).transpose(), (centre - along + up).transpose();
  out.radius_m = {0.0, 0.0, 0.0, 0.0};
  out.bow_m = {0.0, 0.5 * width_m, 0.0, 0.5 * width_m};
  return out;
}

std::string flat_place_in_mm(const Vector2d& at) {
  char text[64];
  std::snprintf(text, sizeof text, "[%.0f, %.0f] mm", base::to_mm(at.x()), base::to_mm(at.y()));
  return text;
}

}  // namespace calmplate::panel
