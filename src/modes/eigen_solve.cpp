// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/eigen_solve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

#include "base/input_error.hpp"
#include "base/units.hpp"
#include "modes/inertia.hpp"
#include "modes/mode_operator.hpp"
#include "modes/ritz_polish.hpp"

namespace calmplate::modes {

namespace {

constexpr double kSingularPivot = 1e-10;
constexpr double kRigidShare = 1e-4;  // of |shift|: below this an omega2 is a rigid-body mode's 0
constexpr int kExtra = 3;             // modes above the last one wanted, to count between two
constexpr int kRetries = 2;

double squared_omega(double freq_hz) {
  const double omega = base::kTwoPi * freq_hz;
  return omega * omega;
}

void check(const Eigen::SparseMatrix<double>& K,
           const Eigen::SparseMatrix<double>& M,
           const ModeOptions& options) {
  if (K.rows() != M.rows() || K.cols() != M.cols() || K.rows() != K.cols() || K.rows() == 0)
    throw std::invalid_argument("K and M must be square, of one size and not empty");
  if (!(options.tolerance >= 1e-12 && options.tolerance <= 1e-3))
    throw std::invalid_argument("tolerance must be 1e-12 to 1e-3");
  if (options.max_modes < 1) throw std::invalid_argument("max_modes must be 1 or more");
  if (options.threads < 1) throw std::invalid_argument("threads must be 1 or more");
  if (!(options.scale_hz >= 0.0) || !std::isfinite(options.scale_hz))
    throw std::invalid_argument("scale_hz must be 0 or more and finite");
  const Eigen::VectorXd mass = M.diagonal();
  if (!mass.allFinite()) throw std::invalid_argument("M holds a number that is not finite");
  if (!(mass.maxCoeff() > 0.0)) throw std::invalid_argument("M has no mass");
}

/// Where between two neighbours of ascending `omega2` a count can be taken, nearest to `wanted`
/// modes below: number of modes expected below, 0 if there is no clear gap.
int countable(const Eigen::VectorXd& omega2, int wanted) {
  const auto clear = [&](int i) {
    return i >= 1 && i < omega2.size() &&
           omega2[i] - omega2[i - 1] > 1e-6 * std::abs(omega2[omega2.size() - 1]);
  };
  for (int i = wanted; i < omega2.size(); ++i)
    if (clear(i)) return i;
  for (int i = wanted - 1; i >= 1; --i)
    if (clear(i)) return i;
  return 0;
}

void keep_first(ModeSet& modes, Eigen::Index count) {
  modes.omega2.conservativeResize(count);
  modes.residual.conservativeResize(count);
  modes.shape.conservativeResize(Eigen::NoChange, count);
  modes.rigid_body = std::min(modes.rigid_body, static_cast<int>(count));
}

}  // namespace

struct ModeSolver::Impl {
  Eigen::SparseMatrix<double> K, M;
  ModeOptions options;
  double shift = 0.0;
  std::unique_ptr<CholeskyFactor> factor;
  Eigen::Index massive = 0;  // rows with mass: no more modes than these

  void factorise(const Eigen::SparseMatrix<double>& A) {
    if (factor)
      factor->refactor(A);
    else
      factor = std::make_unique<CholeskyFactor>(A);
  }

  void choose_shift(const base::Progress& progress) {
    progress.step("factorising the panel's stiffness", 0.0);
    try {
      factorise(K);
      if (factor->weakest_pivot() >= kSingularPivot) return;
    } catch (const NotPositiveDefinite&) {
      factor.reset();
    }
    if (options.scale_hz > 0.0) {
      shift = -0.01 * squared_omega(options.scale_hz);
      factorise(K - shift * M);
      return;
    }
    find_shift(progress);
  }

  /// Counts modes below a limit that comes down from the stiffest single row until few are left;
  /// their number grows about as the limit's root. A tenth of it is near the lowest elastic omega2.
  void find_shift(const base::Progress& progress) {
    constexpr int kFew = 24, kAim = 12, kSteps = 20;
    constexpr double kEmpty = 1e-8;  // no mode in so wide a gap: those below are rigid-body modes
    const Eigen::VectorXd k = K.diagonal(), m = M.diagonal();
    double limit = std::numeric_limits<double>::infinity();
    for (Eigen::Index i = 0; i < k.size(); ++i)
      if (m[i] > 0.0 && k[i] > 0.0) limit = std::min(limit, k[i] / m[i]);
    if (!std::isfinite(limit)) limit = 1.0;
    double lower = limit;
    int below = count_below(K, M, limit).below;
    for (int step = 0; step < kSteps && below > kFew && lower > kEmpty * limit; ++step) {
      progress.step("finding the scale of a free panel", 0.0);
      const double ratio = static_cast<double>(kAim) / below;
      lower *= std::max(ratio * ratio, 1e-4);
      const int fewer = count_below(K, M, lower).below;
      if (fewer == below) continue;
      below = fewer;
      limit = lower;
    }
    shift = -0.1 * limit;
    factorise(K - shift * M);
  }

