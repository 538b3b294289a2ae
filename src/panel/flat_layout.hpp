// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/mesh.hpp"

namespace calmplate::panel {

/// Lays a sheet out in the plane with as little change of shape as it allows; `along` turned to +x,
/// triangles anticlockwise, position of the whole left open. Needs no disc: holes are free edges.
///
/// A sheet within 1e-7 of its diagonal of a plane is only turned. Any other starts from the
/// least-squares conformal map (above 20000 nodes, where that is slow, from the shadow on the mean
/// plane if nothing folds over in it) and is then made as rigid as possible: each triangle is
/// turned into the plane, and the nodes are placed so that the cotangent-weighted squares of what
/// the triangles disagree about become least; both in turn until no node moves by more than
/// `tolerance` of the diagonal or 400 rounds are over. A sheet that can be unrolled comes out
/// without any change of length. The result is scaled so that its area is that of the sheet.
///
/// Source: [memory] Liu, Zhang, Xu, Gotsman & Gortler 2008 (local and global step); Levy et al.
/// 2002 (conformal start, through CGAL). Checked by [derived] unrolled lengths in tests/panel.
///
/// @param mesh   one connected, oriented sheet
/// @param along  3-D direction that x follows
/// @return [n_node x 2] m
/// @throws std::invalid_argument if a triangle comes out turned over or without area, if the rim
///         crosses itself on the map, or if `along` is within 1e-3 rad of the mean normal
FlatPoints lay_flat(const Mesh& mesh, const Eigen::Vector3d& along, double tolerance);

}  // namespace calmplate::panel
