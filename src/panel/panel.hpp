// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "panel/crown.hpp"
#include "panel/flat_map.hpp"
#include "panel/mesh.hpp"

namespace calmplate::panel {

/// A stretch of the panel's boundary with a name that a job can use.
/// The outer rim is cut at its corners into parts named for the side of the flat map that they
/// face: "bottom", "right", "top", "left" ("top-2" for a second one); holes are "hole-1" (largest)
/// onwards. "rim" means the whole outer rim, "holes" every hole, "all" both.
struct RimPart {
  std::string name;
  std::vector<int>
      nodes;  ///< in order along the rim; a closed part repeats its first node at the end
  double length_m = 0.0;
  bool hole = false;
};

/// A door skin ready for analysis.
struct Panel {
  Mesh mesh;
  Nodes normals;  ///< [n_node x 3] unit, pointing out of the car
  FlatMap flat;
  std::vector<RimPart> rim;
  /// [n_node] m, from each node to the outer rim and to the nearest hole, straight on the flat map;
  /// hole distances are infinite where there is no hole.
  Eigen::VectorXd rim_distance_m, hole_distance_m;
  double area_m2 = 0.0;
  double element_size_m = 0.0;  ///< mean edge length
};

struct PanelOptions {
  /// Wanted mean edge length; 0: keep the mesh as it is. With a size, the mesh is treated as a
  /// scan: ribs and frames grown onto it are taken off, small holes and slits under 1 mm wide
  /// closed, noise smoothed away.
  double element_size_m = 0.0;
  /// Holes smaller than this across are closed; not set: 2 element sizes, at most 40 mm.
  std::optional<double> smallest_hole_m;
  /// Standard deviation of a scan's points across the skin; 0: no smoothing; not set: measured.
  std::optional<double> scan_noise_m;
  /// Nodes come in the file's own unit, which is told from the sheet's size, see guess_unit().
  bool guess_unit = false;
  double corner_degrees = 35.0;  ///< the rim is cut where it turns by more than this
  Eigen::Vector3d along = Eigen::Vector3d::UnitX();  ///< 3-D direction of the flat map's x
  /// 3-D direction that points out of the car; zero: the side to which the skin bulges (for a flat
  /// panel: the side from which its triangles run anticlockwise)
  Eigen::Vector3d outward = Eigen::Vector3d::Zero();
};

/// What was found and mended in a mesh on the way to a panel; for messages and `check`.
struct PanelReport {
  int duplicate_nodes = 0;
  int degenerate_triangles = 0;
  int flipped_triangles = 0;
  int islands_dropped = 0;
  int dropped_triangles = 0;
  int holes_filled = 0;      ///< small ones, see PanelOptions::smallest_hole_m
  std::string guessed_unit;  ///< "m", "cm", "mm" or "inch"; empty: it was given
  int scan_triangles = 0;    ///< of the sheet before it was meshed anew
  double noise_m = 0.0;  ///< standard deviation of a scan's nodes; 0 where it was not looked for
  bool smoothed = false;
  Crown scanned, kept;  ///< crown of a smoothed scan before and after, over the same plane
  bool remeshed = false;
  double worst_angle_deg = 0.0;  ///< smallest triangle angle of the final mesh
  double worst_stretch = 0.0;    ///< of the flat map
};

/// Welds, orients and checks a mesh, keeps its largest connected sheet, remeshes it when asked, and
/// finds rim, holes and flat map.
/// @param name  the mesh's file name, for messages
/// @throws base::InputError if it cannot be a door skin: no triangle; a coordinate that is not
///         finite; an edge with three or more triangles (a scan: many of them); a closed solid or
///         nearly so; a heap of loose pieces; a rod; not orientable; larger than 4 m or smaller
///         than 20 mm across (millimetres read as metres come out here); a unit that cannot be
///         guessed; a skin that folds over itself when laid flat; narrower somewhere than the
///         element size allows
/// @throws std::invalid_argument if a length of the options is negative or not finite, or a
/// triangle
///         names a node that is not there
Panel make_panel(const Mesh& raw,
                 const PanelOptions& options,
                 const std::string& name,
                 PanelReport* report = nullptr);

/// A panel from a sheet that is ready for analysis and whose flat map is known.
/// @param corner_degrees  as in PanelOptions
/// @param report  gets the angles and the stretch; the rest stays as it is
Panel panel_on_map(Mesh mesh, FlatMap flat, double corner_degrees, PanelReport* report = nullptr);

/// The parts that a name means: a part's own name, "rim", "holes" or "all".
/// @return indices into panel.rim, empty if nothing has that name
std::vector<int> parts_named(const Panel& panel, const std::string& name);

}  // namespace calmplate::panel
