// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

namespace calmplate::reduced {

/// a x, column by column. OpenBLAS 0.3.21's own complex product of a matrix with a vector has been
/// seen to read outside its arguments.
/// @param a  [n x m]
/// @param x  [m]
inline Eigen::VectorXcd complex_times(const Eigen::MatrixXcd& a, const Eigen::VectorXcd& x) {
  Eigen::VectorXcd y = Eigen::VectorXcd::Zero(a.rows());
  for (Eigen::Index j = 0; j < a.cols(); ++j) y += x(j) * a.col(j);
  return y;
}

}  // namespace calmplate::reduced
