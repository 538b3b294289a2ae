// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

namespace calmplate::modes {

/// x with a x = b, by LAPACK's LU with row exchanges and nothing beside it: Eigen's own wrapper
/// also takes the norm of every matrix, which costs as much as the factors of a small one.
/// @param a  [n x n], n >= 1; holds the factors afterwards
/// @param b  [n]
/// @throws std::invalid_argument  if sizes differ
/// @throws std::runtime_error     if the matrix is singular
Eigen::VectorXcd solve_in_place(Eigen::MatrixXcd& a, Eigen::VectorXcd b);

}  // namespace calmplate::modes
