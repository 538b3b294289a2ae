// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// A node on the rim of a mesh to be made.
struct RimSample {
  Eigen::Vector3d place;  ///< on the skin, m
  Eigen::Vector2d flat;   ///< on the flat map, m
};

/// One closed loop of samples with the panel on its left; the first is not repeated.
using RimSamples = std::vector<RimSample>;

/// Divides the rim and every hole into equal lengths of about `size_m`, on the very lines of the
/// mesh. Corners stay: places that turn by more than 25 degrees at one node (of several within half
/// a size the sharpest) and, for rounded ones, over a chord (see corners()). A loop without corners
/// gets at least 8 samples. Where another stretch of rim is nearer than 0.75 of a length, lengths
/// are halved, at most twice, so that narrow bridges get triangles of their own size.
/// @param ragged  true for a scan: the teeth of its rim are first taken off by the mean over up to
///                `size_m` either way along the rim, corners kept
/// @return the outer rim first, then the holes by falling area
std::vector<RimSamples> sample_rim(const Mesh& mesh,
                                   const FlatPoints& flat,
                                   double size_m,
                                   bool ragged);

}  // namespace calmplate::panel
