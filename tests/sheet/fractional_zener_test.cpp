// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/fractional_zener.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

#include "base/units.hpp"

using namespace calmplate;
using Parameters = sheet::FractionalZenerParameters;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kRoom_k = 293.15;

Parameters made(double low_pa, double high_pa, double time_s, double exponent) {
  Parameters p;
  p.low_pa = low_pa;
  p.high_pa = high_pa;
  p.time_s = time_s;
  p.exponent = exponent;
  return p;
}

/// The same numbers on every machine.
struct Dice {
  std::mt19937 engine{20240917};
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine()) / 4294967296.0;
  }
  double decades(double low, double high) { return std::pow(10.0, between(low, high)); }
};

Parameters random_material(Dice& dice) {
  Parameters p;
  p.low_pa = dice.decades(2.0, 8.0);
  p.high_pa = p.low_pa * dice.decades(0.0, 6.0);
  p.time_s = dice.decades(-14.0, 4.0);
  p.exponent = dice.between(0.02, 1.0);
  const double kind = dice.between(0.0, 3.0);
  p.shift.kind = kind < 1.0   ? sheet::TemperatureShift::Kind::none
                 : kind < 2.0 ? sheet::TemperatureShift::Kind::wlf
                              : sheet::TemperatureShift::Kind::arrhenius;
  p.shift.reference_k = dice.between(230.0, 350.0);
  p.shift.c1 = dice.between(0.0, 30.0);
  p.shift.c2_k = dice.between(1.0, 250.0);
  p.shift.activation_j_mol = dice.between(0.0, 400e3);
  return p;
}

}  // namespace

// Source: derived: z -> 0 leaves G0, z -> infinity Ginf; at |z| = 1, exponent 1: (G0 + i Ginf)/(1 +
// i).
TEST_CASE("a fractional Zener material runs from its low to its high modulus", "[sheet][derived]") {
  const sheet::FractionalZener m(made(1e5, 3e8, 1e-6, 0.6));
  CHECK(m.modulus(1e-12, kRoom_k).real() == Approx(1e5).epsilon(1e-6));
  CHECK(m.modulus(1e-12, kRoom_k).imag() / 1e5 < 1e-6);
  CHECK(m.modulus(1e22, kRoom_k).real() == Approx(3e8).epsilon(1e-6));
  CHECK(m.modulus(1e22, kRoom_k).imag() / 3e8 < 1e-6);

  const sheet::FractionalZener solid(made(2e6, 6e6, 1.0 / (base::kTwoPi * 100.0), 1.0));
  const std::complex<double> middle = solid.modulus(100.0, kRoom_k);
  CHECK(middle.real() == Approx(4e6).epsilon(1e-12));
  CHECK(middle.imag() == Approx(2e6).epsilon(1e-12));
}

// Source: derived: the formula as it stands, in complex arithmetic, where that does not overflow.
TEST_CASE("a fractional Zener material follows its formula", "[sheet][derived]") {
  const Parameters p = made(4e5, 1e9, 2e-7, 0.45);
  const sheet::FractionalZener m(p);
  for (double f = 1e-6; f < 1e13; f *= 7.0) {
    const std::complex<double> z =
        std::pow(std::complex<double>(0.0, base::kTwoPi * f * p.time_s), p.exponent);
    const std::complex<double> wanted = (p.low_pa + p.high_pa * z) / (1.0 + z);
    const std::complex<double> got = m.modulus(f, kRoom_k);
    CAPTURE(f);
    CHECK(got.real() == Approx(wanted.real()).epsilon(1e-12));
    CHECK(got.imag() == Approx(wanted.imag()).epsilon(1e-9));
  }
}

// Source: derived: only f a_T enters.
TEST_CASE("temperature shifts a fractional Zener material along frequency", "[sheet][derived]") {
  Parameters p = made(1e5, 3e8, 6.38915e-8, 0.5);
  const sheet::FractionalZener still(p);
  p.shift.kind = sheet::TemperatureShift::Kind::wlf;
  p.shift.c1 = 8.83032;
  p.shift.c2_k = 195.4;
  const sheet::FractionalZener m(p);
  for (const double c : {-20.0, 0.0, 20.0, 45.0, 80.0}) {
    const double k = base::from_celsius(c);
    const double shifted = 150.0 * std::pow(10.0, p.shift.log10_factor(k));
    const std::complex<double> a = m.modulus(150.0, k), b = still.modulus(shifted, kRoom_k);
    CHECK(a.real() == Approx(b.real()).epsilon(1e-11));
    CHECK(a.imag() == Approx(b.imag()).epsilon(1e-11));
  }
  CHECK(m.modulus(150.0, 273.15).real() > 2.0 * m.modulus(150.0, kRoom_k).real());
}

