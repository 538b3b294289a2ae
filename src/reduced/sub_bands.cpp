// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/sub_bands.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/units.hpp"
#include "reduced/complex_times.hpp"

namespace calmplate::reduced {
namespace {

/// Modes up to this many times the top of the range keep inertia of their own.
constexpr double kMovingTo = 1.6;

PoleExpansion in_model(const PoleExpansion& poles,
                       const FollowedPencil& pencil,
                       const Eigen::VectorXd& load,
                       const Eigen::MatrixXd& v) {
  PoleExpansion out;
  out.lambda = poles.lambda;
  out.amplitude = poles.amplitude;
  out.shape = v * (pencil.shapes * poles.shape);
  out.still = v * (complex_times(pencil.shapes, poles.still) + pencil.still);
  out.still_at_load =
      poles.still_at_load + (load.cast<std::complex<double>>().transpose() * pencil.still).value();
  return out;
}

}  // namespace

FollowedPencil follow(const Eigen::MatrixXcd& k,
                      const Eigen::MatrixXd& m,
                      const Eigen::VectorXd& load,
                      Eigen::Index moving) {
  const Eigen::Index n = k.rows(), rest = n - moving;
  FollowedPencil f;
  f.shapes.resize(n, moving);
  f.shapes.topRows(moving).setIdentity();
  f.still = Eigen::VectorXcd::Zero(n);
  if (rest == 0) {
    f.stiffness = k;
    f.mass = m.cast<std::complex<double>>();
    f.load = load.cast<std::complex<double>>();
    return f;
  }
  const Eigen::PartialPivLU<Eigen::MatrixXcd> lu(k.bottomRightCorner(rest, rest));
  f.shapes.bottomRows(rest) = -lu.solve(k.bottomLeftCorner(rest, moving));
  f.still.tail(rest) = lu.solve(load.tail(rest).cast<std::complex<double>>());
  const Eigen::MatrixXcd t = f.shapes.bottomRows(rest);
  f.stiffness = k.topLeftCorner(moving, moving) + k.topRightCorner(moving, rest) * t;
  const Eigen::MatrixXd re = f.shapes.real(), im = f.shapes.imag();
  const Eigen::MatrixXd mre = m * re, mim = m * im;
  f.mass.resize(moving, moving);
  f.mass.real() = re.transpose() * mre - im.transpose() * mim;
  const Eigen::MatrixXd cross = re.transpose() * mim;
  f.mass.imag() = cross + cross.transpose();
  f.load = f.shapes.transpose() * load;
  return f;
}

ReducedModel in_coordinates(const ReducedModel& model, const Eigen::MatrixXd& v) {
  ReducedModel out;
  const auto changed = [&](const Eigen::MatrixXd& a) {
    return Eigen::MatrixXd(v.transpose() * (a * v));
  };
  out.mass = changed(model.mass);
  for (const ReducedTerm& t : model.terms)
    out.terms.push_back({t.name, changed(t.matrix), t.modulus, t.loss_factor, t.factor});
  out.pieces = model.pieces;
  for (CondensedPiece& p : out.pieces)
    p.span = p.span.size() == 0 ? Eigen::MatrixXd(v.transpose())
                                : Eigen::MatrixXd(v.transpose() * p.span);
  out.load = v.transpose() * model.load;
  out.surface = changed(model.surface);
  out.listen = model.listen * v;
  out.temp_k = model.temp_k;
  return out;
}

RealModes real_modes(const ReducedModel& model, double freq_hz) {
  // M x = mu (K + shift M) x: the left side may be singular, the right side is not.
  const double shift = std::pow(base::kTwoPi * 1.0, 2);
  const Eigen::MatrixXd k = model.stiffness(freq_hz).real() + shift * model.mass;
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> eig(model.mass, k);
  if (eig.info() != Eigen::Success)
    throw std::runtime_error("real_modes: the reduced stiffness is not positive definite");
  const Eigen::Index n = k.rows();
  RealModes out{Eigen::MatrixXd(n, n), Eigen::VectorXd(n)};
  for (Eigen::Index j = 0; j < n; ++j) {
    const Eigen::Index from = n - 1 - j;  // largest mu first: lowest frequency first
    const double mu = std::max(eig.eigenvalues()(from), 1e-14);
    out.omega2(j) = 1.0 / mu - shift;
    out.shape.col(j) = eig.eigenvectors().col(from) / std::sqrt(mu);
  }
  return out;
}

SubBands::SubBands(const ReducedModel& model, double low_hz, double high_hz, int parts_per_octave) {
  if (!(low_hz > 0.0) || !(high_hz > low_hz) || parts_per_octave < 1)
    throw std::invalid_argument("SubBands: 0 < low_hz < high_hz and a part an octave must hold");
  const RealModes modes = real_modes(model, std::sqrt(low_hz * high_hz));
  const double top = std::pow(base::kTwoPi * kMovingTo * high_hz, 2);
  const Eigen::Index moving = std::max<Eigen::Index>((modes.omega2.array() < top).count(), 1);
  const ReducedModel changed = in_coordinates(model, modes.shape);
  const int n = std::max(
      1, static_cast<int>(std::ceil(parts_per_octave * std::log2(high_hz / low_hz) - 1e-9)));
  for (int i = 0; i < n; ++i) {
    Part part;
    part.low_hz = low_hz * std::pow(high_hz / low_hz, static_cast<double>(i) / n);
    part.high_hz = low_hz * std::pow(high_hz / low_hz, static_cast<double>(i + 1) / n);
    const FollowedPencil pencil = follow(changed.stiffness(std::sqrt(part.low_hz * part.high_hz)),
                                         changed.mass,
                                         changed.load,
                                         moving);
    part.poles = in_model(expand_pencil(pencil.stiffness, pencil.mass, pencil.load, high_hz),
                          pencil,
                          changed.load,
                          modes.shape);
    parts_.push_back(std::move(part));
  }
}

const SubBands::Part& SubBands::part_at(double freq_hz) const {
  for (const Part& part : parts_)
    if (freq_hz <= part.high_hz) return part;
  return parts_.back();
}

}  // namespace calmplate::reduced
