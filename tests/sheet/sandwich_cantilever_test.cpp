// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/sandwich_cantilever.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "published/reference_file.hpp"

using namespace calmplate;
using Complex = std::complex<double>;

namespace {

/// The beam of tests/data/sandwich/cantilever.txt.
constexpr double kLength = 0.1778, kFace = 1.524e-3, kYoung = 69e9, kCore = 0.127e-3;
constexpr double kShear = 0.69e6, kMass = 2.0 * 2766.0 * kFace + 968.1 * kCore;
constexpr double kKeq = 0.5 * kYoung * kFace, kLever = kCore + kFace;
constexpr double kDt = kYoung * kFace * kFace * kFace / 6.0;
constexpr double kGeometry = kLever * kLever * kKeq / kDt;

Complex shear_of(double loss) {
  return kShear * Complex(1.0, loss) * kLength * kLength / (kCore * kKeq);
}

/// Legendre polynomial of degree n on 0 to 1, with its first two slopes.
Eigen::Vector3d legendre(int n, double x) {
  const double t = 2.0 * x - 1.0;
  Eigen::Vector3d before(1.0, 0.0, 0.0), now(t, 1.0, 0.0);
  if (n == 0) return before;
  for (int k = 1; k < n; ++k) {
    const double a = (2.0 * k + 1.0) / (k + 1.0), b = k / (k + 1.0);
    const Eigen::Vector3d next(a * t * now[0] - b * before[0],
                               a * (now[0] + t * now[1]) - b * before[1],
                               a * (2.0 * now[1] + t * now[2]) - b * before[2]);
    before = now;
    now = next;
  }
  return {now[0], 2.0 * now[1], 4.0 * now[2]};
}

/// x^power times a Legendre polynomial.
Eigen::Vector3d shape(int power, int n, double x) {
  const Eigen::Vector3d p = legendre(n, x);
  const double q = std::pow(x, power), q1 = power > 0 ? power * std::pow(x, power - 1) : 0.0;
  const double q2 = power > 1 ? power * (power - 1) * std::pow(x, power - 2) : 0.0;
  return {q * p[0], q1 * p[0] + q * p[1], q2 * p[0] + 2.0 * q1 * p[1] + q * p[2]};
}

/// W of the lowest modes by Ritz: w = x^2 times polynomials, s polynomials, times x if held.
std::vector<Complex> ritz(double geometry, Complex shear, bool foil_held) {
  constexpr int n = 16, steps = 2000;
  Eigen::MatrixXd bend = Eigen::MatrixXd::Zero(2 * n, 2 * n), slip = bend, mass = bend;
  for (int i = 0; i < steps; ++i) {
    const double x = (i + 0.5) / steps;
    Eigen::VectorXd curve(2 * n), strain(2 * n), sheared(2 * n), motion(2 * n);
    for (int k = 0; k < n; ++k) {
      const Eigen::Vector3d w = shape(2, k, x), s = shape(foil_held ? 1 : 0, k, x);
      curve[k] = w[2], strain[k] = 0.0, sheared[k] = w[1], motion[k] = w[0];
      curve[n + k] = 0.0, strain[n + k] = s[1], sheared[n + k] = s[0], motion[n + k] = 0.0;
    }
    bend += (curve * curve.transpose() + geometry * strain * strain.transpose()) / steps;
    slip += geometry * sheared * sheared.transpose() / steps;
    mass += motion * motion.transpose() / steps;
  }
  const Eigen::MatrixXcd k = bend.cast<Complex>() + shear * slip.cast<Complex>();
  // The slip has no mass: put in what it does for a given w.
  const Eigen::MatrixXcd condensed =
      k.topLeftCorner(n, n) -
      k.topRightCorner(n, n) *
          k.bottomRightCorner(n, n).partialPivLu().solve(k.bottomLeftCorner(n, n));
  const Eigen::MatrixXcd m = mass.topLeftCorner(n, n).cast<Complex>();
  Eigen::VectorXcd w =
      Eigen::ComplexEigenSolver<Eigen::MatrixXcd>(m.partialPivLu().solve(condensed), false)
          .eigenvalues();
  std::vector<Complex> lowest(w.data(), w.data() + w.size());
  std::sort(lowest.begin(), lowest.end(), [](Complex a, Complex b) { return a.real() < b.real(); });
  return lowest;
}

}  // namespace

// Source: derived. cos l cosh l = -1.
TEST_CASE("the wavenumbers of a bare cantilever solve its frequency equation", "[sheet][derived]") {
  for (int mode = 1; mode <= 12; ++mode) {
    const double l = sheet::cantilever_wavenumber(mode);
    CAPTURE(mode, l);
    CHECK(std::abs(std::cos(l) + 1.0 / std::cosh(l)) < 1e-12);
    CHECK(std::abs(l - (mode - 0.5) * base::kPi) < 0.31);
  }
  // C_n = l^2 / 2 pi to the digits on record.
  const double record[] = {0.559591, 3.50690, 9.81942, 19.2421, 31.8086};
  for (int mode = 1; mode <= 5; ++mode)
    CHECK(std::pow(sheet::cantilever_wavenumber(mode), 2) / base::kTwoPi ==
          Approx(record[mode - 1]).epsilon(3e-6));
}

