// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/flat_map.hpp"

namespace calmplate::panel {

/// Even triangles of a wanted size over a sheet that has been laid flat: the rim is divided evenly
/// on its own line (see sample_rim), the inside is meshed on the map (see mesh_between) and put
/// back on the skin. The spacing is corrected once or twice so that the mean edge comes within 2 %.
/// @param map     the flat map of `mesh`
/// @param scan    true to take off a scan's noise: the teeth of its rim, and what lies off quadrics
///                fitted over an element's length (see move_onto_fit)
/// @throws std::invalid_argument if the rim divided so is no outline any more because the panel is
///         too narrow somewhere for the size
Mesh remeshed(const Mesh& mesh, const FlatMap& map, double element_size_m, bool scan);

}  // namespace calmplate::panel
