// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/live_model.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "base/units.hpp"
#include "drive/spectrum.hpp"
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
/// Knots over four octaves: a modulus that grows with the square root of frequency is met to 1e-5.
constexpr int kKnots = 6;

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
  for (Index i = 0; i < freq_hz.size(); ++i)
    change_.push_back(moving_part(base_, freq_hz(i), n_moving_) - middle);
  const VectorXd load = base_.load.head(n_moving_);
  const MatrixXcd across = (load * load.transpose()).cast<Complex>();
  const double centre = 0.5 * std::log(high_hz * low_hz), half = 0.5 * std::log(high_hz / low_hz);
  for (int k = 0; k < kKnots; ++k) {
    const double x = std::cos(base::kPi * (k + 0.5) / kKnots);  // Chebyshev points
    knot_hz_.push_back(std::exp(centre + half * x));
    const Complex braked(0.0,
                         base::kTwoPi * (knot_hz_.back() - middle_hz_) * brake.resistance_ns_m);
    knot_change_.push_back(moving_part(base_, knot_hz_.back(), n_moving_) - middle -
                           braked * across);
    // Barycentric weights of Chebyshev points of the first kind. Source: [derived] product rule.
    knot_weight_.push_back((k % 2 == 0 ? 1.0 : -1.0) * std::sin(base::kPi * (k + 0.5) / kKnots));
  }
}

LivePiece LiveModel::lift(const reduced::CondensedPiece& piece, double temp_k) const {
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
  if (!piece.constant())
    for (const double f : knot_hz_) out.knots.push_back(spanned(a, at(f) - middle));
  return out;
}

LiveModel::Pencil LiveModel::pencil_of(const Laid& pieces) const {
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
  for (const MatrixXcd& knot : knots) {
    // shapes^T knot shapes with the identity on top of the shapes
    MatrixXcd projected = knot.topLeftCorner(n_moving_, n_moving_);
    if (rest > 0) {
      MatrixXcd half = knot.bottomLeftCorner(rest, n_moving_);
      half.noalias() += 0.5 * (knot.bottomRightCorner(rest, rest) * below);
      const MatrixXcd side = below.transpose() * half;
      projected += side + side.transpose();
    }
    out.knots.push_back(std::move(projected));
  }
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

VectorXd LiveModel::mean_squares(const Pencil& pencil,
                                 const MatrixXcd& surface,
                                 unsigned threads,
                                 const base::Progress& progress) const {
  const Index n = freq_hz_.size(), m = n_moving_;
  const reduced::FollowedPencil& f = pencil.at_middle;
  MatrixXcd moves(m + 1, n);
  constexpr Index kAtOnce = 25;
  base::parallel_for(
      static_cast<std::size_t>((n + kAtOnce - 1) / kAtOnce), threads, [&](std::size_t chunk) {
        progress.check();
        MatrixXcd d(m, m);
        const Index first = static_cast<Index>(chunk) * kAtOnce;
        for (Index i = first; i < std::min(n, first + kAtOnce); ++i) {
          d = f.stiffness - omega2(freq_hz_(i)) * f.mass;
          d += change_[static_cast<std::size_t>(i)];
          add_knots(pencil, freq_hz_(i), d);
          moves.col(i).head(m) = Eigen::PartialPivLU<MatrixXcd>(d).solve(f.load);
          moves(m, i) = 1.0;
        }
      });
  const MatrixXcd on_surface = surface * moves;
  VectorXd out(n);
  for (Index i = 0; i < n; ++i)
    out(i) = omega2(freq_hz_(i)) * moves.col(i).dot(on_surface.col(i)).real();
  return out;
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

/// The closed form over the poles resolves every peak but moves poles only to first order; what it
/// misses shows at the curve's points, where both are known, and is put right by their ratio.
double LiveModel::band_mean_square(const Pencil& pencil,
                                   const MatrixXcd& surface,
                                   const VectorXd& mean_squares) const {
  reduced::PoleExpansion poles = poles_of(pencil);
  const Index m = n_moving_, n = poles.lambda.size();
  poles.shape.conservativeResize(m + 1, Eigen::NoChange);
  poles.shape.row(m).setZero();
  poles.still.conservativeResize(m + 1);
  poles.still(m) = 1.0;
  poles.still_at_load += (base_.load.cast<Complex>().transpose() * pencil.at_middle.still).value();
  const reduced::BandIntegral integral(poles, surface);
  const double closed = response::weighted(integral, drive_, band_.low_hz, band_.high_hz, brake_);

  std::vector<Index> inside;
  for (Index i = 0; i < freq_hz_.size(); ++i)
    if (freq_hz_(i) >= band_.low_hz && freq_hz_(i) <= band_.high_hz) inside.push_back(i);
  MatrixXcd factor(n, static_cast<Index>(inside.size()));
  for (Index c = 0; c < factor.cols(); ++c)
    factor.col(c) = poles.amplitude.array() /
                    (poles.lambda.array() - omega2(freq_hz_(inside[static_cast<std::size_t>(c)])));
  MatrixXcd moves = poles.shape * factor;
  moves.colwise() += poles.still;
  const MatrixXcd on_surface = surface * moves;
  double exact = 0.0, near = 0.0;
  for (Index c = 0; c < factor.cols(); ++c) {
    const Index i = inside[static_cast<std::size_t>(c)];
    const double strength = drive::strength(drive_, freq_hz_(i));
    double square = omega2(freq_hz_(i)) * moves.col(c).dot(on_surface.col(c)).real();
    if (brake_.resistance_ns_m > 0.0) {
      const double change =
          base::kTwoPi * (freq_hz_(i) - brake_.taken_at_hz) * brake_.resistance_ns_m;
      square /= std::norm(1.0 + Complex(0.0, change) * integral.at_load(freq_hz_(i)));
    }
    exact += strength * mean_squares(i);
    near += strength * square;
  }
  const double mended = near > 0.0 ? closed * exact / near : closed;
  return response::band_mean(mended, drive_, band_.low_hz, band_.high_hz);
}

LiveModel::Answer LiveModel::answer(const Laid& pieces,
                                    unsigned threads,
                                    const base::Progress& progress) const {
  const double reference = base::kVelocityReference * base::kVelocityReference;
  progress.check();
  const Pencil pencil = pencil_of(pieces);
  const MatrixXcd surface = surface_of(pencil);
  const VectorXd squares = mean_squares(pencil, surface, threads, progress);
  Answer out;
  out.curve_db.resize(squares.size());
  for (Index i = 0; i < squares.size(); ++i)
    out.curve_db(i) = base::to_db(drive::strength(drive_, freq_hz_(i)) * squares(i) / reference);
  progress.check();
  out.band_level_db = base::to_db(band_mean_square(pencil, surface, squares) / reference);
  return out;
}

/// Each of the lowest poles by inverse iteration with the moduli at its own frequency.
LiveModel::Modes LiveModel::modes(const Laid& pieces,
                                  int most,
                                  const base::Progress& progress) const {
  const Pencil pencil = pencil_of(pieces);
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
      const MatrixXcd d = k - lambda * (1.0 + 1e-7) * f.mass;
      x = Eigen::PartialPivLU<MatrixXcd>(d).solve(reduced::complex_times(f.mass, x));
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