// Source: derived, complex Ritz on record, see the data file; tolerance: its digits.
TEST_CASE("the exact cantilever has the frequencies and losses on record", "[sheet][derived]") {
  const published::ReferenceFile data("sandwich/cantilever.txt");
  for (const std::string loss : {"0.1", "1"})
    for (int mode = 1; mode <= 5; ++mode) {
      CAPTURE(loss, mode);
      const sheet::SandwichCantilever beam(kGeometry, mode, true);
      const Complex shear = shear_of(std::stod(loss)), w = beam.frequency(shear);
      const Complex omega2 = w * kDt / (kMass * std::pow(kLength, 4));
      const auto i = static_cast<std::size_t>(mode - 1);
      CHECK(std::sqrt(omega2.real()) / base::kTwoPi == Approx(data[loss + " f"][i]).epsilon(5e-6));
      CHECK(omega2.imag() / omega2.real() / std::stod(loss) ==
            Approx(data[loss + " eta"][i]).epsilon(1e-5));
    }
}

// Source: derived, Ritz series in this file: another route with the same energy. Tolerance: the
// midpoint rule's and the series' own, found by halving the steps and dropping terms.
TEST_CASE("foil held at the clamp or cut off there: as by Ritz's method", "[sheet][derived]") {
  for (const bool held : {true, false})
    for (const double geometry : {1.5, 5.0})
      for (const Complex shear : {Complex(0.5, 0.3), Complex(8.0, 8.0), Complex(90.0, 60.0)}) {
        const std::vector<Complex> wanted = ritz(geometry, shear, held);
        for (int mode = 1; mode <= 5; ++mode) {
          CAPTURE(held, geometry, shear, mode);
          const sheet::SandwichCantilever beam(geometry, mode, held);
          const Complex w = beam.frequency(shear),
                        expected = wanted[static_cast<std::size_t>(mode - 1)];
          CHECK(std::abs(w / expected - 1.0) < 1e-4);
        }
      }
}

// Source: derived: an inverse undoes.
TEST_CASE("shear from frequency undoes frequency from shear", "[sheet][derived]") {
  for (const bool held : {true, false})
    for (const double geometry : {0.5, 3.5, 20.0})
      for (const double size : {0.3, 3.0, 30.0, 300.0, 3000.0})
        for (const double loss : {0.05, 1.0, 2.0})
          for (int mode = 2; mode <= 6; ++mode) {
            CAPTURE(held, geometry, size, loss, mode);
            const sheet::SandwichCantilever beam(geometry, mode, held);
            const Complex shear = size * Complex(1.0, loss), w = beam.frequency(shear);
            CHECK(std::abs(beam.long_bar_shear(beam.long_bar_frequency(shear)) / shear - 1.0) <
                  1e-9);
            CHECK(std::abs(beam.shear(w, beam.long_bar_shear(w)) / shear - 1.0) < 1e-6);
          }
}

// Source: derived. Without shear the faces bend each for itself: W = l^4; with rigid shear they are
// one section: W = l^4 (1 + Y).
TEST_CASE("a core of no stiffness and a rigid one are the limits", "[sheet][derived]") {
  for (int mode = 1; mode <= 5; ++mode) {
    CAPTURE(mode);
    const sheet::SandwichCantilever beam(3.0, mode, true);
    const double l4 = std::pow(sheet::cantilever_wavenumber(mode), 4);
    CHECK(beam.frequency(1e-6).real() == Approx(l4).epsilon(1e-5));
    CHECK(beam.frequency(1e8).real() == Approx(4.0 * l4).epsilon(1e-3));
  }
}

TEST_CASE("a cantilever that cannot be is refused, a frequency that cannot be has no shear",
          "[sheet]") {
  CHECK_THROWS_AS(sheet::SandwichCantilever(0.0, 2, true), std::invalid_argument);
  CHECK_THROWS_AS(sheet::SandwichCantilever(NAN, 2, true), std::invalid_argument);
  CHECK_THROWS_AS(sheet::SandwichCantilever(3.0, 0, true), std::invalid_argument);
  CHECK_THROWS_AS(sheet::cantilever_wavenumber(0), std::invalid_argument);
  const sheet::SandwichCantilever beam(3.0, 3, true);
  CHECK(std::isnan(beam.frequency(Complex(-1.0, 0.5)).real()));
  // Softer than the faces alone.
  const double l4 = std::pow(sheet::cantilever_wavenumber(3), 4);
  CHECK(std::isnan(beam.shear(0.8 * l4, 1.0).real()));
}
