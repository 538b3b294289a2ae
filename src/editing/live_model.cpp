// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/live_model.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "base/units.hpp"
#include "drive/spectrum.hpp"
#include "modes/complex_solve.hpp"
#include "reduced/complex_times.hpp"

namespace calmplate::editing {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;
using Eigen::VectorXcd;
using Eigen::VectorXd;

/// Modes up to this many times the end of the curve keep inertia of their own, and never fewer than
/// so many.
constexpr double kMovingTo = 1.3;
constexpr Index kFewestMoving = 60;
/// Knots over four octaves: a modulus that grows with the square root of frequency is met to 1e-4.
constexpr int kKnots = 5;

double omega2(double freq_hz) { return std::pow(base::kTwoPi * freq_hz, 2); }

MatrixXcd moving_part(const reduced::ReducedModel& model, double freq_hz, Index m) {
  MatrixXcd k = MatrixXcd::Zero(m, m);
  for (const reduced::ReducedTerm& t : model.terms)
    if (!t.constant())
      k += t.coefficient(freq_hz, model.temp_k) * t.matrix.topLeftCorner(m, m).cast<Complex>();
  return k;
}

/// a^T k a for a real and imaginary part at a time: four real products are faster than a complex
/// one with a real factor made complex.
MatrixXcd spanned(const MatrixXd& a, const MatrixXcd& k) {
  const MatrixXd re = k.real(), im = k.imag();
  MatrixXcd out(a.cols(), a.cols());
  out.real() = a.transpose() * (re * a);
  out.imag() = a.transpose() * (im * a);
  return out;
}

}  // namespace

LiveModel::LiveModel(const reduced::ReducedModel& base,
                     const drive::DriveInput& drive,
                     const drive::BandInput& band,
                     const response::Brake& brake,
                     const VectorXd& freq_hz)
    : drive_(drive),
      band_(band),
      brake_(brake),
      freq_hz_(freq_hz),
      middle_hz_(std::sqrt(band.low_hz * band.high_hz)) {
  const reduced::RealModes modes = reduced::real_modes(base, middle_hz_);
  const double high_hz = std::max(freq_hz(freq_hz.size() - 1), band.high_hz);
  const double low_hz = std::min(freq_hz(0), band.low_hz);
  n_moving_ = std::min<Index>(
      modes.omega2.size(),
      std::max<Index>((modes.omega2.array() < omega2(kMovingTo * high_hz)).count(), kFewestMoving));
  coordinates_ = modes.shape;
  base_ = reduced::in_coordinates(base, coordinates_);
  stiffness_ = base_.stiffness(middle_hz_);
  const MatrixXcd middle = moving_part(base_, middle_hz_, n_moving_);
  const VectorXd load = base_.load.head(n_moving_);
  const MatrixXcd across = (load * load.transpose()).cast<Complex>();
  // What the base does away from the middle, but for the brake, which is followed exactly.
  const auto change = [&](double at_hz) {
    const Complex braked(0.0, base::kTwoPi * (at_hz - middle_hz_) * brake.resistance_ns_m);
    return MatrixXcd(moving_part(base_, at_hz, n_moving_) - middle - braked * across);
  };
  strength_.resize(freq_hz.size());
  for (Index i = 0; i < freq_hz.size(); ++i) {
    change_.push_back(change(freq_hz(i)));
    strength_(i) = drive::strength(drive, freq_hz(i));
    first_inside_ += freq_hz(i) < band.low_hz ? 1 : 0;
    n_inside_ += freq_hz(i) >= band.low_hz && freq_hz(i) <= band.high_hz ? 1 : 0;
  }
  const double centre = 0.5 * std::log(high_hz * low_hz), half = 0.5 * std::log(high_hz / low_hz);
  for (int k = 0; k < kKnots; ++k) {
    const double x = std::cos(base::kPi * (k + 0.5) / kKnots);  // Chebyshev points
    knot_hz_.push_back(std::exp(centre + half * x));
    knot_change_.push_back(change(knot_hz_.back()));
    // Barycentric weights of Chebyshev points of the first kind. Source: [derived] product rule.
    knot_weight_.push_back((k % 2 == 0 ? 1.0 : -1.0) * std::sin(base::kPi * (k + 0.5) / kKnots));
  }
}

