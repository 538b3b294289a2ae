// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/spectrum.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <limits>

#include "base/units.hpp"

using namespace calmplate;

namespace {

drive::DriveInput tap(double impulse_ns, double contact_s) {
  drive::DriveInput d;
  d.kind = drive::Kind::tap;
  d.impulse_ns = impulse_ns;
  d.contact_s = contact_s;
  return d;
}

/// Squared magnitude of the pulse's Fourier transform by Simpson's rule.
double by_sum(double impulse_ns, double contact_s, double freq_hz) {
  const int n = 4000;
  const double w = base::kTwoPi * freq_hz, dt = contact_s / n;
  std::complex<double> sum = 0.0;
  for (int i = 0; i <= n; ++i) {
    const double t = i * dt;
    const double weight = i == 0 || i == n ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
    const double force =
        base::kPi * impulse_ns / (2.0 * contact_s) * std::sin(base::kPi * t / contact_s);
    sum += weight * dt / 3.0 * force * std::polar(1.0, -w * t);
  }
  return std::norm(sum);
}

}  // namespace

// Source: derived. The same amplitude at every frequency, squared.
TEST_CASE("force and pressure are as strong at every frequency", "[drive][derived]") {
  drive::DriveInput d;
  d.force_n = 3.0;
  d.pressure_pa = 5.0;
  for (const double freq_hz : {0.0, 1.0, 100.0, 1e4}) {
    d.kind = drive::Kind::force;
    CHECK(drive::strength(d, freq_hz) == Approx(9.0));
    d.kind = drive::Kind::pressure;
    CHECK(drive::strength(d, freq_hz) == Approx(25.0));
  }
}

// Source: derived. The transform at 0 is the area under the pulse; at w T = pi, where numerator and
// denominator vanish together, it is J pi / 4.
TEST_CASE("a tap is its impulse at low frequency and pi/4 of it at w T = pi", "[drive][derived]") {
  const double j = 0.02, t = 0.004;
  CHECK(std::sqrt(drive::strength(tap(j, t), 0.0)) == Approx(j).epsilon(1e-14));
  const double middle = 1.0 / (2.0 * t);
  for (const double shift : {0.0, 1e-12, -1e-12, 1e-7, -1e-7, 1e-6, -1e-6, 2e-6})
    CHECK(std::sqrt(drive::strength(tap(j, t), middle * (1.0 + shift))) ==
          Approx(j * base::kPi / 4.0).epsilon(1e-5));
  // Cos is zero at 3 pi / 2: the first silence at 1.5 / T.
  CHECK(drive::strength(tap(j, t), 1.5 / t) < 1e-20 * j * j);
}

// Source: derived. Simpson's rule over the pulse itself.
TEST_CASE("a tap's spectrum is the Fourier transform of a half sine", "[drive][derived]") {
  for (const double contact_s : {0.001, 0.004, 0.02})
    for (const double freq_hz : {1.0, 40.0, 124.0, 125.0, 126.0, 250.0, 500.0}) {
      CAPTURE(contact_s, freq_hz);
      const double exact = by_sum(0.03, contact_s, freq_hz);
      CHECK(drive::strength(tap(0.03, contact_s), freq_hz) ==
            Approx(exact).epsilon(1e-8).margin(1e-16));
    }
}

TEST_CASE("a frequency below zero or not finite is refused", "[drive]") {
  for (const double bad :
       {-1.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()})
    for (const drive::Kind kind : {drive::Kind::force, drive::Kind::pressure, drive::Kind::tap}) {
      drive::DriveInput d;
      d.kind = kind;
      CHECK_THROWS_AS(drive::strength(d, bad), std::invalid_argument);
    }
}
