// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/drawn_curve.hpp"
#include "panel/drawn_input.hpp"

namespace calmplate::panel {

/// The lines of a drawing, checked against each other.
struct DrawnShape {
  DrawnCurve outline;
  std::vector<DrawnCurve> holes;
  FlatPoints rim;                      ///< polygon of the outline
  std::vector<FlatPoints> hole_lines;  ///< polygon of each hole
  double area_m2 = 0.0;                ///< of the skin, on the flat map

  /// The middle of the outline's bounding box.
  Eigen::Vector2d middle() const;
  /// True inside the outline and outside the holes.
  bool on_skin(const Eigen::Vector2d& at) const;
};

/// The steepest skin that still counts as shallow: rise over run of the crown.
constexpr double kSteepestCrown = 0.5;
/// Rise over length along the skin of a swage line's side: 45 degrees.
constexpr double kSteepestSwage = 0.70;
/// Rise over run of a recess's wall: 56 degrees.
constexpr double kSteepestWall = 1.5;

/// Checks a whole drawing but for its element size.
/// @throws base::InputError  what DrawnCurve and CrownSpline refuse; an outline smaller than 20 mm
/// or
///         larger than 4 m across; a hole off the outline, across it, less than 2 mm from it or
///         from another hole, or in another; a crown point off the outline by more than 30 mm; a
///         crown steeper than kSteepestCrown; a swage line that does not touch the skin or is
///         steeper than kSteepestSwage; a recess whose middle is off the outline, that has no floor
///         or walls steeper than kSteepestWall
DrawnShape drawn_shape(const DrawnInput& input);

}  // namespace calmplate::panel
