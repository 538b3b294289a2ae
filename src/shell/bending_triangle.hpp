// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "shell/triangle_geometry.hpp"

namespace calmplate::shell {

using Matrix9d = Eigen::Matrix<double, 9, 9>;

/// Discrete-Kirchhoff bending triangle: thin plates, no transverse shear. Rotations of the normal
/// vary as a quadratic; the thin-plate condition holds at the corners and along the sides.
/// Degrees of freedom a node, right-handed: w, theta_x = dw/dy, theta_y = -dw/dx.
///
/// @param geometry  flat triangle
/// @param rigidity  [3 x 3] N m, bending rigidity for (kappa_x, kappa_y, 2 kappa_xy)
/// @return          [9 x 9] stiffness, symmetric, three rigid motions in its null space
/// Source: [memory] J.-L. Batoz, K.-J. Bathe, L.-W. Ho, A study of three-node triangular plate
///         bending elements, Int. J. Numer. Methods Eng. 15 (1980) 1771-1812; the matrices are
///         [derived] here from the assumptions named there and proven by the patch test.
Matrix9d bending_stiffness(const TriangleGeometry& geometry, const Eigen::Matrix3d& rigidity);

/// Curvatures (kappa_x, kappa_y, 2 kappa_xy) at a point, from the nine degrees of freedom, in the
/// sense kappa_x = d(theta_y)/dx = -d2w/dx2.
/// @param l  [3] barycentric coordinates of the point
Eigen::Matrix<double, 3, 9> curvature_matrix(const TriangleGeometry& geometry,
                                             const Eigen::Vector3d& l);

}  // namespace calmplate::shell
