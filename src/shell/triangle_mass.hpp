// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "shell/bending_triangle.hpp"

namespace calmplate::shell {

/// Consistent mass of the normal displacement: w is the cubic that takes the nodes' w and slopes
/// and reproduces every quadratic. Degrees of freedom a node as in bending_stiffness.
/// @param mass_per_area  kg/m2
/// @return [9 x 9] symmetric, positive definite
/// Source: [derived] integrals of products of barycentric monomials,
///         int l1^a l2^b l3^c dA = 2 A a! b! c! / (a + b + c + 2)!.
Matrix9d bending_mass(const TriangleGeometry& geometry, double mass_per_area);

/// Normal displacement at a point as weights of the nine degrees of freedom: the cubic of
/// bending_mass. [1 x 9]
/// @param l  [3] barycentric coordinates of the point
Eigen::Matrix<double, 1, 9> deflection_at(const TriangleGeometry& geometry,
                                          const Eigen::Vector3d& l);

/// Consistent mass of one in-plane displacement component, linear in the triangle. [3 x 3]
Eigen::Matrix3d linear_mass(const TriangleGeometry& geometry, double mass_per_area);

}  // namespace calmplate::shell
