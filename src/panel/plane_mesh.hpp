// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// A triangulation in the plane.
struct PlaneMesh {
  FlatPoints points;    ///< [n_point x 2] m; the loops' points come first, in their order
  Triangles triangles;  ///< [n_tri x 3] anticlockwise, ordered by node number
};

/// Fills the space between an outer loop and the holes in it with triangles as near to equilateral
/// as the loops allow: a lattice of equilateral triangles inside, joined to the loops by a
/// constrained Delaunay triangulation (CGAL), and the inner points moved in turn to the
/// area-weighted mean of their triangles' centroids. No point is added to a loop. CGAL's own
/// smoothing and refinement walk over sets of addresses and so differ from run to run; this does
/// not.
/// @param loops    [loop][point], outer first; consecutive points differ
/// @param spacing  side of the lattice's triangles, m
/// @throws std::invalid_argument saying where on the map, if two loop edges cross or two points
/// coincide
PlaneMesh mesh_between(const std::vector<FlatPoints>& loops, double spacing);

}  // namespace calmplate::panel
