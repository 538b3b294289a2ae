// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/flat_map.hpp"
#include "panel/panel.hpp"

namespace calmplate::panel {

/// The boundary loops of a laid-out sheet: the outer one (largest area on the map) first, then the
/// holes by falling area. Triangles lie on the left of each loop.
std::vector<std::vector<int>> ordered_loops(const Triangles& triangles, const FlatPoints& points);

/// Length of the chord on either side of a node over which the turning of a loop is measured:
/// the longest of 30 mm, a fortieth of the loop and two of its mean edges, but at most a sixteenth
/// of the loop. On a door with a rim of 3 m the chord is 75 mm, and a corner counts up to a radius
/// of about 120 mm. Chords do not see the teeth of a scanned rim. Source: [practice] no source.
double corner_chord(const FlatPoints& loop);

/// Positions in a closed loop at which it turns by more than `degrees`: nodes where the angle
/// between the chord that arrives and the chord that leaves is largest, one within a chord's
/// length.
/// @param loop  [n x 2] m, corner points in order, first not repeated
/// @return in order along the loop; empty if there is no corner
std::vector<int> corners(const FlatPoints& loop, double degrees);

/// The named parts of the rim, see RimPart: the outer rim's parts anticlockwise, then the holes
/// (clockwise, closed). Of several parts that face one side the longest has the plain name and the
/// next is "-2". An outer rim with fewer than two corners is one closed part called "rim".
/// Lengths are those on the skin.
std::vector<RimPart> rim_parts(const Mesh& mesh, const FlatPoints& points, double corner_degrees);

}  // namespace calmplate::panel
