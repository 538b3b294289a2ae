// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/inertia.hpp"

#include <cmath>
#include <stdexcept>

#include "modes/cholmod_session.hpp"

namespace calmplate::modes {

namespace {

constexpr double kSmallPivot = 1e-12;
constexpr double kNudge = 1e-9;
constexpr int kTries = 6;

/// Simplicial L D L^T, kept so that a nudged limit needs no second ordering.
class Simplicial {
 public:
  ~Simplicial() { cholmod_free_factor(&factor_, session_.get()); }

  /// Negative pivots of A, or -1 if a pivot is too small, against the `size` [n] of what was
  /// subtracted on its diagonal, to have a sign.
  int negative_pivots(const Eigen::SparseMatrix<double>& A, const Eigen::VectorXd& size) {
    Eigen::SparseMatrix<double> lower = checked_lower(A);
    cholmod_sparse view = view_lower(lower);
    if (factor_ == nullptr) {
      session_->supernodal = CHOLMOD_SIMPLICIAL;
      session_->final_ll = 0;
      const std::lock_guard<std::mutex> lock(ordering_mutex());
      factor_ = cholmod_analyze(&view, session_.get());
    }
    if (factor_ == nullptr) throw std::runtime_error("out of memory while ordering a matrix");
    cholmod_factorize(&view, factor_, session_.get());
    if (session_->status < CHOLMOD_OK)
      throw std::runtime_error("out of memory while factorising a matrix");
    if (factor_->minor < factor_->n) return -1;
    const auto* start = static_cast<const int*>(factor_->p);
    const auto* x = static_cast<const double*>(factor_->x);
    const auto* order = static_cast<const int*>(factor_->Perm);
    int count = 0;
    for (std::size_t j = 0; j < factor_->n; ++j) {
      const double pivot = x[start[j]];
      if (!(std::abs(pivot) > kSmallPivot * size[order[j]])) return -1;
      if (pivot < 0.0) ++count;
    }
    return count;
  }

 private:
  CholmodSession session_;
  cholmod_factor* factor_ = nullptr;
};

}  // namespace

InertiaCount count_below(const Eigen::SparseMatrix<double>& K,
                         const Eigen::SparseMatrix<double>& M,
                         double limit) {
  if (K.rows() != M.rows() || K.cols() != M.cols())
    throw std::invalid_argument("K and M must have the same size");
  if (!std::isfinite(limit)) throw std::invalid_argument("limit of a mode count must be finite");
  use_one_blas_thread();
  Simplicial solver;
  InertiaCount result;
  double nudge = 0.0;
  for (int attempt = 0; attempt < kTries; ++attempt) {
    result.limit = limit + nudge * std::abs(limit);
    const int below = solver.negative_pivots(K - result.limit * M,
                                             K.diagonal() + std::abs(result.limit) * M.diagonal());
    if (below >= 0) {
      result.below = below;
      return result;
    }
    nudge = attempt == 0 ? kNudge : 10.0 * nudge;
  }
  result.safe = false;
  return result;
}

}  // namespace calmplate::modes
