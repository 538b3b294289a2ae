// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/trial_bench.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "reduced/pole_expansion.hpp"
#include "response/band_response.hpp"

namespace calmplate::placement {
namespace {

/// Modes up to this many times the top of the band keep inertia of their own.
constexpr double kMovingTo = 1.6;

/// The model with its trailing shapes eliminated: they follow K_rr x_r = load_r - K_rm x_m at the
/// band's middle.
struct Follower {
  Eigen::MatrixXcd stiffness, mass, surface;
  Eigen::VectorXcd load;
};

Follower eliminate(const Eigen::MatrixXcd& k,
                   const Eigen::MatrixXd& m,
                   const Eigen::VectorXd& load,
                   const Eigen::MatrixXd& surface,
                   Eigen::Index moving) {
  const Eigen::Index n = k.rows(), rest = n - moving;
  // Shapes t = [I; -K_rr^-1 K_rm] carry stiffness, mass and read-out; the load keeps its static
  // part.
  Eigen::MatrixXcd t(n, moving);
  t.topRows(moving).setIdentity();
  const Eigen::PartialPivLU<Eigen::MatrixXcd> lu(k.bottomRightCorner(rest, rest));
  t.bottomRows(rest) = -lu.solve(k.bottomLeftCorner(rest, moving));
  Follower f;
  f.stiffness =
      k.topLeftCorner(moving, moving) + k.topRightCorner(moving, rest) * t.bottomRows(rest);
  f.mass = t.transpose() * (m * t);
  f.surface = t.adjoint() * (surface * t);
  f.load = t.transpose() * load;
  return f;
}

}  // namespace

TrialBench::TrialBench(const shell::Skin& skin,
                       const reduced::FullReduction& bare,
                       const reduced::ReducedModel& laid,
                       const drive::DriveInput& drive,
                       const drive::BandInput& band)
    : skin_(&skin),
      shapes_(bare.basis.topRows(skin.n_dof)),
      laid_(laid),
      drive_(drive),
      band_(band) {
  const double top = std::pow(base::kTwoPi * kMovingTo * band.high_hz, 2);
  for (Eigen::Index j = 0; j < bare.modes.omega2.size(); ++j)
    n_moving_ += bare.modes.omega2(j) < top ? 1 : 0;
  n_moving_ = std::max<Eigen::Index>(n_moving_, 1);
}

double TrialBench::solve(const reduced::CondensedPiece* trial) const {
  const bool constant =
      laid_.constant() && (trial == nullptr || !trial->modulus || trial->modulus->constant());
  Eigen::MatrixXd mass = laid_.mass;
  if (trial != nullptr) trial->add_mass(mass);
  const double third = std::pow(10.0, 0.1);
  double sum = 0.0;
  for (double low = band_.low_hz; low < band_.high_hz * (1.0 - 1e-12);) {
    const double high = constant ? band_.high_hz : std::min(low * third, band_.high_hz);
    const double middle = std::sqrt(low * high);
    Eigen::MatrixXcd k = laid_.stiffness(middle);
    if (trial != nullptr) trial->add_stiffness(middle, laid_.temp_k, k);
    const Follower f = eliminate(k, mass, laid_.load, laid_.surface, n_moving_);
    const reduced::PoleExpansion poles =
        reduced::expand_pencil(f.stiffness, f.mass, f.load, band_.high_hz);
    sum += response::weighted(reduced::BandIntegral(poles, f.surface), drive_, low, high);
    low = high;
  }
  return response::band_mean(sum, drive_, band_.low_hz, band_.high_hz);
}

double TrialBench::band_mean_square(const shell::LaidPiece& trial) const {
  const double middle = std::sqrt(band_.low_hz * band_.high_hz);
  const reduced::CondensedPiece piece =
      reduced::condense(*skin_, trial, shapes_, middle, laid_.temp_k);
  return solve(&piece);
}

double TrialBench::band_mean_square() const { return solve(nullptr); }

}  // namespace calmplate::placement
