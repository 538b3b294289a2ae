// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/supernodal_analysis.hpp"

#include <cblas.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace calmplate::modes {

std::mutex& ordering_mutex() {
  static std::mutex mutex;
  return mutex;
}

void use_one_blas_thread() {
  static std::once_flag once;
  std::call_once(once, [] { openblas_set_num_threads(1); });
}

cholmod_sparse view_lower(Eigen::SparseMatrix<double>& lower) {
  cholmod_sparse view{};
  view.nrow = static_cast<std::size_t>(lower.rows());
  view.ncol = static_cast<std::size_t>(lower.cols());
  view.nzmax = static_cast<std::size_t>(lower.nonZeros());
  view.p = lower.outerIndexPtr();
  view.i = lower.innerIndexPtr();
  view.x = lower.valuePtr();
  view.stype = -1;
  view.itype = CHOLMOD_INT;
  view.xtype = CHOLMOD_REAL;
  view.dtype = CHOLMOD_DOUBLE;
  view.sorted = 1;
  view.packed = 1;
  return view;
}

Eigen::SparseMatrix<double> checked_lower(const Eigen::SparseMatrix<double>& A) {
  if (A.rows() == 0 || A.rows() != A.cols())
    throw std::invalid_argument("matrix to factorise must be square and not empty");
  Eigen::SparseMatrix<double> lower = A.triangularView<Eigen::Lower>();
  lower.makeCompressed();
  const double* x = lower.valuePtr();
  if (!std::all_of(x, x + lower.nonZeros(), [](double v) { return std::isfinite(v); }))
    throw std::invalid_argument("matrix to factorise holds a number that is not finite");
  return lower;
}

SupernodalAnalysis::SupernodalAnalysis(Eigen::SparseMatrix<double>& lower) {
  use_one_blas_thread();
  session_->supernodal = CHOLMOD_SUPERNODAL;
  session_->final_ll = 1;
  cholmod_sparse view = view_lower(lower);
  {
    const std::lock_guard<std::mutex> lock(ordering_mutex());
    factor_ = cholmod_analyze(&view, session_.get());
  }
  if (factor_ == nullptr) throw std::runtime_error("out of memory while ordering a matrix");
  outer_.assign(lower.outerIndexPtr(), lower.outerIndexPtr() + lower.outerSize() + 1);
  inner_.assign(lower.innerIndexPtr(), lower.innerIndexPtr() + lower.nonZeros());
  permutation_ =
      Eigen::Map<const Eigen::VectorXi>(static_cast<const int*>(factor_->Perm), lower.outerSize());
}

SupernodalAnalysis::~SupernodalAnalysis() { cholmod_free_factor(&factor_, session_.get()); }

bool SupernodalAnalysis::fits(const Eigen::SparseMatrix<double>& lower) const {
  const auto n = static_cast<std::size_t>(lower.outerSize());
  return outer_.size() == n + 1 && inner_.size() == static_cast<std::size_t>(lower.nonZeros()) &&
         std::equal(outer_.begin(), outer_.end(), lower.outerIndexPtr()) &&
         std::equal(inner_.begin(), inner_.end(), lower.innerIndexPtr());
}

}  // namespace calmplate::modes
