// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>

#include "panel/crown_spline.hpp"
#include "panel/drawn_input.hpp"

namespace calmplate::panel {

/// Heights of a drawn skin over the flat map, m, above 0 out of the car.
class Relief {
 public:
  /// @param middle  of the outline's bounding box: where radii have their crown unless the drawing
  ///                says otherwise
  /// @throws base::InputError as CrownSpline
  Relief(const DrawnInput& input, const Eigen::Vector2d& middle);

  /// By the crown alone; a plane may be added at will. Circles of the radii along and up, added; or
  /// the spline through the measured points.
  double crown(const Eigen::Vector2d& at) const;
  /// By the swage lines alone.
  double swages(const Eigen::Vector2d& at) const;
  /// By the recesses alone; at or below 0 for recesses into the car.
  double recesses(const Eigen::Vector2d& at) const;

  /// Slope of the crown by differences over 2 mm, [2] no unit.
  Eigen::Vector2d crown_slope(const Eigen::Vector2d& at) const;

 private:
  const DrawnInput& input_;
  Eigen::Vector2d centre_;
  std::optional<CrownSpline> spline_;
};

/// Steepest slope of a swage line's side: rise over length along the skin.
double steepest(const SwageInput& swage);
/// Steepest slope of a recess's wall: rise over width seen from outside.
double steepest(const RecessInput& recess);

/// Distance from a recess's opening, above 0 outside it. Its walls lie between -wall_m and 0.
double recess_distance(const RecessInput& recess, const Eigen::Vector2d& at);

/// The opening (inset 0), or the line `inset_m` inside it, as points about `step_m` apart.
FlatPoints recess_line(const RecessInput& recess, double inset_m, double step_m);

}  // namespace calmplate::panel