// Positive-real: it never gives energy. 400 materials, 20 decades of frequency, -60 to 150 C.
TEST_CASE("no fractional Zener material gives energy, and all stiffen with frequency and cold",
          "[sheet]") {
  Dice dice;
  for (int i = 0; i < 400; ++i) {
    const Parameters p = random_material(dice);
    const sheet::FractionalZener m(p);
    CAPTURE(i, p.low_pa, p.high_pa, p.time_s, p.exponent, p.shift.c1, p.shift.c2_k);
    for (double c = -60.0; c <= 150.0; c += 15.0) {
      double before = 0.0;
      for (double decade = -10.0; decade <= 10.0; decade += 0.5) {
        const double f = std::pow(10.0, decade);
        const std::complex<double> g = m.modulus(f, base::from_celsius(c));
        const double warmer = m.modulus(f, base::from_celsius(c + 1.0)).real();
        const bool right = std::isfinite(g.real()) && std::isfinite(g.imag()) && g.imag() >= 0.0 &&
                           g.real() >= p.low_pa && g.real() <= p.high_pa * (1.0 + 1e-14) &&
                           g.real() >= before * (1.0 - 1e-14) && warmer <= g.real() * (1.0 + 1e-14);
        if (!right) {
          CAPTURE(c, f, g.real(), g.imag(), before, warmer);
          REQUIRE(right);
        }
        before = g.real();
      }
    }
  }
}

TEST_CASE("a fractional Zener material bears frequencies and shifts beyond all sense", "[sheet]") {
  Parameters p = made(1e5, 3e8, 1e-8, 1.0);
  p.shift.kind = sheet::TemperatureShift::Kind::arrhenius;
  p.shift.activation_j_mol = 5e6;
  for (const double exponent : {1e-6, 0.5, 1.0}) {
    p.exponent = exponent;
    const sheet::FractionalZener m(p);
    for (const double f : {5e-324, 1e-300, 1.0, 1e300, 1.7e308})
      for (const double k : {1e-300, 200.0, 293.15, 1e300}) {
        const std::complex<double> g = m.modulus(f, k);
        CAPTURE(exponent, f, k);
        CHECK(g.real() >= 1e5);
        CHECK(g.real() <= 3e8 * (1.0 + 1e-14));
        CHECK(g.imag() >= 0.0);
      }
  }
}

TEST_CASE("a fractional Zener material with equal moduli is constant and lossless", "[sheet]") {
  const sheet::FractionalZener m(made(1e6, 1e6, 1e-5, 0.5));
  CHECK(m.constant());
  CHECK(m.modulus(300.0, 280.0) == std::complex<double>(1e6, 0.0));
  CHECK_FALSE(sheet::FractionalZener(made(1e6, 2e6, 1e-5, 0.5)).constant());
  CHECK(m.limits().low_hz == 0.0);
  CHECK(m.limits().high_k == kInfinite);
}

TEST_CASE("a fractional Zener material with a number out of range is refused", "[sheet]") {
  for (const double bad : {0.0, -1.0, kNaN, kInfinite}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(sheet::FractionalZener(made(bad, 1e6, 1e-6, 0.5)), std::invalid_argument);
    CHECK_THROWS_AS(sheet::FractionalZener(made(1e5, bad, 1e-6, 0.5)), std::invalid_argument);
    CHECK_THROWS_AS(sheet::FractionalZener(made(1e5, 1e6, bad, 0.5)), std::invalid_argument);
    CHECK_THROWS_AS(sheet::FractionalZener(made(1e5, 1e6, 1e-6, bad)), std::invalid_argument);
    const sheet::FractionalZener m(made(1e5, 1e6, 1e-6, 0.5));
    CHECK_THROWS_AS(m.modulus(bad, kRoom_k), std::invalid_argument);
    CHECK_THROWS_AS(m.modulus(100.0, bad), std::invalid_argument);
  }
  CHECK_THROWS_AS(sheet::FractionalZener(made(1e6, 9.9e5, 1e-6, 0.5)), std::invalid_argument);
  CHECK_THROWS_AS(sheet::FractionalZener(made(1e5, 1e6, 1e-6, 1.0 + 1e-9)), std::invalid_argument);
  Parameters bad_shift = made(1e5, 1e6, 1e-6, 0.5);
  bad_shift.shift.kind = sheet::TemperatureShift::Kind::wlf;
  CHECK_THROWS_AS(sheet::FractionalZener(bad_shift), std::invalid_argument);
}
