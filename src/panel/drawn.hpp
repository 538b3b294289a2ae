// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/drawn_input.hpp"
#include "panel/panel.hpp"

namespace calmplate::panel {

/// A drawn skin as a mesh in the car's axes: x to the rear along the door, z up, outside at -y (a
/// left door), and each node's place on the flat map.
struct DrawnSkin {
  Mesh mesh;
  FlatPoints flat;  ///< [n_node x 2] m, in the drawing's own positions
};

/// Meshes a drawing and bends it to its crown.
///
/// The flat map is meshed (mesh_between, sizes by SizeField) and raised by crown and swage lines so
/// that lengths along the skin are those of the drawing (bent_plan): exactly where the shape can be
/// unrolled, else to within the stretch that double curvature forces. On 1.0 x 0.6 m that is at
/// most 0.1 % with radii of 3 and 10 m and 0.33 % with 3 and 3 m, at the corners; a seventh of it
/// on most of the skin. Recesses are pressed in after that, straight inwards: their opening keeps
/// the size that was measured across it, and only their own walls are longer than on the map. A
/// plane in the crown's heights is taken off: it only turns the whole skin.
///
/// @throws base::InputError       what drawn_shape refuses; a skin that is too steep or too narrow
///                                somewhere all the same
/// @throws std::invalid_argument  element_m is not above 0
DrawnSkin draw_skin(const DrawnInput& input);

/// The drawn skin as a panel. Its flat map is the drawing itself.
/// @param corner_degrees  as in PanelOptions
Panel make_drawn_panel(const DrawnInput& input,
                       double corner_degrees = 35.0,
                       PanelReport* report = nullptr);

/// Area of the drawn skin on the flat map, m2. @throws base::InputError as drawn_shape
double drawn_area(const DrawnInput& input);

}  // namespace calmplate::panel
