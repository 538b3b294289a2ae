// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// The crown of a whole sheet in three figures that noise hardly touches.
struct Crown {
  double mean_height_m = 0.0;  ///< over the plane through the rim: the volume under the skin / area
  double along_1_m = 0.0;      ///< curvature along the panel, 1/m, above 0 for a bulge outwards
  double up_1_m = 0.0;         ///< curvature across that, 1/m
  double mean_curvature() const { return 0.5 * (along_1_m + up_1_m); }
};

/// A plane through the rim of a sheet.
struct RimPlane {
  Eigen::Vector3d origin, along, up, normal;
};

/// Plane of least squares through the longest loop, weighted by length; `along` is the part of the
/// given direction in it, the normal points to where the triangles run anticlockwise.
/// @param mesh  one oriented sheet with a rim, `along` not normal to it
RimPlane rim_plane(const Mesh& mesh, const Eigen::Vector3d& along);

/// Mean height and the curvatures of the quadric of least squares over the plane, both weighted by
/// the triangles' areas as seen along the normal.
Crown crown_of(const Mesh& mesh, const RimPlane& plane);

}  // namespace calmplate::panel
