// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/panel.hpp"

namespace calmplate::panel {

/// Flips and collapses away triangles that are lower than 1e-6 of the diagonal. Counted in
/// report.degenerate_triangles. A mesh without such triangles is returned as it is.
Mesh without_slivers(const Mesh& mesh, PanelReport& report);

/// Closes small holes: those at most 2 element sizes and 40 mm across, and slits of less than 1 mm
/// mean width (twice the area by the length round). They are what a scanner missed, or too small to
/// matter to a panel meshed at this size. The outer rim (the longest loop) is left alone. The patch
/// continues the skin's curvature (CGAL). Counted in report.holes_filled.
/// Source of the limits: [practice] no source.
Mesh with_small_holes_closed(const Mesh& mesh, double element_size_m, PanelReport& report);

/// Standard deviation of a scan's noise across the skin, m: the median distance of up to 2000 nodes
/// from a quadric fitted through about 18 nodes round them (CGAL's jet fitting), divided by 0.57. A
/// drawn mesh comes out with next to nothing.
/// Source of 0.57: [derived] in tests/panel/scan_test.cpp, from noise of known size.
/// @param flat  [n_node x 2] the mesh on its flat map
double scan_noise(const Mesh& mesh, const FlatPoints& flat);

/// True for a scan that has to be smoothed when it is meshed with this size: noise above 0.05 mm
/// and nodes nearer together than 0.7 sizes.
bool is_noisy(double noise_m, const Mesh& mesh, double element_size_m);

/// Moves nodes that lie on a noisy scan onto quadrics through the scan's nodes within `radius_m` on
/// the map. That leaves a crown of even curvature as it is, and at the rim too.
/// @param scan, scan_flat  the scan and its flat map
/// @param flat   [n x 2] the nodes on the same map
/// @param nodes  [n x 3] m, moved
void move_onto_fit(const Mesh& scan,
                   const FlatPoints& scan_flat,
                   double radius_m,
                   const FlatPoints& flat,
                   Nodes& nodes);

/// The same skin in triangles of about the given size (CGAL isotropic remeshing, the rim kept). For
/// meshes whose triangles are too bad to be laid flat.
Mesh evened_out(const Mesh& mesh, double size_m);

}  // namespace calmplate::panel
