// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Inside modes only.
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <atomic>

#include "base/progress.hpp"
#include "modes/cholesky_factor.hpp"

namespace calmplate::modes {

/// S = s L^-1 (P M P^T) L^-T, where P (K - sigma M) P^T = L L^T: symmetric, and
///
///   K x = lambda M x   <=>   S y = theta y,  x = P^T L^-T y,  theta = s / (lambda - sigma),
///
/// so the lowest modes are the largest theta, and massless directions are theta = 0, out of the
/// way. All vectors here are in the factor's own row order. Source: derived; put x = P^T L^-T y
/// into (K - sigma M) x = (lambda - sigma) M x.
class ModeOperator {
 public:
  using Scalar = double;

  /// @param factor  of K - sigma M; must outlive this object
  /// @param M       [n x n] symmetric, lower triangle read
  /// @param scale   s, above 0: brings theta near 1
  ModeOperator(const CholeskyFactor& factor,
               const Eigen::SparseMatrix<double>& M,
               double scale,
               unsigned threads,
               const base::Progress& progress);

  Eigen::Index rows() const { return n_; }
  Eigen::Index cols() const { return n_; }
  double scale() const { return scale_; }
  unsigned threads() const { return threads_; }

  /// out := S y for m columns of length n; y and out may be the same. Asks `progress` for cancel.
  void apply(const double* y, double* out, Eigen::Index m) const;
  /// The same for one column: the name Spectra calls.
  void perform_op(const double* y, double* out) const { apply(y, out, 1); }

  /// P M P^T x, [n x m].
  Eigen::MatrixXd mass_times(const Eigen::MatrixXd& x) const;
  /// L^-T y in place, [n x m]: from y to the shape x in the factor's row order.
  void to_shape(Eigen::MatrixXd& y) const;

  /// Columns that went through apply so far.
  long applications() const { return applications_; }

 private:
  void mass_block(const double* x, double* out, Eigen::Index m) const;

  const CholeskyFactor* factor_;
  Eigen::SparseMatrix<double> mass_;  // P M P^T, both triangles
  Eigen::Index n_;
  double scale_;
  unsigned threads_;
  base::Progress progress_;
  mutable std::atomic<long> applications_{0};
};

/// The largest eigenpairs of S.
struct RitzPairs {
  Eigen::VectorXd theta;  ///< [k] descending
  Eigen::MatrixXd y;      ///< [n x k] orthonormal
  bool converged = false;
  bool stepped = false;  ///< y already holds S y / theta, the inverse-iteration step
};

/// Block Lanczos without restart: several right-hand sides at once cost a fraction each, products
/// with the whole basis are matrix-matrix, and repeated eigenvalues come out together as long as
/// they repeat no more than `width` times.
/// Holds about 2.5 count to 4 count vectors of length n, and gives up at 5 count + 20 width.
/// @param count      1 to n
/// @param width      columns of a block, 1 or more
/// @param tolerance  on ||S y - theta y|| / theta
/// @param seed       another start block for each number
RitzPairs block_largest(const ModeOperator& op,
                        Eigen::Index count,
                        Eigen::Index width,
                        double tolerance,
                        unsigned seed);

/// Spectra's restarted Lanczos, one vector at a time.
/// @param count      1 to n - 2
/// @param tolerance  on ||S y - theta y|| / theta
RitzPairs spectra_largest(const ModeOperator& op, Eigen::Index count, double tolerance);

}  // namespace calmplate::modes
