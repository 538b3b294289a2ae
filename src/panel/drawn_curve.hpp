// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "panel/drawn_input.hpp"

namespace calmplate::panel {

/// A stretch of a curve: straight, or part of a circle.
struct Stretch {
  Eigen::Vector2d from, to;
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  double radius_m = 0.0;   ///< 0: straight
  double angle_rad = 0.0;  ///< of `from`, seen from the centre
  double sweep_rad = 0.0;  ///< above 0: anticlockwise

  double length() const;
  Eigen::Vector2d at(double along) const;
  Eigen::Vector2d tangent(double along) const;  ///< unit
};

/// A closed line as a curve: sides straight or in arcs, corners rounded by arcs that touch both
/// sides without a kink. Runs anticlockwise.
class DrawnCurve {
 public:
  /// @throws base::InputError at line.where: two corners in one place, a side that bows by more
  /// than
  ///         half its length, a corner that folds back, a radius that the sides of its corner have
  ///         no room for, a curve that crosses itself
  /// @throws std::invalid_argument if the lists are not as long as each other
  explicit DrawnCurve(const ClosedLine& line);

  double length() const noexcept { return length_; }
  Eigen::Vector2d at(double along) const;  ///< along from 0 to length()
  double area() const;                     ///< m2, exact
  /// Lengths along the curve at which it turns by more than 15 degrees at a point, rising.
  const std::vector<double>& corners() const noexcept { return corners_; }
  const std::vector<Stretch>& stretches() const noexcept { return stretches_; }
  /// Points on the curve: the ends of all stretches, and on arcs one at least every 5 degrees.
  FlatPoints polygon() const;

 private:
  std::vector<Stretch> stretches_;
  std::vector<double> starts_;  ///< length along the curve at which each stretch begins
  std::vector<double> corners_;
  double length_ = 0.0;
};

/// "[12, 31] mm" of a place on the flat map.
std::string flat_place_in_mm(const Eigen::Vector2d& at);

}  // namespace calmplate::panel
