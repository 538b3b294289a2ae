// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/complex_modes.hpp"

#include <catch2/catch.hpp>

#include "reduced/toy_model.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

/// The equation itself, K(f) x = w^2 (1 + i eta) M x with f the mode's own frequency.
void check_modes(const reduced::ReducedModel& m, const reduced::ComplexModes& modes) {
  REQUIRE(modes.freq_hz.size() > 3);
  for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
    const double w = base::kTwoPi * modes.freq_hz(j);
    const std::complex<double> lambda = w * w * std::complex<double>(1.0, modes.loss_factor(j));
    const Eigen::VectorXcd x = modes.shape.col(j);
    const Eigen::VectorXcd kx = m.stiffness(modes.freq_hz(j)) * x;
    CAPTURE(j, modes.freq_hz(j), modes.loss_factor(j));
    CHECK((kx - lambda * (m.mass * x)).norm() < 1e-6 * kx.norm());
    CHECK(std::abs((x.transpose() * (m.mass * x)).value() - 1.0) < 1e-9);
    if (j > 0) CHECK(modes.freq_hz(j) >= modes.freq_hz(j - 1));
    CHECK(modes.loss_factor(j) > 0.0);
  }
}

}  // namespace

TEST_CASE("damped modes solve their equation with a constant modulus", "[reduced][derived]") {
  const reduced::ReducedModel m =
      toy_model(0.01, std::make_shared<sheet::ConstantModulus>(1e6, 1.0));
  const reduced::ComplexModes modes = reduced::complex_modes(m, 250.0);
  check_modes(m, modes);
  // None missed: the undamped count up to 250 Hz of 40, 70, ... is seven or so; exactly those
  // poles.
  const Eigen::VectorXcd all =
      Eigen::ComplexEigenSolver<Eigen::MatrixXcd>(
          m.mass.cast<std::complex<double>>().partialPivLu().solve(m.stiffness(100.0)))
          .eigenvalues();
  const double top = std::pow(base::kTwoPi * 250.0, 2);
  CHECK((all.real().array() <= top).count() == modes.freq_hz.size());
}

// Source: derived. Each mode takes the modulus at its own frequency, so the equation above holds
// with K at that frequency.
TEST_CASE("damped modes settle on the modulus at their own frequency", "[reduced][derived]") {
  const reduced::ReducedModel m = toy_model(0.01, std::make_shared<RisingModulus>());
  const reduced::ComplexModes modes = reduced::complex_modes(m, 250.0);
  check_modes(m, modes);
  // They are not the modes with the modulus of another frequency.
  const reduced::ComplexModes fixed = reduced::complex_modes(
      toy_model(0.01, std::make_shared<sheet::ConstantModulus>(1e6, 0.9)), 250.0);
  CHECK(std::abs(fixed.loss_factor(0) / modes.loss_factor(0) - 1.0) > 0.02);
}

// Source: derived. With one loss factor for all of the stiffness every mode has it, by either
// measure; the frequencies are the undamped ones.
TEST_CASE("a loss common to all stiffness is every mode's loss", "[reduced][derived]") {
  const reduced::ReducedModel m = toy_model(0.07);
  const reduced::ComplexModes modes = reduced::complex_modes(m, 250.0);
  const reduced::ComplexModes still = reduced::complex_modes(toy_model(0.0), 250.0);
  REQUIRE(modes.freq_hz.size() == still.freq_hz.size());
  for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
    CHECK(modes.loss_factor(j) == Approx(0.07).epsilon(1e-8));
    CHECK(modes.loss_factor_energy(j) == Approx(0.07).epsilon(1e-8));
    CHECK(modes.freq_hz(j) == Approx(still.freq_hz(j)).epsilon(1e-9));
    CHECK(still.loss_factor(j) == Approx(0.0).margin(1e-9));
  }
}

// Source: derived. First-order perturbation: strain energy is right for small loss. A stiff spring
// beside a very lossy one in series shows why it is a diagnostic: exact is Im/Re of
// k g / (k + g) with g = i k eta'.
TEST_CASE("strain energy gives the loss of lightly damped modes and overstates that of others",
          "[reduced][derived]") {
  const auto core = [](double loss) { return std::make_shared<sheet::ConstantModulus>(1e6, loss); };
  const reduced::ReducedModel light = toy_model(0.0, core(0.01));
  const reduced::ComplexModes a = reduced::complex_modes(light, 250.0);
  for (Eigen::Index j = 0; j < a.freq_hz.size(); ++j)
    CHECK(a.loss_factor_energy(j) == Approx(a.loss_factor(j)).epsilon(2e-3));

  // A mass on a spring k, then a core of modulus g to the ground, all but without mass between.
  reduced::ReducedModel m;
  m.mass = Eigen::Vector2d(1.0, 1e-6).asDiagonal();
  Eigen::MatrixXd spring(2, 2), ground = Eigen::MatrixXd::Zero(2, 2);
  spring << 1e6, -1e6, -1e6, 1e6;
  ground(1, 1) = 1.0;
  m.terms.push_back({"spring", spring, nullptr, 0.0});
  m.terms.push_back({"core", ground, core(1.0), 0.0});
  m.load = Eigen::Vector2d(1.0, 0.0);
  m.surface = Eigen::Matrix2d::Identity();
  const reduced::ComplexModes b = reduced::complex_modes(m, 300.0);
  REQUIRE(b.freq_hz.size() == 1);
  const std::complex<double> g(1e6, 1e6), series = 1e6 * g / (1e6 + g);
  CHECK(b.loss_factor(0) == Approx(series.imag() / series.real()).epsilon(1e-4));
  CHECK(b.freq_hz(0) == Approx(std::sqrt(series.real()) / base::kTwoPi).epsilon(1e-4));
  CHECK(b.loss_factor_energy(0) > 1.1 * b.loss_factor(0));
}

// Source: derived. Energy falls as exp(-2 pi f eta t); a millionth of it at 6 ln 10 / (2 pi f eta).
TEST_CASE("ring time is 2.19881 over frequency and loss", "[reduced][derived]") {
  CHECK(reduced::ring_time(1.0, 1.0) == Approx(2.19881).epsilon(2e-6));
  const double t = reduced::ring_time(37.0, 0.04);
  CHECK(std::exp(-base::kTwoPi * 37.0 * 0.04 * t) == Approx(1e-6).epsilon(1e-9));
}

TEST_CASE("a top frequency that is not above zero is refused", "[reduced]") {
  for (const double bad : {0.0, -5.0, double(NAN)})
    CHECK_THROWS_AS(reduced::complex_modes(toy_model(0.01), bad), std::invalid_argument);
}
