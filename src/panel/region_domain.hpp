// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/panel.hpp"
#include "panel/polygon.hpp"

namespace calmplate::panel {

/// What is left of the panel, triangle by triangle, once margins along the outer rim and round the
/// holes are taken off on the flat map.
///
/// The distance to the rim is exact at the nodes and taken as linear within a triangle, so each
/// triangle keeps a convex part. Along straight rims that is exact; along a rim of radius R, and
/// where the nearest rim changes, the line is out by at most about element size squared over 2 R,
/// at a corner of the margin by less than half an element. It is the same line for areas and
/// drawings. Source: [derived] linear interpolation of a function of curvature 1/R over one
/// element.
class RegionDomain {
 public:
  /// @param rim_margin_m, hole_margin_m  0 or more; 0 takes nothing off
  RegionDomain(const Panel& panel, double rim_margin_m, double hole_margin_m);

  /// Part of a triangle that is left, convex and anticlockwise; empty if nothing is left.
  void corners(int triangle, Corners& out) const;
  /// Area of the whole triangle on the map, m2.
  double triangle_area(int triangle) const;

  /// Boundary of all that is left as signed loops: outer boundaries anticlockwise, holes clockwise.
  /// Corners that a straight line passes within 1e-9 m are left out.
  std::vector<Corners> loops() const;

 private:
  const Panel& panel_;
  double margin_[2];
  bool active_[2];
};

}  // namespace calmplate::panel
