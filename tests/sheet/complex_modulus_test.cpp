// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/complex_modulus.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace calmplate;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinite = std::numeric_limits<double>::infinity();

}  // namespace

// Source: derived. G (1 + i eta) as the interface states it.
TEST_CASE("a constant modulus is G (1 + i eta) at every frequency and temperature",
          "[sheet][derived]") {
  const sheet::ConstantModulus m(1.2e6, 0.9);
  for (const double freq_hz : {1e-3, 40.0, 250.0, 1e5})
    for (const double temp_k : {250.0, 293.15, 350.0}) {
      CHECK(m.modulus(freq_hz, temp_k).real() == 1.2e6);
      CHECK(m.modulus(freq_hz, temp_k).imag() == Approx(1.08e6).epsilon(1e-15));
    }
  CHECK(m.constant());
  CHECK(sheet::ConstantModulus(1.0, 0.0).modulus(10.0, 300.0) == std::complex<double>(1.0, 0.0));
}

TEST_CASE("a modulus that is not stiff or gives energy is refused", "[sheet]") {
  for (const double bad : {0.0, -1.0, kNaN, kInfinite}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(sheet::ConstantModulus(bad, 0.5), std::invalid_argument);
  }
  for (const double bad : {-1e-9, -1.0, kNaN, kInfinite}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(sheet::ConstantModulus(1e6, bad), std::invalid_argument);
  }
}

TEST_CASE("a frequency or temperature at or below zero is refused", "[sheet]") {
  const sheet::ConstantModulus m(1e6, 0.5);
  for (const double bad : {0.0, -10.0, kNaN, kInfinite}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(m.modulus(bad, 293.15), std::invalid_argument);
    CHECK_THROWS_AS(m.modulus(100.0, bad), std::invalid_argument);
  }
}

TEST_CASE("a modulus that a model of its own gives is not taken for constant", "[sheet]") {
  struct Rising : sheet::ComplexModulus {
    std::complex<double> modulus(double freq_hz, double) const override { return {freq_hz, 0.0}; }
  };
  CHECK_FALSE(Rising().constant());
}
