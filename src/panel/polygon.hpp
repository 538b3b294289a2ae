// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/cover.hpp"

namespace calmplate::panel {

/// Corner points of a small polygon while it is being clipped.
using Corners = std::vector<Eigen::Vector2d>;

Corners to_corners(const Polygon& polygon);
Polygon to_polygon(const Corners& corners);

/// Signed area, above 0 if anticlockwise, summed about the first corner. m2
double signed_area(const Corners& corners);

/// True if the polygon turns left (anticlockwise) at every corner and goes round once.
bool is_convex(const Corners& corners);

/// Part of `subject` inside the convex anticlockwise polygon `window`, by clipping at one side
/// after the other. A subject that is not convex may come out with edges that run back along
/// themselves: its area is right all the same. `work` is scratch space. Source: [memory] Sutherland
/// & Hodgman 1974; checked by [derived] areas in tests/panel.
void clip(Corners& subject, const Corners& window, Corners& work);

/// Polygon operations on exact numbers (CGAL). Loops come back signed: outer boundaries
/// anticlockwise, holes in them clockwise.
/// @throws std::invalid_argument if a polygon has under three corners, no area or crosses itself
std::vector<Corners> united(const std::vector<Corners>& polygons);
/// `from` minus everything in `holes`; `from` as signed loops, see united().
std::vector<Corners> subtracted(const std::vector<Corners>& from,
                                const std::vector<Corners>& holes);
std::vector<Corners> intersected(const std::vector<Corners>& a, const std::vector<Corners>& b);

}  // namespace calmplate::panel
