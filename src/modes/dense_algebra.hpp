// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Inside modes and reduced: dense work large enough that Eigen's own kernels, built for the oldest
// processor, would cost several times what OpenBLAS does. Called with one BLAS thread.
#include <Eigen/Core>

namespace calmplate::modes {

/// C := alpha op(A) B + beta C for column-major blocks: A [rows x inner] or, transposed,
/// [inner x rows]; lda, ldb, ldc are the distances between columns.
void multiply(bool transpose_a,
              Eigen::Index rows,
              Eigen::Index columns,
              Eigen::Index inner,
              double alpha,
              const double* a,
              Eigen::Index lda,
              const double* b,
              Eigen::Index ldb,
              double beta,
              double* c,
              Eigen::Index ldc);

/// A^T B, [A.cols() x B.cols()].
Eigen::MatrixXd transpose_times(const Eigen::MatrixXd& A, const Eigen::MatrixXd& B);
/// A B, [A.rows() x B.cols()].
Eigen::MatrixXd times(const Eigen::MatrixXd& A, const Eigen::MatrixXd& B);

/// Eigenvalues (ascending) and orthonormal eigenvectors of a dense symmetric matrix.
struct DenseEigen {
  Eigen::VectorXd value;   ///< [n]
  Eigen::MatrixXd vector;  ///< [n x n]
};
/// LAPACK's divide and conquer; only the lower triangle is read.
/// @throws std::runtime_error if it does not converge
DenseEigen symmetric_eigen(Eigen::MatrixXd A);
/// A v = value B v with v^T B v = 1; B positive definite.
/// @throws std::runtime_error if B is not positive definite or the solver does not converge
DenseEigen generalized_eigen(const Eigen::MatrixXd& A, const Eigen::MatrixXd& B);

}  // namespace calmplate::modes
