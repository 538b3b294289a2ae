// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <cstddef>
#include <memory>
#include <stdexcept>
#include <string>

namespace calmplate::modes {

class SupernodalAnalysis;

/// A matrix that should be positive definite is not: some part of it is loose or turned round.
class NotPositiveDefinite : public std::runtime_error {
 public:
  explicit NotPositiveDefinite(Eigen::Index dof);
  /// Row of the matrix (counted from 0) at whose pivot the factorisation stopped. The loose part
  /// contains this row, but need not be this row alone.
  Eigen::Index dof() const noexcept { return dof_; }

 private:
  Eigen::Index dof_;
};

/// P A P^T = L L^T of a sparse symmetric positive definite matrix, kept for many solves.
///
/// CHOLMOD's supernodal factorisation with METIS ordering, one thread, OpenBLAS inside. All const
/// members may be called from several threads at once. The same input gives the same bytes on the
/// same machine, whatever else runs beside it.
class CholeskyFactor {
 public:
  /// @param A  [n x n] symmetric; only its lower triangle is read, so both storages serve
  /// @throws std::invalid_argument  if A is empty, not square or holds a number that is not finite
  /// @throws NotPositiveDefinite    if a pivot is not above 0
  /// @throws std::runtime_error     if memory runs out
  explicit CholeskyFactor(const Eigen::SparseMatrix<double>& A);
  ~CholeskyFactor();
  CholeskyFactor(CholeskyFactor&&) noexcept;
  CholeskyFactor& operator=(CholeskyFactor&&) noexcept;

  /// Factorises other values. The ordering and the symbolic work are kept if the lower triangle has
  /// the same pattern as before. After a throw the object can only be refactored or destroyed.
  /// Errors as the constructor.
  void refactor(const Eigen::SparseMatrix<double>& A);

  Eigen::Index size() const noexcept;
  /// Numbers stored in L, zeros inside supernodes included.
  std::size_t nnz_l() const noexcept;
  /// Bytes held by L and its indices.
  std::size_t bytes() const noexcept;

  /// A^-1 b. Columns are taken in blocks of 16 (one at a time costs 4 to 5 times as much each);
  /// the blocks are shared among the threads and the result does not depend on their number.
  /// @param b        [n x m], any m
  /// @param threads  1 or more
  /// @return         [n x m]
  /// @throws std::invalid_argument  if b has not n rows or threads is 0
  /// @throws std::logic_error       if the last factorisation failed
  Eigen::MatrixXd solve(const Eigen::MatrixXd& b, unsigned threads = 1) const;
  /// L^-1 P b, [n x m]. Errors as solve.
  Eigen::MatrixXd half_solve(const Eigen::MatrixXd& b) const;
  /// P^T L^-T y, [n x m]: the other half, so that solve(b) = half_solve_back(half_solve(b)).
  Eigen::MatrixXd half_solve_back(const Eigen::MatrixXd& y) const;

  /// [n] row k of P x is row permutation()[k] of x.
  const Eigen::VectorXi& permutation() const noexcept;
  /// y := L^-1 y and y := L^-T y for m columns of length n, one behind the other in memory.
  void lower_solve_in_place(double* y, Eigen::Index m) const;
  void upper_solve_in_place(double* y, Eigen::Index m) const;

  /// Smallest pivot divided by its diagonal entry of A, in (0, 1], and its row in A. About 1e-14
  /// means that A is singular but for rounding, and weakest_dof lies in the part that is loose.
  double weakest_pivot() const noexcept;
  Eigen::Index weakest_dof() const noexcept;

  /// Ordering and supernodes; for this folder's own use.
  const SupernodalAnalysis& analysis() const noexcept;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

/// What the linked BLAS says it is, such as "OpenBLAS 0.3.21 ...", and its number of threads.
std::string blas_config();
int blas_threads();

}  // namespace calmplate::modes
