// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/trial_bench.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "reduced/complex_times.hpp"
#include "reduced/sub_bands.hpp"

namespace calmplate::placement {
namespace {

/// Modes up to this many times the top of the band keep inertia of their own.
constexpr double kMovingTo = 1.6;
/// Sound sent out grows with the cube of frequency: between anchors 1.22 apart a line is off by 4
/// %.
constexpr int kAnchors = 17;

/// R if a term is i w R load load^T, else 0.
double across_drive(const reduced::ReducedTerm& term, const Eigen::VectorXd& load, double freq_hz) {
  if (!term.factor) return 0.0;
  const std::complex<double> at = term.factor(freq_hz), twice = term.factor(2.0 * freq_hz);
  if (at.real() != 0.0 || std::abs(twice - 2.0 * at) > 1e-9 * std::abs(at)) return 0.0;
  const double size2 = load.squaredNorm();
  const double per_load = load.dot(term.matrix * load) / (size2 * size2);
  if ((term.matrix - per_load * load * load.transpose()).norm() > 1e-9 * term.matrix.norm())
    return 0.0;
  return per_load * at.imag() / (base::kTwoPi * freq_hz);
}

}  // namespace

TrialBench::TrialBench(const shell::Skin& skin,
                       const reduced::FullReduction& bare,
                       const reduced::ReducedModel& laid,
                       const drive::DriveInput& drive,
                       const drive::BandInput& band)
    : skin_(&skin), drive_(drive), band_(band), middle_hz_(std::sqrt(band.low_hz * band.high_hz)) {
  // In the laid panel's own modes those that move come first.
  const reduced::RealModes modes = reduced::real_modes(laid, middle_hz_);
  const double top = std::pow(base::kTwoPi * kMovingTo * band.high_hz, 2);
  n_moving_ = std::max<Eigen::Index>((modes.omega2.array() < top).count(), 1);
  coordinates_ = modes.shape;
  laid_ = reduced::in_coordinates(laid, coordinates_);
  shapes_ = bare.basis.topRows(skin.n_dof) * coordinates_.topRows(bare.basis.cols());
  stiffness_ = laid_.stiffness(middle_hz_);
  if (std::all_of(
          laid_.terms.begin(), laid_.terms.end(), [](const auto& t) { return t.constant(); }))
    return;
  std::vector<bool> followed;  // but for the brake
  for (const reduced::ReducedTerm& t : laid_.terms) {
    const double across = across_drive(t, laid_.load, middle_hz_);
    if (across > 0.0) brake_ = {brake_.resistance_ns_m + across, middle_hz_};
    followed.push_back(!t.constant() && !(across > 0.0));
  }
  const double low = 0.5 * band.low_hz, high = 2.0 * band.high_hz;
  for (int a = 0; a < kAnchors; ++a) {
    anchor_hz_.push_back(low * std::pow(high / low, a / (kAnchors - 1.0)));
    Eigen::MatrixXcd k = Eigen::MatrixXcd::Zero(n_moving_, n_moving_);
    for (std::size_t i = 0; i < laid_.terms.size(); ++i) {
      const reduced::ReducedTerm& t = laid_.terms[i];
      if (followed[i])
        k += (t.coefficient(anchor_hz_.back(), laid_.temp_k) -
              t.coefficient(middle_hz_, laid_.temp_k)) *
             t.matrix.topLeftCorner(n_moving_, n_moving_).cast<std::complex<double>>();
    }
    anchor_.push_back(k);
  }
}

reduced::CondensedPiece TrialBench::condense(const shell::LaidPiece& piece) const {
  return reduced::condense(*skin_, piece, shapes_, middle_hz_, laid_.temp_k);
}

reduced::PoleExpansion TrialBench::poles(const Pieces& pieces) const {
  Eigen::MatrixXd mass = laid_.mass;
  Eigen::MatrixXcd k = stiffness_;
  for (const reduced::CondensedPiece* piece : pieces) {
    piece->add_mass(mass);
    piece->add_stiffness(middle_hz_, laid_.temp_k, k);
  }
  const reduced::FollowedPencil f = reduced::follow(k, mass, laid_.load, n_moving_);
  reduced::PoleExpansion poles = reduced::expand_pencil(f.stiffness, f.mass, f.load, band_.high_hz);
  poles.shape = (f.shapes * poles.shape).eval();
  poles.still = reduced::complex_times(f.shapes, poles.still) + f.still;
  poles.still_at_load = (laid_.load.cast<std::complex<double>>().transpose() * poles.still).value();
  own_moduli(pieces, poles);
  return poles;
}

Eigen::VectorXd TrialBench::own_frequencies(const Eigen::VectorXcd& lambda) const {
  Eigen::VectorXd own(lambda.size());
  for (Eigen::Index j = 0; j < lambda.size(); ++j)
    // Beyond the band's neighbourhood the pole only carries its tail into it.
    own(j) = std::clamp(std::sqrt(std::max(lambda(j).real(), 0.0)) / base::kTwoPi,
                        0.5 * band_.low_hz,
                        2.0 * band_.high_hz);
  return own;
}

/// Moves each pole by what its own modulus differs from that at the band's middle, to first order:
/// x^T (K(f_own) - K(f_middle)) x for x^T M x = 1.
void TrialBench::own_moduli(const Pieces& pieces, reduced::PoleExpansion& poles) const {
  const Eigen::Index n = poles.lambda.size();
  const Eigen::VectorXd own = own_frequencies(poles.lambda);
  const Eigen::VectorXd same = Eigen::VectorXd::Constant(n, middle_hz_);
  Eigen::VectorXcd shift = Eigen::VectorXcd::Zero(n);
  const auto add = [&](const reduced::CondensedPiece& piece) {
    if (!piece.constant())
      shift += piece.quadratic(poles.shape, own, laid_.temp_k) -
               piece.quadratic(poles.shape, same, laid_.temp_k);
  };
  if (!anchor_.empty()) {
    const auto at = [&](Eigen::Index j, std::size_t a) {
      const Eigen::VectorXcd x = poles.shape.col(j).head(n_moving_);
      return (x.transpose() * reduced::complex_times(anchor_[a], x)).value();
    };
    const double step = std::log(anchor_hz_[1] / anchor_hz_[0]);
    for (Eigen::Index j = 0; j < n; ++j) {
      const double place =
          std::clamp(std::log(own(j) / anchor_hz_[0]) / step, 0.0, kAnchors - 1.000001);
      const auto a = static_cast<std::size_t>(place);
      const double share = place - static_cast<double>(a);
      shift(j) += (1.0 - share) * at(j, a) + share * at(j, a + 1);
    }
  }
  for (const reduced::CondensedPiece& piece : laid_.pieces) add(piece);
  for (const reduced::CondensedPiece* piece : pieces) add(*piece);
  poles.lambda += shift;
}

Eigen::VectorXcd TrialBench::moved_poles(const reduced::PoleExpansion& poles,
                                         const reduced::CondensedPiece& piece) const {
  const Eigen::VectorXd own = own_frequencies(poles.lambda);
  Eigen::VectorXcd lambda = poles.lambda + piece.quadratic(poles.shape, own, laid_.temp_k);
  const Eigen::MatrixXcd y =
      piece.span.size() == 0 ? poles.shape : Eigen::MatrixXcd(piece.span.transpose() * poles.shape);
  const Eigen::MatrixXcd my = piece.mass * y;
  for (Eigen::Index j = 0; j < lambda.size(); ++j)
    lambda(j) -= poles.lambda(j) * (y.col(j).transpose() * my.col(j)).value();
  return lambda;
}

double TrialBench::mean_square(const reduced::PoleExpansion& poles) const {
  const double sum = response::weighted(
      reduced::BandIntegral(poles, laid_.surface), drive_, band_.low_hz, band_.high_hz, brake_);
  return response::band_mean(sum, drive_, band_.low_hz, band_.high_hz);
}

double TrialBench::band_mean_square(const shell::LaidPiece& trial) const {
  const reduced::CondensedPiece piece = condense(trial);
  return mean_square(poles({&piece}));
}

double TrialBench::band_mean_square() const { return mean_square(poles({})); }

}  // namespace calmplate::placement
