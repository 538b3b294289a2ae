// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/mode_operator.hpp"

#include <Eigen/OrderingMethods>
#include <algorithm>
#include <vector>

#include "base/parallel.hpp"

namespace calmplate::modes {

namespace {

// Fixed width of one piece of work, so that the sums do not depend on the number of threads.
constexpr Eigen::Index kWidth = 8;

Eigen::SparseMatrix<double> permuted(const Eigen::SparseMatrix<double>& M,
                                     const Eigen::VectorXi& permutation) {
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> to_factor(permutation.size());
  for (Eigen::Index k = 0; k < permutation.size(); ++k)
    to_factor.indices()[permutation[k]] = static_cast<int>(k);
  Eigen::SparseMatrix<double> result;
  result = M.selfadjointView<Eigen::Lower>().twistedBy(to_factor);
  result.makeCompressed();
  return result;
}

}  // namespace

ModeOperator::ModeOperator(const CholeskyFactor& factor,
                           const Eigen::SparseMatrix<double>& M,
                           double scale,
                           unsigned threads,
                           const base::Progress& progress)
    : factor_(&factor),
      mass_(permuted(M, factor.permutation())),
      n_(factor.size()),
      scale_(scale),
      threads_(threads),
      progress_(progress) {}

void ModeOperator::mass_block(const double* x, double* out, Eigen::Index m) const {
  const int* outer = mass_.outerIndexPtr();
  const int* inner = mass_.innerIndexPtr();
  const double* value = mass_.valuePtr();
  // Both triangles are stored, so a column is a row and the product is a gather.
  if (m == 1) {
    for (Eigen::Index i = 0; i < n_; ++i) {
      double sum = 0.0;
      for (int e = outer[i]; e < outer[i + 1]; ++e) sum += value[e] * x[inner[e]];
      out[i] = sum;
    }
    return;
  }
  std::vector<double> rows(static_cast<std::size_t>(n_ * kWidth), 0.0);
  for (Eigen::Index c = 0; c < m; ++c)
    for (Eigen::Index i = 0; i < n_; ++i)
      rows[static_cast<std::size_t>(i * kWidth + c)] = x[i + c * n_];
  for (Eigen::Index i = 0; i < n_; ++i) {
    double sum[kWidth] = {};
    for (int e = outer[i]; e < outer[i + 1]; ++e) {
      const double* from = rows.data() + static_cast<std::ptrdiff_t>(inner[e]) * kWidth;
      for (Eigen::Index c = 0; c < kWidth; ++c) sum[c] += value[e] * from[c];
    }
    for (Eigen::Index c = 0; c < m; ++c) out[i + c * n_] = sum[c];
  }
}

void ModeOperator::apply(const double* y, double* out, Eigen::Index m) const {
  const auto blocks = static_cast<std::size_t>((m + kWidth - 1) / kWidth);
  base::parallel_for(blocks, threads_, [&](std::size_t b) {
    progress_.check();
    const Eigen::Index first = static_cast<Eigen::Index>(b) * kWidth;
    const Eigen::Index width = std::min(kWidth, m - first);
    std::vector<double> x(y + first * n_, y + (first + width) * n_);
    double* result = out + first * n_;
    factor_->upper_solve_in_place(x.data(), width);
    mass_block(x.data(), result, width);
    factor_->lower_solve_in_place(result, width);
    std::for_each(result, result + width * n_, [this](double& v) { v *= scale_; });
  });
  applications_ += static_cast<long>(m);
}

Eigen::MatrixXd ModeOperator::mass_times(const Eigen::MatrixXd& x) const {
  Eigen::MatrixXd out(x.rows(), x.cols());
  for (Eigen::Index first = 0; first < x.cols(); first += kWidth)
    mass_block(x.data() + first * n_, out.data() + first * n_, std::min(kWidth, x.cols() - first));
  return out;
}

void ModeOperator::to_shape(Eigen::MatrixXd& y) const {
  factor_->upper_solve_in_place(y.data(), y.cols());
}

}  // namespace calmplate::modes