LivePiece LiveModel::lift(const reduced::CondensedPiece& piece,
                          double temp_k,
                          unsigned threads) const {
  const Index n_skin = piece.span.size() > 0 ? piece.span.rows() : piece.a0.rows();
  const MatrixXd skin = coordinates_.topRows(n_skin);
  const MatrixXd a = piece.span.size() > 0 ? MatrixXd(piece.span.transpose() * skin) : skin;
  LivePiece out;
  out.mass = a.transpose() * (piece.mass * a);
  reduced::CondensedPiece own = piece;  // in its own coordinates, without the change of basis
  own.span.resize(0, 0);
  const auto at = [&](double freq_hz) {
    MatrixXcd k = MatrixXcd::Zero(a.rows(), a.rows());
    own.add_stiffness(freq_hz, temp_k, k);
    return k;
  };
  const MatrixXcd middle = at(middle_hz_);
  out.middle = spanned(a, middle);
  if (piece.constant()) return out;
  out.knots.resize(knot_hz_.size());
  base::parallel_for(out.knots.size(), threads, [&](std::size_t k) {
    out.knots[k] = spanned(a, at(knot_hz_[k]) - middle);
  });
  return out;
}

LiveModel::Pencil LiveModel::pencil_of(const Laid& pieces, unsigned threads) const {
  MatrixXd mass = base_.mass;
  MatrixXcd k = stiffness_;
  Pencil out;
  std::vector<MatrixXcd> knots;
  for (const auto& piece : pieces) {
    mass += piece->mass;
    k += piece->middle;
    if (piece->knots.empty()) continue;
    if (knots.empty()) knots.assign(piece->knots.size(), MatrixXcd::Zero(k.rows(), k.rows()));
    for (std::size_t i = 0; i < knots.size(); ++i) knots[i] += piece->knots[i];
  }
  out.at_middle = reduced::follow(k, mass, base_.load, n_moving_);
  out.constant = knots.empty();
  const Index rest = k.rows() - n_moving_;
  const MatrixXcd below = out.at_middle.shapes.bottomRows(rest);
  out.knots.resize(knots.size());
  base::parallel_for(knots.size(), threads, [&](std::size_t i) {
    // shapes^T knot shapes with the identity on top of the shapes
    const MatrixXcd& knot = knots[i];
    out.knots[i] = knot.topLeftCorner(n_moving_, n_moving_);
    if (rest == 0) return;
    MatrixXcd half = knot.bottomLeftCorner(rest, n_moving_);
    half.noalias() += 0.5 * (knot.bottomRightCorner(rest, rest) * below);
    const MatrixXcd side = below.transpose() * half;
    out.knots[i] += side + side.transpose();
  });
  return out;
}

VectorXd LiveModel::weights(double freq_hz) const {
  VectorXd out(kKnots);
  for (int k = 0; k < kKnots; ++k) {
    const auto at = static_cast<std::size_t>(k);
    const double distance = std::log(freq_hz / knot_hz_[at]);
    if (std::abs(distance) < 1e-12) return VectorXd::Unit(kKnots, k);
    out(k) = knot_weight_[at] / distance;
  }
  return out / out.sum();
}

void LiveModel::add_knots(const Pencil& pencil, double freq_hz, MatrixXcd& k) const {
  if (pencil.constant) return;
  const VectorXd w = weights(freq_hz);
  for (int i = 0; i < kKnots; ++i) k += w(i) * pencil.knots[static_cast<std::size_t>(i)];
}

/// The surface's matrix for [moving shapes, 1], so that it takes the still share along.
MatrixXcd LiveModel::surface_of(const Pencil& pencil) const {
  const Index m = n_moving_;
  const reduced::FollowedPencil& f = pencil.at_middle;
  MatrixXd re(f.shapes.rows(), m + 1), im(f.shapes.rows(), m + 1);
  re << f.shapes.real(), f.still.real();
  im << f.shapes.imag(), f.still.imag();
  const MatrixXd s_re = base_.surface * re, s_im = base_.surface * im;
  MatrixXcd out(m + 1, m + 1);
  out.real() = re.transpose() * s_re + im.transpose() * s_im;
  const MatrixXd cross = re.transpose() * s_im;
  out.imag() = cross - cross.transpose();
  return out;
}

