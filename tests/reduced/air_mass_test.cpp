// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/air_mass.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

/// sin(m pi x / a) sin(n pi y / b) at the nodes of a plate.
Eigen::VectorXd sine(const panel::Panel& p, double a, double b, int m, int n) {
  Eigen::VectorXd w(p.mesh.nodes.rows());
  for (Eigen::Index i = 0; i < w.size(); ++i)
    w(i) = std::sin(m * base::kPi * p.mesh.nodes(i, 0) / a) *
           std::sin(n * base::kPi * p.mesh.nodes(i, 1) / b);
  return w;
}

}  // namespace

// Source: derived. Baffled piston, 8/3 rho a^3: the potential of a disc on itself is 16 pi a^3 / 3,
// times rho / (2 pi). Tolerance: the patches, some 20 to a radius.
TEST_CASE("a round piston carries 8/3 rho a^3 of air on one face", "[reduced][derived]") {
  const panel::Panel p = panel_of(disc(0.2, 24));
  const shell::Skin skin = skin_of(p, {});
  const Eigen::MatrixXd one = Eigen::MatrixXd::Ones(p.mesh.nodes.rows(), 1);
  const double exact = 8.0 / 3.0 * base::kAirDensity * std::pow(0.2, 3);
  CHECK(reduced::air_mass(skin, one, 1)(0, 0) == Approx(exact).epsilon(0.01));
}

// Source: derived. Added mass per area of a baffled 1.0 x 0.6 m simply supported plate from the
// wavenumber integral at k = 0, computed apart from this program; times a b / 4.
TEST_CASE("the modes of a flat plate carry the air that the wavenumber integral gives",
          "[reduced][derived]") {
  struct Case {
    int m, n;
    double per_area;
  };
  for (const auto& [nx, ny] : {std::pair(40, 24), std::pair(60, 36)}) {
    const panel::Panel p = panel_of(flat_plate(1.0, 0.6, nx, ny));
    const shell::Skin skin = skin_of(p, {});
    for (const Case& c :
         {Case{1, 1, 0.3757}, Case{2, 1, 0.1914}, Case{1, 2, 0.1440}, Case{3, 1, 0.1434}}) {
      const Eigen::MatrixXd w = sine(p, 1.0, 0.6, c.m, c.n);
      CAPTURE(c.m, c.n);
      CHECK(reduced::air_mass(skin, w, 1)(0, 0) == Approx(c.per_area * 0.15).epsilon(0.01));
    }
  }
}

TEST_CASE("air mass is symmetric, nowhere negative, twice as much on two faces and none on none",
          "[reduced][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.6, 0.4, 1.5, 24, 16));
  const shell::Skin skin = skin_of(p, {});
  const auto shape = [&](int m, int n) {
    Eigen::VectorXd w(p.mesh.nodes.rows());
    for (Eigen::Index i = 0; i < w.size(); ++i)
      w(i) = std::sin(m * base::kPi * (p.mesh.nodes(i, 0) / 0.6 + 0.5)) *
             std::sin(n * base::kPi * (p.mesh.nodes(i, 1) / 0.4 + 0.5));
    return w;
  };
  Eigen::MatrixXd shapes(p.mesh.nodes.rows(), 6);
  shapes << shape(1, 1), shape(2, 1), shape(1, 2), shape(3, 1), shape(2, 2), shape(1, 3);
  const Eigen::MatrixXd one = reduced::air_mass(skin, shapes, 1);
  CHECK((one - one.transpose()).norm() == 0.0);
  CHECK(Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(one).eigenvalues()(0) > 0.0);
  CHECK((reduced::air_mass(skin, shapes, 2) - 2.0 * one).norm() < 1e-14 * one.norm());
  CHECK(reduced::air_mass(skin, shapes, 0) == Eigen::MatrixXd::Zero(6, 6));
  CHECK((reduced::air_mass(skin, 3.0 * shapes, 1) - 9.0 * one).norm() < 1e-13 * one.norm());
  // Shapes that are even and odd about a middle line share no air.
  CHECK(std::abs(one(0, 1)) < 1e-6 * one(0, 0));
  CHECK(std::abs(one(0, 3)) > 1e-3 * one(0, 0));
}

TEST_CASE("a skin has no third face", "[reduced]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 4, 3));
  const shell::Skin skin = skin_of(p, {});
  const Eigen::MatrixXd one = Eigen::MatrixXd::Ones(p.mesh.nodes.rows(), 1);
  for (const int bad : {-1, 3})
    CHECK_THROWS_AS(reduced::air_mass(skin, one, bad), std::invalid_argument);
}
