// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "panel/panel.hpp"

namespace calmplate::panel {

struct MendOptions {
  bool guess_unit = false;  ///< see PanelOptions
  /// Mend what a scan has instead of refusing it: triangles beyond two at an edge, and gaps.
  bool scan = false;
  double smallest_hole_m = 0.0;  ///< scans: gaps smaller than this across are closed
};

/// Makes one connected, consistently oriented sheet without doubled nodes from what a file held.
/// Nodes nearer together than 1e-6 of the bounding box's diagonal become one; triangles without
/// area and doubled triangles go; of several pieces that share no edge the one with the largest
/// area stays; a node where a sheet touches itself in one point is split in two. Nodes and
/// triangles keep their order. Counts go to `report`.
/// @param name  the mesh's file name, for messages
/// @throws base::InputError  no triangle with area; a coordinate that is not finite; an edge of the
///         sheet with three or more triangles (a scan: at more than 2 % of the edges); no rim (a
///         closed body; a scan: a rim of less than half of what the sheet's area takes at least);
///         a scan in pieces of which none holds a quarter of the area, or a rod; not orientable;
///         smaller than 20 mm or larger than 4 m across (longest side of the bounding box)
/// @throws std::invalid_argument  a node number out of range
Mesh mend_sheet(const Mesh& raw,
                const std::string& name,
                PanelReport& report,
                const MendOptions& options = {});

/// A mended sheet without the triangles that hang on by one edge only, taken off from the rim three
/// times over, and without what hung on by them: a scan frays at its gaps, and shreds turn over
/// when the sheet is laid flat. Counted in report.dropped_triangles.
Mesh without_shreds(const Mesh& sheet, PanelReport& report);

/// "(12.0, -3.5, 0.0) mm" for messages.
std::string place_in_mm(const Eigen::Vector3d& position_m);

}  // namespace calmplate::panel
