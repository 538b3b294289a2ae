// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/pole_expansion.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "base/units.hpp"
#include "reduced/complex_times.hpp"

namespace calmplate::reduced {

Eigen::VectorXcd PoleExpansion::response(double freq_hz) const {
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  const Eigen::VectorXcd factor = amplitude.array() / (lambda.array() - w2);
  return complex_times(shape, factor) + still;
}

PoleExpansion expand(const ReducedModel& model, double freq_hz, double top_hz) {
  return expand_pencil(model.stiffness(freq_hz),
                       model.mass.cast<std::complex<double>>(),
                       model.load.cast<std::complex<double>>(),
                       top_hz);
}

PoleExpansion expand_pencil(const Eigen::MatrixXcd& k,
                            const Eigen::MatrixXcd& m,
                            const Eigen::VectorXcd& load,
                            double top_hz) {
  // Shift below zero, so that a free panel's stiffness can be inverted too; the result is exact.
  const double shift = -std::pow(base::kTwoPi * 1.0, 2);
  const Eigen::PartialPivLU<Eigen::MatrixXcd> factor(k - shift * m);
  const Eigen::ComplexEigenSolver<Eigen::MatrixXcd> eig(factor.solve(m));
  if (eig.info() != Eigen::Success)
    throw std::runtime_error("expand: the complex eigenvalues did not converge");

  const double top = std::pow(base::kTwoPi * top_hz, 2);
  std::vector<Eigen::Index> moving;
  PoleExpansion out;
  for (Eigen::Index j = 0; j < eig.eigenvalues().size(); ++j)
    if (std::abs(eig.eigenvalues()(j)) * 1e4 * top > 1.0) moving.push_back(j);
  std::sort(moving.begin(), moving.end(), [&](Eigen::Index a, Eigen::Index b) {
    const double fa = (1.0 / eig.eigenvalues()(a)).real();
    const double fb = (1.0 / eig.eigenvalues()(b)).real();
    return fa != fb ? fa < fb : a < b;
  });
  const auto n = static_cast<Eigen::Index>(moving.size());
  out.lambda.resize(n);
  out.shape.resize(m.rows(), n);
  for (Eigen::Index j = 0; j < n; ++j) {
    const Eigen::Index from = moving[static_cast<std::size_t>(j)];
    out.lambda(j) = shift + 1.0 / eig.eigenvalues()(from);
    const Eigen::VectorXcd x = eig.eigenvectors().col(from);
    out.shape.col(j) = x / std::sqrt((x.transpose() * (m * x)).value());
  }
  out.amplitude = out.shape.transpose() * load;
  // What inertia does not reach: the response at the shift less what the moving poles give there.
  const Eigen::VectorXcd at_shift = factor.solve(load);
  const Eigen::VectorXcd moved = out.amplitude.array() / (out.lambda.array() - shift);
  out.still = at_shift - complex_times(out.shape, moved);
  out.still_at_load = (load.transpose() * out.still).value();
  return out;
}

BandIntegral::BandIntegral(const PoleExpansion& poles, const Eigen::MatrixXcd& surface) {
  const Eigen::MatrixXcd sx = surface * poles.shape;
  product_ = poles.shape.adjoint() * sx;  // (k, j): shape_k^H S shape_j
  product_ =
      (poles.amplitude.conjugate().asDiagonal() * product_ * poles.amplitude.asDiagonal()).eval();
  with_still_ = (poles.still.adjoint() * sx).transpose();
  with_still_.array() *= poles.amplitude.array();
  still_ = poles.still.dot(complex_times(surface, poles.still)).real();
  at_load_ = poles.amplitude.array().square();
  still_at_load_ = poles.still_at_load;
  set_poles(poles.lambda);
}

void BandIntegral::set_poles(const Eigen::VectorXcd& lambda) {
  const Eigen::Index n = lambda.size();
  lambda_ = lambda;
  root_ = lambda.cwiseSqrt();
  over_k_ = Eigen::VectorXcd::Zero(n);
  over_j_ = Eigen::VectorXcd::Zero(n);
  for (Eigen::Index j = 0; j < n; ++j)
    for (Eigen::Index k = 0; k < n; ++k) {
      const std::complex<double> pair = product_(k, j) / (std::conj(lambda(k)) - lambda(j));
      over_k_(j) += pair;
      over_j_(k) += pair;
    }
}

BandIntegral BandIntegral::with_poles(const Eigen::VectorXcd& lambda) const {
  BandIntegral out;
  out.product_ = product_;
  out.with_still_ = with_still_;
  out.still_ = still_;
  out.at_load_ = at_load_;
  out.still_at_load_ = still_at_load_;
  out.set_poles(lambda);
  return out;
}

std::complex<double> BandIntegral::at_load(double freq_hz) const {
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  return still_at_load_ + (at_load_.array() / (lambda_.array() - w2)).sum();
}

double BandIntegral::mean_square_velocity(double low_hz, double high_hz) const {
  const double a = base::kTwoPi * low_hz, b = base::kTwoPi * high_hz;
  const Eigen::Index n = lambda_.size();
  Eigen::VectorXcd j(n);  // integral of lambda / (lambda - w^2)
  for (Eigen::Index i = 0; i < n; ++i)
    j(i) = root_(i) * (std::atanh(b / root_(i)) - std::atanh(a / root_(i)));
  double sum = still_ * (b * b * b - a * a * a) / 3.0;
  // int w^2 / (lambda - w^2) dw = J - (b - a)
  for (Eigen::Index i = 0; i < n; ++i) sum += 2.0 * (with_still_(i) * (j(i) - (b - a))).real();
  const std::complex<double> pairs = j.transpose() * over_k_;
  const std::complex<double> mirrored = j.adjoint() * over_j_;
  sum += (pairs - mirrored).real();
  return sum / base::kTwoPi;
}

}  // namespace calmplate::reduced
