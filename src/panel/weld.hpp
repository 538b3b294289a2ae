// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// For every node the first node that stays and lies within the tolerance of it; itself if there is
/// none, and then it stays. Nodes are taken in order.
/// @param nodes      finite
/// @param tolerance  m, above 0 and at least 1e-7 of the largest extent of the nodes
/// @return [n_node]
std::vector<int> welded(const Nodes& nodes, double tolerance);

}  // namespace calmplate::panel
