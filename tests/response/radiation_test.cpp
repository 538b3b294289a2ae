// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/radiation.hpp"

#include <Eigen/Eigenvalues>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "base/units.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

double wave(double freq_hz) { return base::kTwoPi * freq_hz / base::kAirSound; }

/// The double sum over elementary radiators, term by term.
Eigen::MatrixXd by_hand(const shell::Skin& skin, const Eigen::MatrixXd& normal, double freq_hz) {
  const panel::Nodes& at = skin.panel->mesh.nodes;
  const Eigen::Index n = at.rows();
  Eigen::MatrixXd kernel(n, n);
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j) {
      const double kr = wave(freq_hz) * (at.row(i) - at.row(j)).norm();
      kernel(i, j) = i == j ? 1.0 : std::sin(kr) / kr;
    }
  const Eigen::MatrixXd volume = skin.node_area.asDiagonal() * normal;
  const double omega = base::kTwoPi * freq_hz;
  return omega * omega * base::kAirDensity / (base::kTwoPi * base::kAirSound) *
         (volume.transpose() * kernel * volume);
}

}  // namespace

// Source: derived, the sum itself. Tolerance: rounding of the interpolation over frequency.
TEST_CASE("the power matrix is the double sum over elementary radiators at every frequency",
          "[response][derived]") {
  for (const panel::Mesh& mesh :
       {flat_plate(1.0, 0.6, 12, 8), sphere_panel(1.2, 0.7, 1.5, 12, 8)}) {
    const panel::Panel p = panel_of(mesh);
    const shell::Skin skin = skin_of(p, {});
    const Eigen::MatrixXd normal = Dice().matrix(p.mesh.nodes.rows(), 5);
    for (const double top : {120.0, 1000.0}) {
      const response::Radiator radiator(skin, normal, top);
      for (const double share : {0.01, 0.1, 0.37, 0.52, 0.81, 0.99, 1.0}) {
        const Eigen::MatrixXd wanted = by_hand(skin, normal, share * top);
        const Eigen::MatrixXd got = radiator.power_matrix(share * top);
        CAPTURE(top, share);
        CHECK((got - wanted).cwiseAbs().maxCoeff() < 1e-11 * wanted.cwiseAbs().maxCoeff());
        CHECK(got == got.transpose());
      }
    }
  }
}

// Source: derived. Small beside the wavelength only the volume counts: W = rho w^2 |Q|^2 / (2 pi c)
// for rms Q. Tolerance: (k r)^2 / 6 with k r = 0.02.
TEST_CASE("a small skin sends out what its volume flow does", "[response][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 9, 6));
  const shell::Skin skin = skin_of(p, {});
  const Eigen::MatrixXd one = Eigen::MatrixXd::Ones(p.mesh.nodes.rows(), 1);
  const response::Radiator radiator(skin, one, 100.0);
  const double flow = 0.06 * 2.0, omega = base::kTwoPi * 3.0;
  const Eigen::VectorXcd v = Eigen::VectorXcd::Constant(1, {0.0, 2.0});
  const double wanted =
      base::kAirDensity * omega * omega * flow * flow / (base::kTwoPi * base::kAirSound);
  CHECK(radiator.power(3.0, v) == Approx(wanted).epsilon(1e-4));
  CHECK(radiator.efficiency(3.0, v) ==
        Approx(wanted / (base::kAirDensity * base::kAirSound * 0.06 * 4.0)).epsilon(1e-4));
  CHECK(radiator.efficiency(3.0, Eigen::VectorXcd::Zero(1)) == 0.0);
}

// Source: derived. What passes through a large half sphere, |p|^2 / (rho c) for rms p, is what the
// skin sends out. Tolerance: the half sphere of 300 m, and 40 x 60 directions by the midpoint.
TEST_CASE("the pressure far away carries off the power", "[response][derived]") {
  const panel::Panel p = panel_of(flat_plate(1.0, 0.6, 20, 12));
  const shell::Skin skin = skin_of(p, {});
  Eigen::MatrixXd normal(p.mesh.nodes.rows(), 2);
  for (int j = 0; j < 2; ++j)
    normal.col(j) = (base::kPi * (1 + j) * p.mesh.nodes.col(0)).array().sin() *
                    (base::kPi / 0.6 * p.mesh.nodes.col(1)).array().sin();
  const response::Radiator radiator(skin, normal, 400.0);
  Eigen::VectorXcd v(2);
  v << std::complex<double>(1.0, 0.3), std::complex<double>(-0.5, 2.0);
  for (const double f : {60.0, 400.0}) {
    double sum = 0.0;
    constexpr int kUp = 40, kRound = 60;
    for (int i = 0; i < kUp; ++i)
      for (int j = 0; j < kRound; ++j) {
        const double z = (i + 0.5) / kUp, across = std::sqrt(1.0 - z * z);
        const double angle = base::kTwoPi * (j + 0.5) / kRound;
        const Eigen::Vector3d at =
            radiator.in_front(0.0) +
            300.0 * Eigen::Vector3d(across * std::cos(angle), across * std::sin(angle), z);
        sum += std::norm((radiator.pressure_row(f, at) * v)(0));
      }
    const double through =
        sum * base::kTwoPi * 300.0 * 300.0 / (kUp * kRound) / (base::kAirDensity * base::kAirSound);
    CHECK(through == Approx(radiator.power(f, v)).epsilon(2e-3));
  }
}

