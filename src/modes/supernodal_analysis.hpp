// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Inside modes only: it shows CHOLMOD.
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

#include "modes/cholmod_session.hpp"

namespace calmplate::modes {

/// Ordering and supernodes of a pattern: what the Cholesky factor and the inertia count share.
///
/// Supernode s holds the columns column[s] to column[s+1]-1 of L. Its rows are row[row_start[s]] to
/// row[row_start[s+1]-1], the columns themselves first, and its numbers are one dense block,
/// column-major, from value_start[s] on.
class SupernodalAnalysis {
 public:
  /// @param lower  from checked_lower
  /// @throws std::runtime_error if memory runs out
  explicit SupernodalAnalysis(Eigen::SparseMatrix<double>& lower);
  ~SupernodalAnalysis();
  SupernodalAnalysis(const SupernodalAnalysis&) = delete;
  SupernodalAnalysis& operator=(const SupernodalAnalysis&) = delete;

  /// True if `lower` has the pattern that was analysed.
  bool fits(const Eigen::SparseMatrix<double>& lower) const;

  int supernodes() const { return static_cast<int>(factor_->nsuper); }
  std::size_t values() const { return factor_->xsize; }
  const int* column() const { return static_cast<const int*>(factor_->super); }
  const int* row_start() const { return static_cast<const int*>(factor_->pi); }
  const int* value_start() const { return static_cast<const int*>(factor_->px); }
  const int* row() const { return static_cast<const int*>(factor_->s); }
  /// [n] row k of P x is row permutation()[k] of x.
  const Eigen::VectorXi& permutation() const { return permutation_; }

  cholmod_factor* factor() const { return factor_; }
  CholmodSession& session() { return session_; }

 private:
  CholmodSession session_;
  cholmod_factor* factor_ = nullptr;
  std::vector<int> outer_, inner_;
  Eigen::VectorXi permutation_;
};

}  // namespace calmplate::modes
