// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "shell/bending_triangle.hpp"

namespace calmplate::shell {

/// Optimal membrane triangle with drilling rotations. Degrees of freedom a node: u, v, theta_z.
/// The basic part (free parameter alpha = 3/2) passes the patch test; the higher-order part makes
/// in-plane bending exact for a rectangle of two triangles.
///
/// @param geometry  flat triangle
/// @param stretch   [3 x 3] N/m, membrane stiffness for (eps_x, eps_y, gamma_xy)
/// @param poisson   of the material, sets the higher-order part's weight
/// @return          [9 x 9] stiffness, symmetric, three rigid motions in its null space
/// Source: [memory] C. A. Felippa, A study of optimal membrane triangles with drilling freedoms,
///         Comput. Methods Appl. Mech. Eng. 192 (2003) 2125-2168; proven here by the patch test,
///         the rigid-body test and in-plane bending of a strip.
Matrix9d membrane_stiffness(const TriangleGeometry& geometry,
                            const Eigen::Matrix3d& stretch,
                            double poisson);

/// Plane-stress stiffness for (xx, yy, xy) per unit thickness, Pa.
Eigen::Matrix3d plane_stress(double young_pa, double poisson);

}  // namespace calmplate::shell