// Source: derived. The kernel is positive, so every motion sends sound out; of all motions with
// the same mean square the one that moves most volume, the piston, sends out most while the skin is
// small beside the wavelength.
TEST_CASE("radiation modes send power out, and the first of them is the piston",
          "[response][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.6, 0.4, 9, 6));
  const shell::Skin skin = skin_of(p, {});
  const Eigen::Index n = p.mesh.nodes.rows();
  const Eigen::VectorXd root = skin.node_area.cwiseSqrt();
  const Eigen::MatrixXd normal = root.cwiseInverse().asDiagonal();  // each node alone, unit square
  const response::Radiator radiator(skin, normal, 200.0);
  for (const double f : {20.0, 100.0}) {
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(radiator.power_matrix(f));
    const double largest = eig.eigenvalues()(n - 1);
    CHECK(eig.eigenvalues()(0) > -1e-12 * largest);
    CHECK(eig.eigenvalues().sum() - largest < 0.3 * largest);
    const double like = std::abs(eig.eigenvectors().col(n - 1).dot(root)) / root.norm();
    CHECK(like > (f < 50.0 ? 0.9999 : 0.99));
    CHECK(largest / (base::kAirDensity * base::kAirSound) <
          1.2 * wave(f) * wave(f) * 0.24 / base::kTwoPi);
    // Next come the two that rock, across the length before across the width.
    const Eigen::VectorXd rock =
        root.cwiseProduct(p.mesh.nodes.col(0).array().matrix() - Eigen::VectorXd::Constant(n, 0.3));
    CHECK(std::abs(eig.eigenvectors().col(n - 2).dot(rock)) / rock.norm() > 0.98);
  }
}

TEST_CASE("the place in front lies along the mean normal, and threads change no byte",
          "[response][derived]") {
  const panel::Panel p = panel_of(sphere_panel(1.2, 0.7, 1.5, 12, 8));
  const shell::Skin skin = skin_of(p, {});
  const Eigen::MatrixXd normal = Dice().matrix(p.mesh.nodes.rows(), 3);
  const response::Radiator one(skin, normal, 300.0, 1), two(skin, normal, 300.0, 2);
  CHECK(one.power_matrix(77.0) == two.power_matrix(77.0));
  const Eigen::Vector3d step = one.in_front(1.0) - one.in_front(0.0);
  CHECK((step - Eigen::Vector3d::UnitZ()).norm() < 1e-3);
  CHECK(one.in_front(0.0).head<2>().norm() < 2e-3);
}

TEST_CASE("frequencies out of range, foreign shapes and places on the skin are refused",
          "[response]") {
  const panel::Panel p = panel_of(flat_plate(0.6, 0.4, 3, 2));
  const shell::Skin skin = skin_of(p, {});
  const Eigen::MatrixXd one = Eigen::MatrixXd::Ones(p.mesh.nodes.rows(), 1);
  const double inf = std::numeric_limits<double>::infinity();
  for (const double bad : {0.0, -1.0, inf, std::nan("")})
    CHECK_THROWS_AS(response::Radiator(skin, one, bad), std::invalid_argument);
  CHECK_THROWS_AS(response::Radiator(skin, one.topRows(3), 100.0), std::invalid_argument);
  const response::Radiator radiator(skin, one, 100.0);
  for (const double bad : {0.0, -1.0, 100.1, std::nan("")})
    CHECK_THROWS_AS(radiator.power_matrix(bad), std::out_of_range);
  for (const double bad : {0.0, inf, std::nan("")})
    CHECK_THROWS_AS(radiator.pressure_row(bad, {0.0, 0.0, 1.0}), std::invalid_argument);
  CHECK_THROWS_AS(radiator.pressure_row(50.0, p.mesh.nodes.row(0)), std::invalid_argument);
}
