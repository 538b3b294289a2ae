// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/inertia.hpp"

#include <cmath>
#include <memory>
#include <stdexcept>

#include "modes/supernodal_ldl.hpp"

namespace calmplate::modes {

namespace {
constexpr double kNudge = 1e-9;
constexpr int kTries = 6;
}  // namespace

InertiaCount count_below(const Eigen::SparseMatrix<double>& K,
                         const Eigen::SparseMatrix<double>& M,
                         double limit,
                         const CholeskyFactor* like) {
  if (K.rows() != M.rows() || K.cols() != M.cols())
    throw std::invalid_argument("K and M must have the same size");
  if (!std::isfinite(limit)) throw std::invalid_argument("limit of a mode count must be finite");
  InertiaCount result;
  std::unique_ptr<SupernodalAnalysis> own;
  double nudge = 0.0;
  for (int attempt = 0; attempt < kTries; ++attempt) {
    result.limit = limit + nudge * std::abs(limit);
    Eigen::SparseMatrix<double> lower = checked_lower(K - result.limit * M);
    const SupernodalAnalysis* analysis = own.get();
    if (analysis == nullptr && like != nullptr && like->analysis().fits(lower))
      analysis = &like->analysis();
    if (analysis == nullptr) {
      own = std::make_unique<SupernodalAnalysis>(lower);
      analysis = own.get();
    }
    const int below =
        negative_pivots(*analysis, lower, K.diagonal() + std::abs(result.limit) * M.diagonal());
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
