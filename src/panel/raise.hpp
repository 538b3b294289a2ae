// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// Where the nodes of a flat sheet lie, seen from outside, once it has been bent to given heights:
/// so that lengths along the sheet stay what they were on the flat map, as nearly as the shape
/// allows. Triangle by triangle the flat map's deformation F is wanted with
///
///   F^T F = 1 - g g^T,   g the slope of the heights over the flat map,
///
/// that is, a pure turn R of S = sqrt(1 - g g^T); turns and places are settled in turn so that the
/// area-weighted squares of F - R S become least. A shape that can be unrolled comes out without
/// any change of length; on a crowned one what must stretch is spread. Source: [derived] lengths;
/// the two steps in turn as in flat_layout.hpp, which is the way back.
///
/// @param flat    [n x 2] m
/// @param height  [n] m
/// @return [n x 2] m, with the mean place of the nodes kept
/// @throws std::invalid_argument if a triangle is as steep as 0.95 along the skin, or the triangles
///         are not one sheet
FlatPoints bent_plan(const FlatPoints& flat,
                     const Triangles& triangles,
                     const Eigen::VectorXd& height);

}  // namespace calmplate::panel
