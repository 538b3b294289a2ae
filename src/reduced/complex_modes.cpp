// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/complex_modes.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "base/units.hpp"
#include "reduced/complex_times.hpp"
#include "reduced/pole_expansion.hpp"

namespace calmplate::reduced {
namespace {

constexpr double kLeast_hz = 0.1;  ///< a mode without stiffness takes the modulus here

struct Mode {
  std::complex<double> lambda;
  Eigen::VectorXcd shape;
};

double frequency(const std::complex<double>& lambda) {
  return std::sqrt(std::max(lambda.real(), 0.0)) / base::kTwoPi;
}

/// lambda = x^T K(f) x with f the frequency of lambda itself, for x^T M x = 1.
std::complex<double> own_quotient(const ReducedModel& model,
                                  const Eigen::VectorXcd& x,
                                  std::complex<double> lambda) {
  std::vector<std::complex<double>> squares;
  for (const ReducedTerm& t : model.terms)
    squares.push_back((x.transpose() * (t.matrix * x)).value());
  for (int step = 0; step < 30; ++step) {
    const double f = std::max(frequency(lambda), kLeast_hz);
    std::complex<double> next = 0.0;
    for (std::size_t t = 0; t < squares.size(); ++t)
      next += model.terms[t].coefficient(f, model.temp_k) * squares[t];
    for (const CondensedPiece& p : model.pieces)
      next += p.quadratic(x, Eigen::VectorXd::Constant(1, f), model.temp_k)(0);
    const double change = std::abs(next - lambda);
    lambda = next;
    if (change <= 1e-12 * std::abs(next)) break;
  }
  return lambda;
}

/// Inverse iteration with the modulus at the mode's own frequency. The quotient is settled before
/// each step, so that a step has only the shape to mend and few are needed.
Mode settle(const ReducedModel& model, Mode mode) {
  for (int step = 0; step < 50; ++step) {
    const std::complex<double> lambda = own_quotient(model, mode.shape, mode.lambda);
    const Eigen::MatrixXcd k = model.stiffness(std::max(frequency(lambda), kLeast_hz));
    // Slightly off the eigenvalue, so that the matrix can be factorised.
    const Eigen::MatrixXcd d = k - lambda * (1.0 + 1e-7) * model.mass;
    Eigen::VectorXcd x = Eigen::PartialPivLU<Eigen::MatrixXcd>(d).solve(model.mass * mode.shape);
    x /= std::sqrt((x.transpose() * (model.mass * x)).value());
    const std::complex<double> next = (x.transpose() * complex_times(k, x)).value();
    const double change = std::abs(next - lambda) / std::abs(next);
    mode = {next, x};
    if (change < 1e-10) return mode;
  }
  throw std::runtime_error("complex_modes: a mode near " + std::to_string(frequency(mode.lambda)) +
                           " Hz did not settle");
}

/// Loss by modal strain energy: that of the undamped mode to which the damped one belongs, found by
/// Rayleigh quotient iteration from the real part of its shape.
double energy_loss(const ReducedModel& model, double freq_hz, const Eigen::VectorXcd& shape) {
  const Eigen::MatrixXcd k = model.stiffness(std::max(freq_hz, kLeast_hz));
  const Eigen::MatrixXd stiffness = k.real();
  Eigen::VectorXd x = shape.real();
  x /= std::sqrt(x.dot(model.mass * x));
  double omega2 = x.dot(stiffness * x);
  for (int step = 0; step < 10; ++step) {
    // Slightly off the eigenvalue, so that the matrix can be factorised.
    const Eigen::MatrixXd d = stiffness - omega2 * (1.0 + 1e-7) * model.mass;
    x = Eigen::PartialPivLU<Eigen::MatrixXd>(d).solve(model.mass * x);
    x /= std::sqrt(x.dot(model.mass * x));
    const double next = x.dot(stiffness * x);
    const double change = std::abs(next - omega2);
    omega2 = next;
    if (change <= 1e-8 * std::abs(next)) break;
  }
  return omega2 > 0.0 ? x.dot(k.imag() * x) / omega2 : 0.0;
}

}  // namespace

Eigen::VectorXd real_picture(const Eigen::VectorXcd& shape) {
  const std::complex<double> squares = (shape.transpose() * shape).value();
  const Eigen::VectorXd real = (shape * std::polar(1.0, -0.5 * std::arg(squares))).real();
  Eigen::Index at = 0;
  const double largest = real.cwiseAbs().maxCoeff(&at);
  return largest > 0.0 ? Eigen::VectorXd(real / real(at)) : real;
}

double ring_time(double freq_hz, double loss_factor) {
  return 6.0 * std::log(10.0) / (base::kTwoPi * freq_hz * loss_factor);
}

ComplexModes complex_modes(const ReducedModel& model, double top_hz) {
  if (!(top_hz > 0.0)) throw std::invalid_argument("complex_modes: top_hz must be above 0");
  const PoleExpansion poles = expand(model, top_hz / 2.0, top_hz);
  std::vector<Mode> modes;
  for (Eigen::Index j = 0; j < poles.lambda.size(); ++j) {
    if (frequency(poles.lambda(j)) > 1.2 * top_hz) continue;
    Mode mode{poles.lambda(j), poles.shape.col(j)};
    modes.push_back(model.constant() ? mode : settle(model, mode));
  }
  std::sort(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) {
    return a.lambda.real() < b.lambda.real();
  });
  while (!modes.empty() && frequency(modes.back().lambda) > top_hz) modes.pop_back();

  const auto n = static_cast<Eigen::Index>(modes.size());
  ComplexModes out{Eigen::VectorXd(n),
                   Eigen::VectorXd(n),
                   Eigen::VectorXd(n),
                   Eigen::MatrixXcd(model.size(), n)};
  for (Eigen::Index j = 0; j < n; ++j) {
    const Mode& mode = modes[static_cast<std::size_t>(j)];
    out.freq_hz(j) = frequency(mode.lambda);
    out.loss_factor(j) = mode.lambda.real() > 0.0 ? mode.lambda.imag() / mode.lambda.real() : 0.0;
    out.loss_factor_energy(j) = energy_loss(model, out.freq_hz(j), mode.shape);
    out.shape.col(j) = mode.shape;
  }
  return out;
}

}  // namespace calmplate::reduced
