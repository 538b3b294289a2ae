// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/temperature_shift.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "base/units.hpp"

using namespace calmplate;
using Shift = sheet::TemperatureShift;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinite = std::numeric_limits<double>::infinity();

Shift wlf(double c1, double c2_k, double reference_c) {
  Shift s;
  s.kind = Shift::Kind::wlf;
  s.c1 = c1;
  s.c2_k = c2_k;
  s.reference_k = base::from_celsius(reference_c);
  return s;
}

Shift arrhenius(double activation_j_mol, double reference_c) {
  Shift s;
  s.kind = Shift::Kind::arrhenius;
  s.activation_j_mol = activation_j_mol;
  s.reference_k = base::from_celsius(reference_c);
  return s;
}

}  // namespace

// Source: derived, by hand: C2 above the reference half of C1 is left, at infinite T all of it.
TEST_CASE("the shift of WLF is C1 (T - Tr) / (C2 + T - Tr) decades down", "[sheet][derived]") {
  const Shift s = wlf(17.44, 51.6, 20.0);
  CHECK(s.log10_factor(293.15) == Approx(0.0).margin(1e-12));
  CHECK(s.log10_factor(293.15 + 51.6) == Approx(-8.72).epsilon(1e-12));
  CHECK(s.log10_factor(293.15 + 2.0 * 51.6) == Approx(-17.44 * 2.0 / 3.0).epsilon(1e-12));
  CHECK(s.log10_factor(293.15 - 25.8) == Approx(17.44).epsilon(1e-12));
  CHECK(s.log10_factor(1e9) == Approx(-17.44).epsilon(1e-6));
}

// Source: derived: C2' = C2 + Tr' - Tr, C1' = C1 C2 / C2' describe the same material from another
// reference; their values at 20 degrees C were worked out apart from this program.
TEST_CASE("a shift of WLF carried to another reference is the same shift", "[sheet][derived]") {
  const Shift at_25 = wlf(8.61, 200.4, 25.0), at_20 = wlf(8.83032, 195.4, 20.0);
  for (const double c : {-30.0, 0.0, 10.0, 40.0, 60.0, 90.0}) {
    const double k = base::from_celsius(c);
    CHECK(at_20.log10_factor(k) ==
          Approx(at_25.log10_factor(k) - at_25.log10_factor(293.15)).epsilon(1e-5));
  }
  CHECK(std::pow(10.0, at_20.log10_factor(273.15)) == Approx(10.1596).epsilon(1e-5));
  CHECK(std::pow(10.0, at_20.log10_factor(283.15)) == Approx(2.99423).epsilon(1e-5));
  CHECK(std::pow(10.0, at_20.log10_factor(313.15)) == Approx(0.151391).epsilon(1e-5));
  CHECK(std::pow(10.0, at_20.log10_factor(333.15)) == Approx(0.0315879).epsilon(1e-5));
}

// Source: derived, by hand: Q = R ln 10 / (1/250 - 1/300) makes one decade between 250 and 300 K.
TEST_CASE("the shift of Arrhenius runs straight over 1/T", "[sheet][derived]") {
  const double one_decade = 8.314462618 * std::log(10.0) / (1.0 / 250.0 - 1.0 / 300.0);
  const Shift s = arrhenius(one_decade, 300.0 - 273.15);
  CHECK(s.log10_factor(300.0) == Approx(0.0).margin(1e-12));
  CHECK(s.log10_factor(250.0) == Approx(1.0).epsilon(1e-12));
  CHECK(s.log10_factor(375.0) == Approx(-1.0).epsilon(1e-12));
  CHECK(arrhenius(100e3, 20.0).log10_factor(273.15) == Approx(1.304635).epsilon(1e-6));
}

TEST_CASE("without a shift temperature does not matter", "[sheet]") {
  for (const double k : {1.0, 250.0, 293.15, 400.0}) CHECK(Shift().log10_factor(k) == 0.0);
}

TEST_CASE("a shift stays finite, within 30 decades, and never rises with temperature", "[sheet]") {
  for (const Shift& s : {wlf(8.86, 101.6, 24.0),
                         wlf(17.44, 51.6, -70.0),
                         wlf(50.0, 3.0, 20.0),
                         wlf(0.0, 10.0, 20.0),
                         arrhenius(0.0, 20.0),
                         arrhenius(60e3, 20.0),
                         arrhenius(2e6, 20.0)}) {
    CAPTURE(s.c1, s.c2_k, s.activation_j_mol);
    double before = s.log10_factor(std::numeric_limits<double>::denorm_min());
    CHECK(std::abs(before) <= 30.0);
    for (double k = 1e-3; k < 2000.0; k += k < 10.0 ? 0.01 : 0.1) {
      const double now = s.log10_factor(k);
      if (!(std::abs(now) <= 30.0) || !(now <= before)) FAIL(now << " after " << before);
      before = now;
    }
  }
}

// Source: derived, by hand: 5 K above the pole -C1 (5 - C2) / 5 is held down to 0 K.
TEST_CASE("near the pole of WLF the value is held", "[sheet][derived]") {
  const Shift s = wlf(1.0, 100.0, 20.0);
  const double pole_k = 193.15;
  CHECK(s.log10_factor(pole_k + 10.0) == Approx(9.0).epsilon(1e-12));
  for (const double k : {pole_k + 5.0, pole_k + 1.0, pole_k, pole_k - 50.0, 1.0})
    CHECK(s.log10_factor(k) == Approx(19.0).epsilon(1e-12));
  // With C2 below 10 K the held range ends at half of it, short of the reference.
  CHECK(wlf(1.0, 3.0, 20.0).log10_factor(293.15) == Approx(0.0).margin(1e-12));
  CHECK(wlf(1.0, 3.0, 20.0).log10_factor(280.0) == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a shift with a number out of range is refused", "[sheet]") {
  for (const double bad : {0.0, -1.0, kNaN, kInfinite}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(Shift().log10_factor(bad), std::invalid_argument);
    CHECK_THROWS_AS(wlf(8.0, bad, 20.0).check(), std::invalid_argument);
    CHECK_THROWS_AS(wlf(8.0, 100.0, bad - 273.15).check(), std::invalid_argument);
    CHECK_THROWS_AS(arrhenius(1e5, bad - 273.15).check(), std::invalid_argument);
  }
  for (const double bad : {-1e-9, kNaN, kInfinite}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(wlf(bad, 100.0, 20.0).check(), std::invalid_argument);
    CHECK_THROWS_AS(arrhenius(bad, 20.0).check(), std::invalid_argument);
  }
  CHECK_NOTHROW(Shift().check());
  CHECK_NOTHROW(wlf(0.0, 1.0, 20.0).check());
  CHECK_NOTHROW(arrhenius(0.0, 20.0).check());
}
