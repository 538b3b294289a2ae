// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "panel/panel.hpp"

namespace calmplate::panel {

/// Of the triangles at an edge that has three or more, leaves the two that carry on most smoothly
/// into each other and takes the others away: frames, ribs and shreds that a scan has grown onto
/// the skin. Counted in report.dropped_triangles.
Mesh without_crowded_edges(const Mesh& mesh, PanelReport& report);

/// Closes gaps of at most 40 edges and `across_m` across by triangles between their own nodes
/// (CGAL): what a scanner left out. Gaps that meet at one node are told apart by going round each
/// of them, so a sheet with one triangle in twenty missing closes at once. The longest loop is the
/// sheet's rim and stays. Counted in report.holes_filled.
/// @param mesh  consistently oriented; a node may belong to several gaps
void close_gaps(Mesh& mesh, double across_m, PanelReport& report);

/// Closes bites out of the rim (the longest loop), where a scanner lost the skin's edge: stretches
/// whose ends are at most `across_m` apart and that enclose at least 0.3 of that distance squared
/// on the empty side (one missing triangle: 0.43; a square inner corner: 0.25). Counted in
/// report.holes_filled.
/// @param mesh  consistently oriented, every node on one loop at most
void close_bites(Mesh& mesh, double across_m, PanelReport& report);

}  // namespace calmplate::panel
