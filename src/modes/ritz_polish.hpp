// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Inside modes only: from a way to find eigenpairs of S to modes of (K, M).
#include "modes/eigen_solve.hpp"
#include "modes/mode_operator.hpp"

namespace calmplate::modes {

/// The `count` largest eigenpairs of S: densely for small or nearly full problems, else by block
/// Lanczos. Pairs of massless directions are left out.
/// @param attempt  0 first; 1 wider blocks from another start, for a mode that the count says is
///                 missing; 2 Spectra's Lanczos
RitzPairs largest_pairs(const ModeOperator& op, Eigen::Index count, double tolerance, int attempt);

/// One inverse-iteration step for all pairs at once, x = (K - shift M)^-1 M x, then the best
/// combination of the vectors (Rayleigh-Ritz). The step divides what is left of every mode j in
/// shape i by (w2_j - shift) / (w2_i - shift), so that stiff directions, which dominate the
/// residual, vanish. Gives omega2, shape (in the caller's row order) and complete.
ModeSet polished(const ModeOperator& op,
                 RitzPairs pairs,
                 const CholeskyFactor& factor,
                 double shift);

/// ModeSet::residual.
Eigen::VectorXd residuals(const Eigen::SparseMatrix<double>& K,
                          const Eigen::SparseMatrix<double>& M,
                          const Eigen::VectorXd& omega2,
                          const Eigen::MatrixXd& shape,
                          double shift);

/// [n x m] numbers between -1 and 1, always the same for the same seed, on every machine.
Eigen::MatrixXd start_block(Eigen::Index n, Eigen::Index m, unsigned seed);

}  // namespace calmplate::modes
