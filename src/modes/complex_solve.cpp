// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/complex_solve.hpp"

#include <lapacke.h>

#include <stdexcept>
#include <vector>

namespace calmplate::modes {

Eigen::VectorXcd solve_in_place(Eigen::MatrixXcd& a, Eigen::VectorXcd b) {
  const int n = static_cast<int>(a.rows());
  if (n < 1 || a.cols() != n || b.size() != n)
    throw std::invalid_argument("solve_in_place: a square matrix and a side of its size");
  std::vector<int> exchanged(static_cast<std::size_t>(n));
  // std::complex and C's own complex numbers lie alike in memory.
  const int info = LAPACKE_zgesv_work(LAPACK_COL_MAJOR,
                                      n,
                                      1,
                                      reinterpret_cast<lapack_complex_double*>(a.data()),
                                      n,
                                      exchanged.data(),
                                      reinterpret_cast<lapack_complex_double*>(b.data()),
                                      n);
  if (info != 0) throw std::runtime_error("solve_in_place: the matrix is singular");
  return b;
}

}  // namespace calmplate::modes
