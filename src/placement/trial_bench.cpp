// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/trial_bench.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "reduced/pole_expansion.hpp"
#include "reduced/sub_bands.hpp"
#include "response/band_response.hpp"

namespace calmplate::placement {
namespace {

/// Modes up to this many times the top of the band keep inertia of their own.
constexpr double kMovingTo = 1.6;

}  // namespace

TrialBench::TrialBench(const shell::Skin& skin,
                       const reduced::FullReduction& bare,
                       const reduced::ReducedModel& laid,
                       const drive::DriveInput& drive,
                       const drive::BandInput& band)
    : skin_(&skin), drive_(drive), band_(band) {
  // In the laid panel's own modes those that move come first.
  const reduced::RealModes modes = reduced::real_modes(laid, std::sqrt(band.low_hz * band.high_hz));
  const double top = std::pow(base::kTwoPi * kMovingTo * band.high_hz, 2);
  n_moving_ = std::max<Eigen::Index>((modes.omega2.array() < top).count(), 1);
  laid_ = reduced::in_coordinates(laid, modes.shape);
  shapes_ = bare.basis.topRows(skin.n_dof) * modes.shape.topRows(bare.basis.cols());
}

double TrialBench::solve(const reduced::CondensedPiece* trial) const {
  const double middle = std::sqrt(band_.low_hz * band_.high_hz);
  Eigen::MatrixXd mass = laid_.mass;
  Eigen::MatrixXcd k = laid_.stiffness(middle);
  if (trial != nullptr) {
    trial->add_mass(mass);
    trial->add_stiffness(middle, laid_.temp_k, k);
  }
  const reduced::FollowedPencil f = reduced::follow(k, mass, laid_.load, n_moving_);
  reduced::PoleExpansion poles = reduced::expand_pencil(f.stiffness, f.mass, f.load, band_.high_hz);
  poles.shape = (f.shapes * poles.shape).eval();
  poles.still = (f.shapes * poles.still + f.still).eval();
  if (!laid_.constant() || (trial != nullptr && !trial->constant()))
    own_moduli(trial, middle, poles);
  const double sum = response::weighted(
      reduced::BandIntegral(poles, laid_.surface), drive_, band_.low_hz, band_.high_hz);
  return response::band_mean(sum, drive_, band_.low_hz, band_.high_hz);
}

/// Moves each pole by what its own modulus differs from that at the band's middle, to first order:
/// x^T (K(f_own) - K(f_middle)) x for x^T M x = 1.
void TrialBench::own_moduli(const reduced::CondensedPiece* trial,
                            double middle_hz,
                            reduced::PoleExpansion& poles) const {
  const Eigen::Index n = poles.lambda.size();
  Eigen::VectorXd own(n);
  for (Eigen::Index j = 0; j < n; ++j)
    // Beyond the band's neighbourhood the pole only carries its tail into it.
    own(j) = std::clamp(std::sqrt(std::max(poles.lambda(j).real(), 0.0)) / base::kTwoPi,
                        0.5 * band_.low_hz,
                        2.0 * band_.high_hz);
  const Eigen::VectorXd same = Eigen::VectorXd::Constant(n, middle_hz);
  const auto add = [&](const reduced::CondensedPiece& piece) {
    if (!piece.constant())
      poles.lambda += piece.quadratic(poles.shape, own, laid_.temp_k) -
                      piece.quadratic(poles.shape, same, laid_.temp_k);
  };
  for (const reduced::ReducedTerm& t : laid_.terms) {
    if (t.constant()) continue;
    const Eigen::MatrixXcd kx = t.matrix * poles.shape;
    for (Eigen::Index j = 0; j < n; ++j)
      poles.lambda(j) +=
          (t.coefficient(own(j), laid_.temp_k) - t.coefficient(middle_hz, laid_.temp_k)) *
          (poles.shape.col(j).transpose() * kx.col(j)).value();
  }
  for (const reduced::CondensedPiece& piece : laid_.pieces) add(piece);
  if (trial != nullptr) add(*trial);
}

double TrialBench::band_mean_square(const shell::LaidPiece& trial) const {
  const double middle = std::sqrt(band_.low_hz * band_.high_hz);
  const reduced::CondensedPiece piece =
      reduced::condense(*skin_, trial, shapes_, middle, laid_.temp_k);
  return solve(&piece);
}

double TrialBench::band_mean_square() const { return solve(nullptr); }

}  // namespace calmplate::placement
