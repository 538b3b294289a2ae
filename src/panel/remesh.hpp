// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/flat_map.hpp"
#include "panel/scan_points.hpp"

namespace calmplate::panel {

/// Where a scan's points say that the skin runs, for the nodes of the new mesh.
struct ScanSkin {
  const ScanPoints* points = nullptr;  ///< null: the nodes stay on the mesh
  double noise_m = 0.0;
  bool ragged = false;  ///< the rim has teeth to be taken off
};

/// Even triangles of a wanted size over a sheet that has been laid flat: the rim is divided evenly
/// on its own line (see sample_rim), the inside is meshed on the map (see mesh_between) and put
/// back on the skin: on the mesh, or where a scan's points have it (see ScanPoints::foot). The
/// spacing is corrected once or twice so that the mean edge comes within 2 %.
/// @param map     the flat map of `mesh`
/// @throws std::invalid_argument if the rim divided so is no outline any more because the panel is
///         too narrow somewhere for the size
Mesh remeshed(const Mesh& mesh, const FlatMap& map, double element_size_m, const ScanSkin& scan);

}  // namespace calmplate::panel