/// What the brake away from the middle, where the model has it, makes of a response that moves the
/// drive's own place by at_load: a change of rank one, exactly. See response::Brake.
Complex LiveModel::braked(double freq_hz, const Complex& at_load) const {
  const double change = base::kTwoPi * (freq_hz - brake_.taken_at_hz) * brake_.resistance_ns_m;
  return 1.0 / (1.0 + Complex(0.0, change) * at_load);
}

/// Columns [moving shapes; 1] at the points of the curve, and what the poles make of the band
/// beside them: independent tasks, the longest first.
MatrixXcd LiveModel::moves_of(const Pencil& pencil,
                              unsigned threads,
                              const base::Progress& progress,
                              const std::function<void()>& beside) const {
  const Index n = freq_hz_.size(), m = n_moving_;
  const reduced::FollowedPencil& f = pencil.at_middle;
  const Complex still = (base_.load.cast<Complex>().transpose() * f.still).value();
  MatrixXcd moves(m + 1, n);
  constexpr Index kAtOnce = 10;
  const auto solve = [&](std::size_t chunk) {
    progress.check();
    MatrixXcd d(m, m);
    const Index first = static_cast<Index>(chunk) * kAtOnce;
    for (Index i = first; i < std::min(n, first + kAtOnce); ++i) {
      d = f.stiffness - omega2(freq_hz_(i)) * f.mass;
      d += change_[static_cast<std::size_t>(i)];
      add_knots(pencil, freq_hz_(i), d);
      moves.col(i).head(m) = modes::solve_in_place(d, f.load);
      moves(m, i) = 1.0;
      moves.col(i) *=
          braked(freq_hz_(i), (f.load.transpose() * moves.col(i).head(m)).value() + still);
    }
  };
  base::parallel_for(static_cast<std::size_t>((n + kAtOnce - 1) / kAtOnce) + 1,
                     threads,
                     [&](std::size_t task) { task == 0 ? beside() : solve(task - 1); });
  return moves;
}

/// Poles at the middle's moduli, each moved to first order to the moduli at its own frequency.
reduced::PoleExpansion LiveModel::poles_of(const Pencil& pencil) const {
  const reduced::FollowedPencil& f = pencil.at_middle;
  reduced::PoleExpansion poles = reduced::expand_pencil(f.stiffness, f.mass, f.load, band_.high_hz);
  const Index n = poles.lambda.size();
  MatrixXd share(kKnots, n);
  const auto ends = std::minmax_element(knot_hz_.begin(), knot_hz_.end());
  for (Index j = 0; j < n; ++j)
    share.col(j) =
        weights(std::clamp(std::sqrt(std::max(poles.lambda(j).real(), 0.0)) / base::kTwoPi,
                           *ends.first,
                           *ends.second));
  VectorXcd shift = VectorXcd::Zero(n);
  for (int k = 0; k < kKnots; ++k) {
    MatrixXcd change = knot_change_[static_cast<std::size_t>(k)];
    if (!pencil.constant) change += pencil.knots[static_cast<std::size_t>(k)];
    const MatrixXcd moved = change * poles.shape;
    for (Index j = 0; j < n; ++j)
      shift(j) += share(k, j) * (poles.shape.col(j).transpose() * moved.col(j)).value();
  }
  poles.lambda += shift;
  return poles;
}

/// The closed form over the poles resolves every peak but moves poles only to first order.
LiveModel::NearBand LiveModel::near_band(const Pencil& pencil, const MatrixXcd& surface) const {
  reduced::PoleExpansion poles = poles_of(pencil);
  const Index m = n_moving_, n = poles.lambda.size();
  poles.shape.conservativeResize(m + 1, Eigen::NoChange);
  poles.shape.row(m).setZero();
  poles.still.conservativeResize(m + 1);
  poles.still(m) = 1.0;
  poles.still_at_load += (base_.load.cast<Complex>().transpose() * pencil.at_middle.still).value();
  const reduced::BandIntegral integral(poles, surface);
  NearBand out;
  out.integral = response::weighted(integral, drive_, band_.low_hz, band_.high_hz, brake_);
  MatrixXcd factor(n, n_inside_);
  for (Index c = 0; c < n_inside_; ++c)
    factor.col(c) =
        poles.amplitude.array() / (poles.lambda.array() - omega2(freq_hz_(first_inside_ + c)));
  MatrixXcd moves = poles.shape * factor;
  moves.colwise() += poles.still;
  const MatrixXcd on_surface = surface * moves;
  for (Index c = 0; c < n_inside_; ++c) {
    const double f = freq_hz_(first_inside_ + c);
    double square = omega2(f) * moves.col(c).dot(on_surface.col(c)).real();
    if (brake_.resistance_ns_m > 0.0) square *= std::norm(braked(f, integral.at_load(f)));
    out.at_points += strength_(first_inside_ + c) * square;
  }
  return out;
}

