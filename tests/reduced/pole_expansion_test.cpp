// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/pole_expansion.hpp"

#include <catch2/catch.hpp>

#include "reduced/toy_model.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

reduced::ReducedModel lossy_toy(double skin_loss) {
  return toy_model(skin_loss, std::make_shared<sheet::ConstantModulus>(1e6, 0.8));
}

/// Simpson's rule over the solutions themselves.
double by_sum(const reduced::ReducedModel& m, double low_hz, double high_hz, double step_hz) {
  const int n = 2 * static_cast<int>(std::ceil((high_hz - low_hz) / step_hz / 2.0));
  double sum = 0.0;
  for (int i = 0; i <= n; ++i) {
    const double weight = i == 0 || i == n ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
    sum += weight * mean_square_velocity(m, low_hz + (high_hz - low_hz) * i / n);
  }
  return sum * (high_hz - low_hz) / n / 3.0;
}

}  // namespace

// Source: derived. Poles and zero-inertia part against the solution of the same equations.
TEST_CASE("the poles give the response that solving gives, at every frequency",
          "[reduced][derived]") {
  const reduced::ReducedModel m = lossy_toy(0.01);
  const reduced::PoleExpansion poles = reduced::expand(m, 100.0, 300.0);
  CHECK(poles.lambda.size() == 9);
  CHECK(poles.still.norm() > 0.0);
  for (double f = 0.5; f < 300.0; f += 0.77) {
    const Eigen::VectorXcd exact = m.solve(f), found = poles.response(f);
    CHECK((found - exact).norm() < 1e-7 * exact.norm());
  }
}

TEST_CASE("poles come in rising order, each normal to the others through the mass",
          "[reduced][derived]") {
  const reduced::ReducedModel m = lossy_toy(0.01);
  const reduced::PoleExpansion poles = reduced::expand(m, 100.0, 300.0);
  const Eigen::MatrixXcd gram = poles.shape.transpose() * m.mass * poles.shape;
  CHECK((gram - Eigen::MatrixXcd::Identity(9, 9)).norm() < 1e-8);
  for (Eigen::Index j = 0; j < poles.lambda.size(); ++j) {
    if (j > 0) CHECK(poles.lambda(j).real() > poles.lambda(j - 1).real());
    CHECK(poles.lambda(j).imag() > 0.0);
    CHECK(std::abs(poles.amplitude(j) -
                   (poles.shape.col(j).transpose() * m.load.cast<std::complex<double>>()).value()) <
          1e-9 * std::abs(poles.amplitude(j)) + 1e-15);
  }
}

// Source: derived. A rigid-body mode has its pole at 0: a free mass follows 1 / (-w^2 m).
TEST_CASE("a model that can move freely has a pole at zero", "[reduced][derived]") {
  reduced::ReducedModel m;
  m.mass = Eigen::Vector2d(2.0, 3.0).asDiagonal();
  Eigen::MatrixXd k(2, 2);
  k << 1e6, -1e6, -1e6, 1e6;
  m.terms.push_back({"spring", k, nullptr, 0.02});
  m.load = Eigen::Vector2d(1.0, 0.0);
  m.surface = Eigen::Matrix2d::Identity();
  const reduced::PoleExpansion poles = reduced::expand(m, 50.0, 400.0);
  REQUIRE(poles.lambda.size() == 2);
  CHECK(std::abs(poles.lambda(0)) < 1e-6 * std::abs(poles.lambda(1)));
  for (const double f : {0.05, 1.0, 60.0, 144.0}) {
    const Eigen::VectorXcd exact = m.solve(f);
    CHECK((poles.response(f) - exact).norm() < 1e-6 * exact.norm());
  }
}

// Source: derived. Simpson's rule with steps far below the half-power width of the sharpest peak
// (0.08 Hz at loss 0.002).
TEST_CASE("the band integral is what a fine sum comes to, sharp peaks included",
          "[reduced][derived]") {
  for (const double loss : {0.002, 0.05}) {
    const reduced::ReducedModel m = loss < 0.01 ? toy_model(loss) : lossy_toy(loss);
    const reduced::PoleExpansion poles = reduced::expand(m, 100.0, 300.0);
    const reduced::BandIntegral band(poles, m.surface);
    CAPTURE(loss);
    const double fine = by_sum(m, 35.0, 260.0, 0.01);
    CHECK(band.mean_square_velocity(35.0, 260.0) == Approx(fine).epsilon(1e-6).margin(0.0));
    // Halving the step of the sum changes nothing: it has converged on the closed form.
    CHECK(by_sum(m, 35.0, 260.0, 0.005) == Approx(fine).epsilon(1e-6).margin(0.0));
    // A sum at 2 Hz is what the closed form is there to avoid.
    if (loss < 0.01) CHECK(std::abs(by_sum(m, 35.0, 260.0, 2.0) / fine - 1.0) > 0.05);
  }
}

TEST_CASE("the band integral of a band is the sum of those of its parts", "[reduced][derived]") {
  const reduced::ReducedModel m = toy_model(0.002);
  const reduced::PoleExpansion poles = reduced::expand(m, 100.0, 300.0);
  const reduced::BandIntegral band(poles, m.surface);
  const double whole = band.mean_square_velocity(0.0, 250.0);
  for (const int parts : {2, 3, 10, 500}) {
    double sum = 0.0;
    for (int i = 0; i < parts; ++i) {
      const double part = band.mean_square_velocity(250.0 * i / parts, 250.0 * (i + 1) / parts);
      CHECK(part > 0.0);
      sum += part;
    }
    CHECK(sum == Approx(whole).epsilon(1e-9).margin(0.0));
  }
  CHECK(band.mean_square_velocity(100.0, 100.0) == 0.0);
}

// Source: derived. One mode: int w^2 / |w0^2 (1 + i eta) - w^2|^2 dw = pi / (2 eta w0) over all
// frequencies for small eta, so a band level falls by 10 lg of the loss factor.
TEST_CASE("the band level of one mode falls in proportion to its loss", "[reduced][derived]") {
  for (const double loss : {0.002, 0.02}) {
    reduced::ReducedModel m;
    m.mass = Eigen::MatrixXd::Constant(1, 1, 1.0);
    const double w0 = base::kTwoPi * 100.0;
    m.terms.push_back({"spring", Eigen::MatrixXd::Constant(1, 1, w0 * w0), nullptr, loss});
    m.load = Eigen::VectorXd::Constant(1, 1.0);
    m.surface = Eigen::MatrixXd::Constant(1, 1, 1.0);
    const reduced::BandIntegral band(reduced::expand(m, 100.0, 1000.0), m.surface);
    const double all = base::kTwoPi * band.mean_square_velocity(0.0, 1e5);
    CHECK(all == Approx(base::kPi / (2.0 * loss * w0)).epsilon(1e-3));
  }
}
