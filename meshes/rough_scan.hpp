// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/mesh.hpp"

namespace calmplate::demo {

/// The same door as a hand-held scanner would give it: irregular triangles of 6 to 8 mm, 0.3 mm of
/// noise along the normal, small holes where triangles are missing, some triangles turned over, and
/// a piece of something else 50 mm in front of it. In millimetres. Always the same.
panel::Mesh rough_door_scan();

}  // namespace calmplate::demo
