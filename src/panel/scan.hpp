// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/panel.hpp"

namespace calmplate::panel {

/// Flips and collapses away triangles that are lower than 1e-6 of the diagonal. Counted in
/// report.degenerate_triangles. A mesh without such triangles is returned as it is.
Mesh without_slivers(const Mesh& mesh, PanelReport& report);

/// Closes small holes: those at most `across_m` across, and slits of less than 1 mm mean width
/// (twice the area by the length round). They are what a scanner missed, or too small to matter to
/// a panel meshed at this size. The outer rim (the longest loop) is left alone. The patch continues
/// the skin's curvature (CGAL). Counted in report.holes_filled.
Mesh with_small_holes_closed(const Mesh& mesh, double across_m, PanelReport& report);

/// Largest hole that is closed: as the options say, else 2 element sizes and at most 40 mm.
/// Source of the limits: [practice] no source.
double smallest_hole(const PanelOptions& options);

/// True for a scan that has to be smoothed when it is meshed with this size: noise above 0.05 mm
/// and nodes nearer together than 0.7 sizes.
bool is_noisy(double noise_m, const Mesh& mesh, double element_size_m);

/// The same skin in triangles of about the given size (CGAL isotropic remeshing, the rim kept). For
/// meshes whose triangles are too bad to be laid flat.
Mesh evened_out(const Mesh& mesh, double size_m);

}  // namespace calmplate::panel
