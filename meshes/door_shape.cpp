// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshes/door_shape.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::demo {
namespace {

// Handle recess: a dish 170 mm long, 60 mm high, 16 mm deep, its axis rising with the waist line.
const Eigen::Vector2d kRecess(0.835, 0.468);
constexpr double kRecessHalfLength = 0.085;
constexpr double kRecessHalfHeight = 0.030;
constexpr double kRecessDepth = 0.016;
constexpr double kRecessTilt = 3.0 * base::kPi / 180.0;
const Eigen::Vector2d kLock(0.972, 0.470);
constexpr double kLockRadius = 0.011;
// Soft ridge along the door, about a third up, rising to the rear.
constexpr double kSwageHeight = 0.0055;
constexpr double kSwageAbove = 0.017;
constexpr double kSwageBelow = 0.040;

struct Corner {
  Eigen::Vector2d at;  ///< m
  double radius;       ///< m
  double bow_to_next;  ///< m, how far the side to the next corner bows out in its middle
};

/// A point of a recess-bound frame: along and across the dish, m.
Eigen::Vector2d in_recess(const Eigen::Vector2d& place) {
  const double c = std::cos(kRecessTilt), s = std::sin(kRecessTilt);
  const Eigen::Vector2d d = place - kRecess;
  return {c * d.x() + s * d.y(), -s * d.x() + c * d.y()};
}

/// 0 in the middle of the dish, 1 at its rim (a superellipse).
double recess_distance(const Eigen::Vector2d& place) {
  const Eigen::Vector2d d = in_recess(place);
  return std::pow(std::pow(std::abs(d.x()) / kRecessHalfLength, 2.6) +
                      std::pow(std::abs(d.y()) / kRecessHalfHeight, 2.6),
                  1.0 / 2.6);
}

/// Height of a place above the swage line, m.
double above_swage(const Eigen::Vector2d& place) {
  return place.y() - (0.196 + 0.030 * place.x() - 0.030 * place.x() * place.x());
}

double smooth_step(double t) {
  const double s = std::clamp(t, 0.0, 1.0);
  return s * s * (3.0 - 2.0 * s);
}

/// Where the fillet of a corner begins and ends, and its middle.
struct Fillet {
  Eigen::Vector2d begin, end, middle;
};

Fillet fillet(const Corner& before, const Corner& corner, const Corner& after) {
  const Eigen::Vector2d to_before = (before.at - corner.at).normalized();
  const Eigen::Vector2d to_after = (after.at - corner.at).normalized();
  const double half = 0.5 * std::acos(to_before.dot(to_after));
  const double reach = corner.radius / std::tan(half);
  return {corner.at + reach * to_before,
          corner.at + reach * to_after,
          corner.at + corner.radius / std::sin(half) * (to_before + to_after).normalized()};
}

void add_arc(const Fillet& f, double radius, Loop& loop) {
  const double from = std::atan2(f.begin.y() - f.middle.y(), f.begin.x() - f.middle.x());
  double to = std::atan2(f.end.y() - f.middle.y(), f.end.x() - f.middle.x());
  if (to < from) to += base::kTwoPi;
  const int steps = static_cast<int>(std::ceil((to - from) * radius / 1e-3));
  for (int k = 0; k < steps; ++k) {
    const double angle = from + (to - from) * k / steps;
    loop.emplace_back(f.middle + radius * Eigen::Vector2d(std::cos(angle), std::sin(angle)));
  }
}

void add_side(const Eigen::Vector2d& from, const Eigen::Vector2d& to, double bow, Loop& loop) {
  const Eigen::Vector2d along = to - from;
  const Eigen::Vector2d outwards = Eigen::Vector2d(along.y(), -along.x()).normalized();
  const int steps = static_cast<int>(std::ceil(along.norm() / 1e-3));
  for (int k = 0; k < steps; ++k) {
    const double t = static_cast<double>(k) / steps;
    const double flat_ends = 16.0 * t * t * (1.0 - t) * (1.0 - t);
    loop.emplace_back(from + t * along + bow * flat_ends * outwards);
  }
}

}  // namespace

Loop door_outline() {
  const std::vector<Corner> corners{{{0.048, 0.000}, 0.040, 0.006},   // lower front
                                    {{0.885, 0.004}, 0.055, -0.022},  // where the arch begins
                                    {{1.008, 0.236}, 0.110, 0.010},   // where the arch ends
                                    {{1.046, 0.618}, 0.035, 0.004},   // upper rear
                                    {{0.000, 0.562}, 0.045, 0.007}};  // upper front
  const std::size_t n = corners.size();
  std::vector<Fillet> fillets;
  for (std::size_t i = 0; i < n; ++i)
    fillets.push_back(fillet(corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]));
  Loop loop;
  for (std::size_t i = 0; i < n; ++i) {
    add_arc(fillets[i], corners[i].radius, loop);
    add_side(fillets[i].end, fillets[(i + 1) % n].begin, corners[i].bow_to_next, loop);
  }
  return loop;
}

std::vector<Loop> door_holes() {
  constexpr int kAround = 12;
  Loop lock, slot;
  for (int k = 0; k < kAround; ++k) {
    const double angle = base::kTwoPi * k / kAround;
    lock.emplace_back(kLock + kLockRadius * Eigen::Vector2d(std::cos(angle), std::sin(angle)));
  }
  // A rounded slot 38 x 16 mm near the rear end of the recess.
  const double c = std::cos(kRecessTilt), s = std::sin(kRecessTilt);
  for (int k = 0; k < 24; ++k) {
    const double angle = base::kTwoPi * (k + 0.5) / 24;
    const double a = 0.034 + (std::cos(angle) > 0.0 ? 0.011 : -0.011) + 0.008 * std::cos(angle);
    const double b = 0.008 * std::sin(angle);
    slot.emplace_back(kRecess + Eigen::Vector2d(c * a - s * b, s * a + c * b));
  }
  return {resample(slot, 0.0055), lock};
}

double door_bulge(const Eigen::Vector2d& place) {
  const double u = place.x() - 0.50, v = place.y() - 0.37;
  // Radius up the door 3.0 m in the middle, 2.7 m at the front, 3.4 m at the rear; along the car
  // 10 m at the waist, 12 m at the sill.
  const double crown = -0.5 * v * v * (1.0 / 3.0) * (1.0 - 0.22 * u) -
                       0.5 * u * u * (1.0 / 11.0) * (1.0 + 0.30 * v) + 0.02 * v * v * v;
  const double d = above_swage(place);
  const double ridge = std::cosh(d / (d > 0.0 ? kSwageAbove : kSwageBelow));
  const double dish = smooth_step((1.16 - recess_distance(place)) / (1.16 - 0.42));
  return crown + kSwageHeight / (ridge * ridge) - kRecessDepth * dish;
}

double door_edge_length(const Eigen::Vector2d& place) {
  constexpr double kPlain = 0.0215;
  const double recess_m = std::max(0.0, recess_distance(place) - 1.15) * kRecessHalfHeight;
  const double near_recess = 0.0095 + 0.28 * recess_m;
  const double d = above_swage(place);
  const double near_swage = 0.0150 + 0.30 * std::max(0.0, d > 0.0 ? d - 0.02 : -d - 0.025);
  const double near_lock = 0.0080 + 0.25 * std::max(0.0, (place - kLock).norm() - kLockRadius);
  return std::min({kPlain, near_recess, near_swage, near_lock});
}

Eigen::Vector3d door_in_car(const Eigen::Vector2d& place) {
  return {0.62 + place.x(), -0.84 - door_bulge(place), 0.33 + place.y()};
}

}  // namespace calmplate::demo
