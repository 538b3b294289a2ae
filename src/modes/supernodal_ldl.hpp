// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Inside modes only.
#include <Eigen/Core>
#include <Eigen/SparseCore>

#include "modes/supernodal_analysis.hpp"

namespace calmplate::modes {

/// Number of negative entries of D in P A P^T = L D L^T, L unit lower triangular, no pivoting.
/// CHOLMOD has this factorisation only without supernodes, which takes about 4 times as long.
///
/// @param analysis  whose pattern fits `lower`
/// @param lower     [n x n] lower triangle of A
/// @param size      [n] size of what makes up each diagonal entry of A, above 0
/// @return          the number, or -1 if an entry of D is below 1e-12 of its row's size: then its
///                  sign means nothing
///
/// Source: [derived] left-looking block elimination, written out in docs/theory.md "Counting
/// modes".
int negative_pivots(const SupernodalAnalysis& analysis,
                    const Eigen::SparseMatrix<double>& lower,
                    const Eigen::VectorXd& size);

}  // namespace calmplate::modes