LiveModel::Answer LiveModel::answer(const Laid& pieces,
                                    unsigned threads,
                                    const base::Progress& progress) const {
  const double reference = base::kVelocityReference * base::kVelocityReference;
  progress.check();
  const Pencil pencil = pencil_of(pieces, threads);
  const MatrixXcd surface = surface_of(pencil);
  NearBand near;
  const MatrixXcd moves =
      moves_of(pencil, threads, progress, [&] { near = near_band(pencil, surface); });
  const MatrixXcd on_surface = surface * moves;
  Answer out;
  out.curve_db.resize(freq_hz_.size());
  double at_points = 0.0;
  for (Index i = 0; i < freq_hz_.size(); ++i) {
    const double square =
        strength_(i) * omega2(freq_hz_(i)) * moves.col(i).dot(on_surface.col(i)).real();
    out.curve_db(i) = base::to_db(square / reference);
    if (i >= first_inside_ && i < first_inside_ + n_inside_) at_points += square;
  }
  // What the poles miss shows at the curve's points, where both are known.
  const double mended =
      near.at_points > 0.0 ? near.integral * at_points / near.at_points : near.integral;
  out.band_level_db =
      base::to_db(response::band_mean(mended, drive_, band_.low_hz, band_.high_hz) / reference);
  return out;
}

/// Each of the lowest poles by inverse iteration with the moduli at its own frequency.
LiveModel::Modes LiveModel::modes(const Laid& pieces,
                                  int most,
                                  const base::Progress& progress) const {
  const Pencil pencil = pencil_of(pieces, 1);
  const reduced::FollowedPencil& f = pencil.at_middle;
  const reduced::PoleExpansion poles = poles_of(pencil);
  const auto ends = std::minmax_element(knot_hz_.begin(), knot_hz_.end());
  Modes out;
  std::vector<std::pair<Complex, VectorXcd>> found;
  for (Index j = 0; j < std::min<Index>(most, poles.lambda.size()); ++j) {
    progress.check();
    Complex lambda = poles.lambda(j);
    VectorXcd x = poles.shape.col(j);
    for (int step = 0; step < 20; ++step) {
      const double own = std::clamp(
          std::sqrt(std::max(lambda.real(), 0.0)) / base::kTwoPi, *ends.first, *ends.second);
      MatrixXcd k = f.stiffness;
      const VectorXd w = weights(own);
      for (int i = 0; i < kKnots; ++i) {
        k += w(i) * knot_change_[static_cast<std::size_t>(i)];
        if (!pencil.constant) k += w(i) * pencil.knots[static_cast<std::size_t>(i)];
      }
      // Slightly off the eigenvalue, so that the matrix can be factorised.
      MatrixXcd d = k - lambda * (1.0 + 1e-7) * f.mass;
      x = modes::solve_in_place(d, reduced::complex_times(f.mass, x));
      x /= std::sqrt((x.transpose() * reduced::complex_times(f.mass, x)).value());
      const Complex next = (x.transpose() * reduced::complex_times(k, x)).value();
      const double change = std::abs(next - lambda) / std::max(std::abs(next), 1e-300);
      lambda = next;
      if (change < 1e-9) break;
    }
    found.emplace_back(lambda, f.shapes * x);
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
    return a.first.real() < b.first.real();
  });
  const auto n = static_cast<Index>(found.size());
  out.lambda.resize(n);
  out.shape.resize(coordinates_.rows(), n);
  for (Index j = 0; j < n; ++j) {
    out.lambda(j) = found[static_cast<std::size_t>(j)].first;
    out.shape.col(j) = coordinates_ * found[static_cast<std::size_t>(j)].second;
  }
  return out;
}

}  // namespace calmplate::editing
