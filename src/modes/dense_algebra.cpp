// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/dense_algebra.hpp"

#include <cblas.h>
#include <lapacke.h>

#include <Eigen/Cholesky>
#include <stdexcept>
#include <utility>

namespace calmplate::modes {

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
              Eigen::Index ldc) {
  if (rows == 0 || columns == 0) return;
  cblas_dgemm(CblasColMajor,
              transpose_a ? CblasTrans : CblasNoTrans,
              CblasNoTrans,
              static_cast<int>(rows),
              static_cast<int>(columns),
              static_cast<int>(inner),
              alpha,
              a,
              static_cast<int>(lda),
              b,
              static_cast<int>(ldb),
              beta,
              c,
              static_cast<int>(ldc));
}

Eigen::MatrixXd transpose_times(const Eigen::MatrixXd& A, const Eigen::MatrixXd& B) {
  Eigen::MatrixXd C = Eigen::MatrixXd::Zero(A.cols(), B.cols());
  multiply(true,
           A.cols(),
           B.cols(),
           A.rows(),
           1.0,
           A.data(),
           A.rows(),
           B.data(),
           B.rows(),
           0.0,
           C.data(),
           C.rows());
  return C;
}

Eigen::MatrixXd times(const Eigen::MatrixXd& A, const Eigen::MatrixXd& B) {
  Eigen::MatrixXd C = Eigen::MatrixXd::Zero(A.rows(), B.cols());
  multiply(false,
           A.rows(),
           B.cols(),
           A.cols(),
           1.0,
           A.data(),
           A.rows(),
           B.data(),
           B.rows(),
           0.0,
           C.data(),
           C.rows());
  return C;
}

DenseEigen symmetric_eigen(Eigen::MatrixXd A) {
  DenseEigen result;
  const int n = static_cast<int>(A.rows());
  if (n == 0) return result;
  result.value.resize(n);
  const int info = LAPACKE_dsyevd(LAPACK_COL_MAJOR, 'V', 'L', n, A.data(), n, result.value.data());
  if (info != 0) throw std::runtime_error("dense eigenvalue solver did not converge");
  result.vector = std::move(A);
  return result;
}

DenseEigen generalized_eigen(const Eigen::MatrixXd& A, const Eigen::MatrixXd& B) {
  const Eigen::LLT<Eigen::MatrixXd> llt(B);
  if (llt.info() != Eigen::Success)
    throw std::runtime_error("dense mass matrix is not positive definite");
  Eigen::MatrixXd C = A.selfadjointView<Eigen::Lower>();
  llt.matrixL().solveInPlace(C);
  Eigen::MatrixXd Ct = C.transpose();
  llt.matrixL().solveInPlace(Ct);
  DenseEigen result = symmetric_eigen(std::move(Ct));
  llt.matrixU().solveInPlace(result.vector);
  return result;
}

}  // namespace calmplate::modes
