// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "panel/panel.hpp"

namespace calmplate::panel {

/// A simple polygon on the flat map, either turning sense. [n x 2] m, n >= 3
using Polygon = FlatPoints;

/// A region on the flat map: inside `outline` (or everywhere if it is empty) and outside all holes.
struct Region {
  Polygon outline;             ///< empty: the whole panel
  std::vector<Polygon> holes;  ///< keep-out polygons cut from it
  double rim_margin_m = 0.0;   ///< and this far from the outer rim, measured on the flat map
  double hole_margin_m = 0.0;  ///< and this far from the panel's holes
};

/// One triangle that a region covers, wholly or in part.
struct CoveredTriangle {
  int triangle = -1;
  double fraction = 0.0;  ///< covered share of its area, above 0, at most 1
};

/// Exact covered share of every triangle, by clipping polygons on the flat map.
/// @return in order of triangle number; shares below 1e-9 are left out
std::vector<CoveredTriangle> cover(const Panel& panel, const Region& region);

/// Area of the region on the skin: sum of fraction times triangle area, m2.
double covered_area(const Panel& panel, const std::vector<CoveredTriangle>& covered);

/// The region as polygons on the flat map (outlines anticlockwise, holes clockwise), for drawing
/// and for results.json. `everywhere` regions come back as the panel's own outline moved in by the
/// margin.
std::vector<Polygon> outlines(const Panel& panel, const Region& region);

Polygon rectangle(const Eigen::Vector2d& centre, const Eigen::Vector2d& size, double angle_rad);
double polygon_area(const Polygon& polygon);  ///< m2, signed: above 0 if anticlockwise

/// Share of the polygon's area that lies on the panel (0 to 1): 1 means that no part hangs over.
double share_on_panel(const Panel& panel, const Polygon& polygon);

/// Area that two polygons share, m2.
double overlap_area(const Polygon& a, const Polygon& b);

}  // namespace calmplate::panel
