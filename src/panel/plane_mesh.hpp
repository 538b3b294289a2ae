// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
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

/// As above with a spacing that changes from place to place: lattices of spacing `coarsest` and its
/// halves, each where the wanted size asks for it, smoothed into each other.
/// @param rows  [n x 2] inner points that stay where they are; those off the region or nearer than
///              0.6 sizes to a loop or to an earlier one are left out
/// @param size  wanted side at a place, m, from `finest` to `coarsest`; should change by less than
/// a
///              third of the distance
PlaneMesh mesh_between(const std::vector<FlatPoints>& loops,
                       const FlatPoints& rows,
                       double coarsest,
                       double finest,
                       const std::function<double(const Eigen::Vector2d&)>& size);

}  // namespace calmplate::panel