  /// True if the inertia count agrees with what was found, as near above `wanted` as it can be
  /// taken.
  bool confirmed(const ModeSet& modes, int wanted, int request) const {
    const Eigen::VectorXd& w = modes.omega2;
    const auto found = static_cast<int>(w.size());
    if (found == 0) return false;
    if (found < request) {  // all there are: none further up either
      const double above = w[found - 1] > 0.0 ? w[found - 1] : -shift;
      const InertiaCount counted = count_below(K, M, 1e3 * above, factor.get());
      return counted.safe && counted.below == found;
    }
    const int expected = countable(w, wanted);
    if (expected == 0) return true;
    const InertiaCount counted =
        count_below(K, M, 0.5 * (w[expected - 1] + w[expected]), factor.get());
    return counted.safe && counted.below == expected;
  }

  ModeSet solve(int count, double scale, int attempt, const base::Progress& progress) const {
    const ModeOperator op(*factor, M, scale, options.threads, progress);
    RitzPairs pairs = largest_pairs(op, count, options.tolerance, attempt);
    ModeSet modes = polished(op, std::move(pairs), *factor, shift);
    modes.iterations = static_cast<int>(op.applications());
    const auto n = static_cast<int>(modes.omega2.size());
    while (shift < 0.0 && modes.rigid_body < n &&
           modes.omega2[modes.rigid_body] < -kRigidShare * shift)
      ++modes.rigid_body;
    modes.omega2.head(modes.rigid_body).setZero();
    modes.residual = residuals(K, M, modes.omega2, modes.shape, shift);
    return modes;
  }
};

ModeSolver::ModeSolver(Eigen::SparseMatrix<double> K,
                       Eigen::SparseMatrix<double> M,
                       const ModeOptions& options,
                       const base::Progress& progress)
    : impl_(std::make_unique<Impl>()) {
  check(K, M, options);
  progress.check();
  impl_->massive = (M.diagonal().array() > 0.0).count();
  impl_->K = std::move(K);
  impl_->M = std::move(M);
  impl_->options = options;
  impl_->choose_shift(progress);
}

ModeSolver::~ModeSolver() = default;
ModeSolver::ModeSolver(ModeSolver&&) noexcept = default;
ModeSolver& ModeSolver::operator=(ModeSolver&&) noexcept = default;

const CholeskyFactor& ModeSolver::factor() const { return *impl_->factor; }
double ModeSolver::shift() const { return impl_->shift; }

ModeSet ModeSolver::up_to(double freq_hz, const base::Progress& progress) {
  if (!std::isfinite(freq_hz) || !(freq_hz > 0.0))
    throw std::invalid_argument("top frequency must be finite and above 0");
  Impl& s = *impl_;
  progress.step("counting modes", 0.0);
  const double asked = squared_omega(freq_hz);
  const InertiaCount count = count_below(s.K, s.M, asked, s.factor.get());
  if (count.safe && count.below > s.options.max_modes)
    throw base::InputError(
        {},
        std::to_string(count.below) + " modes lie below the top frequency",
        "at most " + std::to_string(s.options.max_modes) + "; lower the top frequency");
  progress.step("solving for modes", 0.1);
  ModeSet modes;
  modes.shape.resize(s.K.rows(), 0);
  modes.complete = count.safe;
  if (count.below == 0) return modes;
  int request = count.below;
  for (int attempt = 0; attempt <= kRetries; ++attempt) {
    modes = s.solve(std::min<int>(request, static_cast<int>(s.massive)), asked, attempt, progress);
    const auto below = (modes.omega2.array() < count.limit).count();
    modes.complete = modes.complete && below == count.below && count.safe;
    keep_first(modes, below);
    if (modes.complete) break;
    request = count.below + 5 * (attempt + 1);
  }
  return modes;
}

ModeSet ModeSolver::lowest(int count, const base::Progress& progress) {
  Impl& s = *impl_;
  if (count < 1 || count > s.options.max_modes)
    throw std::invalid_argument("number of modes must be 1 to max_modes");
  progress.step("solving for modes", 0.1);
  const double mean = s.M.diagonal().sum() / static_cast<double>(s.massive);
  const double scale = s.shift < 0.0 ? -s.shift : s.K.diagonal().minCoeff() / mean;
  ModeSet modes;
  for (int attempt = 0; attempt <= kRetries; ++attempt) {
    const int extra = s.options.count_check ? kExtra + 5 * attempt : 0;
    const int request = std::min(count + extra, static_cast<int>(s.massive));
    modes = s.solve(request, scale, attempt, progress);
    if (s.options.count_check)
      modes.complete = modes.complete && s.confirmed(modes, count, request);
    if (modes.complete) break;
  }
  keep_first(modes, std::min<Eigen::Index>(count, modes.omega2.size()));
  return modes;
}

ModeSet modes_up_to(const Eigen::SparseMatrix<double>& K,
                    const Eigen::SparseMatrix<double>& M,
                    double freq_hz,
                    const ModeOptions& options,
                    const base::Progress& progress) {
  ModeOptions scaled = options;
  if (scaled.scale_hz == 0.0 && std::isfinite(freq_hz) && freq_hz > 0.0) scaled.scale_hz = freq_hz;
  return ModeSolver(K, M, scaled, progress).up_to(freq_hz, progress);
}

ModeSet lowest_modes(const Eigen::SparseMatrix<double>& K,
                     const Eigen::SparseMatrix<double>& M,
                     int count,
                     const ModeOptions& options,
                     const base::Progress& progress) {
  return ModeSolver(K, M, options, progress).lowest(count, progress);
}

}  // namespace calmplate::modes
