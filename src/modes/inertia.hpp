// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/SparseCore>

#include "modes/cholesky_factor.hpp"

namespace calmplate::modes {

/// Number of eigenvalues of K x = lambda M x below a limit.
struct InertiaCount {
  int below = 0;       ///< eigenvalues below `limit`, each as often as it occurs
  double limit = 0.0;  ///< the limit really used: the one asked for, nudged if it was too close
  bool safe = true;    ///< false: no limit near the one asked for gave sound pivots
};

/// Counts the negative pivots of K - limit M = L D L^T (no pivoting). By Sylvester's law of inertia
/// that is the number of eigenvalues below the limit, whatever the masses of single rows are.
///
/// A pivot smaller than 1e-12 of its diagonal's own size means that the limit lies on an eigenvalue
/// of the matrix or of a leading part of it: the limit is then raised by 1e-9 of itself and the
/// work repeated, up to five times, the nudge growing tenfold each time.
///
/// @param K      [n x n] symmetric, positive semi-definite; lower triangle read
/// @param M      [n x n] symmetric, positive semi-definite; lower triangle read. A direction in
///               which M vanishes must be stiff in K: it then counts as an infinite eigenvalue.
/// @param limit  rad2/s2, finite
/// @throws std::invalid_argument  if the sizes differ, a matrix is empty or a number is not finite
/// @param like   a factor whose ordering is used if its pattern is that of K - limit M; may be null
/// @throws std::runtime_error     if memory runs out
///
/// Source: [derived] Sylvester's law of inertia; docs/theory.md "Counting modes".
InertiaCount count_below(const Eigen::SparseMatrix<double>& K,
                         const Eigen::SparseMatrix<double>& M,
                         double limit,
                         const CholeskyFactor* like = nullptr);

}  // namespace calmplate::modes
