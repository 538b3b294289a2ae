// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

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
  /// Wanted mean edge length; 0: keep the mesh as it is. With a size, a scan's noise is taken off
  /// and holes up to 2 sizes (at most 40 mm) across and slits under 1 mm wide are closed first.
  double element_size_m = 0.0;
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
  int holes_filled = 0;  ///< small ones, see PanelOptions::element_size_m
  double noise_m = 0.0;  ///< standard deviation of a scan's nodes; 0 where it was not looked for
  bool smoothed = false;
  bool remeshed = false;
  double worst_angle_deg = 0.0;  ///< smallest triangle angle of the final mesh
  double worst_stretch = 0.0;    ///< of the flat map
};

/// Welds, orients and checks a mesh, keeps its largest connected sheet, remeshes it when asked, and
/// finds rim, holes and flat map.
/// @param name  the mesh's file name, for messages
/// @throws base::InputError if it cannot be a door skin: no triangle; a coordinate that is not
/// finite;
///         an edge with three or more triangles; a closed solid; not orientable; larger than 4 m or
///         smaller than 20 mm across (millimetres read as metres come out here); a skin that folds
///         over itself when laid flat; narrower somewhere than the element size allows
/// @throws std::invalid_argument if the element size is negative or not finite, or a triangle names
///         a node that is not there
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
