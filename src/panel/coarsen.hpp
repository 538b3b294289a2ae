// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/mesh.hpp"

namespace calmplate::panel {

/// A far coarser mesh of the same sheet: edges shorter than `edge_m` are collapsed, the shortest
/// first, in rounds of growing length (CGAL's collapse and link condition). A node stands at the
/// mean of those it took in, so much of a scan's noise goes. Rim and holes stay where they are:
/// their nodes take in only nodes along the rim, edges along it only up to 0.3 of `edge_m`, and a
/// node at which the rim turns by more than 25 degrees stays in place beside one at which it does
/// not. The mean edge comes out about half as long again as `edge_m`.
/// @param mesh  one oriented sheet whose nodes lie on one loop at most
Mesh coarsened(const Mesh& mesh, double edge_m);

}  // namespace calmplate::panel
