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

namespace calmplate::reduced {

Eigen::VectorXcd PoleExpansion::response(double freq_hz) const {
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  const Eigen::VectorXcd factor = amplitude.array() / (lambda.array() - w2);
  return shape * factor + still;
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
  out.still = at_shift - out.shape * moved;
  return out;
}

BandIntegral::BandIntegral(const PoleExpansion& poles, const Eigen::MatrixXcd& surface)
    : lambda_(poles.lambda), root_(poles.lambda.cwiseSqrt()) {
  const Eigen::Index n = lambda_.size();
  const Eigen::MatrixXcd sx = surface * poles.shape;
  pair_ = poles.shape.adjoint() * sx;  // (k, j): shape_k^H S shape_j
  for (Eigen::Index j = 0; j < n; ++j)
    for (Eigen::Index k = 0; k < n; ++k)
      pair_(k, j) *=
          poles.amplitude(j) * std::conj(poles.amplitude(k)) / (std::conj(lambda_(k)) - lambda_(j));
  with_still_ = (poles.still.adjoint() * sx).transpose();
  with_still_.array() *= poles.amplitude.array();
  still_ = (poles.still.adjoint() * (surface * poles.still)).value().real();
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
  const std::complex<double> pairs = j.transpose() * pair_.colwise().sum().transpose();
  const std::complex<double> mirrored = j.adjoint() * pair_.rowwise().sum();
  sum += (pairs - mirrored).real();
  return sum / base::kTwoPi;
}

}  // namespace calmplate::reduced
