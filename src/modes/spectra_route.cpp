// SPDX-License-Identifier: GPL-3.0-or-later
#include <Spectra/SymEigsSolver.h>

#include <algorithm>

#include "modes/mode_operator.hpp"

namespace calmplate::modes {

RitzPairs spectra_largest(const ModeOperator& op, Eigen::Index count, double tolerance) {
  constexpr Eigen::Index kMaxRestarts = 300;
  const Eigen::Index ncv = std::min(op.rows(), std::max<Eigen::Index>(2 * count, count + 20));
  // The solver only reads the operator, but its constructor wants it writable.
  Spectra::SymEigsSolver<ModeOperator> solver(const_cast<ModeOperator&>(op), count, ncv);
  solver.init();  // Spectra's fixed start vector
  solver.compute(
      Spectra::SortRule::LargestAlge, kMaxRestarts, tolerance, Spectra::SortRule::LargestAlge);
  RitzPairs pairs;
  pairs.theta = solver.eigenvalues();
  pairs.y = solver.eigenvectors();
  pairs.converged = solver.info() == Spectra::CompInfo::Successful;
  return pairs;
}

}  // namespace calmplate::modes
