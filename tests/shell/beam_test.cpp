// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/beam.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "shell/small_panels.hpp"
#include "shell/triangles.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

constexpr double kLength = 0.7;

shell::BeamInput section() {
  shell::BeamInput b;
  b.area_m2 = 2.1e-4;
  b.inertia_normal_m4 = 1.3e-8;
  b.inertia_in_plane_m4 = 0.6e-8;
  b.torsion_m4 = 1.7e-8;
  b.material = steel();
  return b;
}

struct Matrices {
  Eigen::MatrixXd k, m;
};

/// A straight beam of n elements along `along` from the origin, its first node held.
Matrices cantilever(int n, const Eigen::Vector3d& along, const Eigen::Vector3d& normal) {
  Matrices out{Eigen::MatrixXd::Zero(6 * n + 6, 6 * n + 6),
               Eigen::MatrixXd::Zero(6 * n + 6, 6 * n + 6)};
  for (int e = 0; e < n; ++e) {
    const shell::BeamElement b = shell::beam_element(
        along * (kLength * e / n), along * (kLength * (e + 1) / n), normal, section());
    out.k.block<12, 12>(6 * e, 6 * e) += b.stiffness;
    out.m.block<12, 12>(6 * e, 6 * e) += b.mass;
  }
  out.k = out.k.bottomRightCorner(6 * n, 6 * n).eval();
  out.m = out.m.bottomRightCorner(6 * n, 6 * n).eval();
  return out;
}

/// The nth root of cos x cosh x = -1.
double cantilever_root(int n) {
  const auto f = [](double x) { return std::cos(x) + 1.0 / std::cosh(x); };
  double a = base::kPi * (n - 1), b = base::kPi * n;
  for (int i = 0; i < 60; ++i) {
    const double c = 0.5 * (a + b);
    (f(a) * f(c) <= 0.0 ? b : a) = c;
  }
  return 0.5 * (a + b);
}

Eigen::Matrix3d some_turn() {
  return Eigen::AngleAxisd(1.1, Eigen::Vector3d(0.3, -0.8, 0.5).normalized()).toRotationMatrix();
}

}  // namespace

// Source: derived. P L^3 / 3 E I, T L / G J, P L / E A: exact with one element as with five.
TEST_CASE("the tip of a cantilever gives way as beam theory says", "[shell][derived]") {
  const shell::BeamInput s = section();
  const double e = s.material.young_pa, g = e / 2.6, cube = std::pow(kLength, 3);
  const Eigen::Vector3d x = Eigen::Vector3d::UnitX(), z = Eigen::Vector3d::UnitZ();
  for (const int n : {1, 5}) {
    const Eigen::MatrixXd give = cantilever(n, x, z).k.inverse();
    const int tip = 6 * (n - 1);
    CHECK(give(tip, tip) == Approx(kLength / (e * s.area_m2)).epsilon(1e-9));
    CHECK(give(tip + 2, tip + 2) == Approx(cube / (3.0 * e * s.inertia_normal_m4)).epsilon(1e-9));
    CHECK(give(tip + 1, tip + 1) == Approx(cube / (3.0 * e * s.inertia_in_plane_m4)).epsilon(1e-9));
    CHECK(give(tip + 3, tip + 3) == Approx(kLength / (g * s.torsion_m4)).epsilon(1e-9));
    // Slope at the tip under a tip load out of the skin: P L^2 / 2 E I, about -y.
    CHECK(give(tip + 4, tip + 2) ==
          Approx(-kLength * kLength / (2.0 * e * s.inertia_normal_m4)).epsilon(1e-9));
  }
}

// Source: derived. Euler beam, cos x cosh x = -1; twist and stretch (n - 1/2) pi c / L. Tolerance:
// twenty elements.
TEST_CASE("a cantilever vibrates in bending, twist and stretch at the frequencies of beam theory",
          "[shell][derived]") {
  const shell::BeamInput s = section();
  const Matrices c = cantilever(20, Eigen::Vector3d::UnitX(), Eigen::Vector3d::UnitZ());
  const Eigen::VectorXd omega =
      Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd>(c.k, c.m).eigenvalues().cwiseSqrt();
  const auto has = [&](double wanted, double tolerance) {
    CAPTURE(wanted);
    CHECK((omega.array() / wanted - 1.0).abs().minCoeff() < tolerance);
  };
  const double e = s.material.young_pa, line = s.material.density * s.area_m2;
  for (int n = 1; n <= 3; ++n) {
    const double root = cantilever_root(n);
    for (const double inertia : {s.inertia_normal_m4, s.inertia_in_plane_m4})
      has(root * root / (kLength * kLength) * std::sqrt(e * inertia / line), 5e-5);
  }
  const double spin = s.material.density * (s.inertia_normal_m4 + s.inertia_in_plane_m4);
  const double quarter = 0.5 * base::kPi / kLength;
  has(quarter * std::sqrt(e / s.material.density), 5e-4);
  has(quarter * std::sqrt(e / 2.6 * s.torsion_m4 / spin), 5e-4);
  CHECK(cantilever_root(1) == Approx(1.8751040687).epsilon(1e-9));
}

TEST_CASE("a beam is the same beam in every direction of space", "[shell][derived]") {
  const Eigen::Matrix3d r = some_turn();
  const Eigen::Vector3d a(0.1, 0.2, 0.3), b(0.4, 0.1, 0.5), n(0.1, 0.1, 1.0);
  const shell::BeamElement one = shell::beam_element(a, b, n, section());
  const shell::BeamElement two = shell::beam_element(r * a, r * b, r * n, section());
  Eigen::MatrixXd turn = Eigen::MatrixXd::Zero(12, 12);
  for (int i = 0; i < 4; ++i) turn.block<3, 3>(3 * i, 3 * i) = r;
  CHECK((turn * one.stiffness * turn.transpose() - two.stiffness).norm() <
        1e-12 * one.stiffness.norm());
  CHECK((turn * one.mass * turn.transpose() - two.mass).norm() < 1e-12 * one.mass.norm());
}

// Source: derived. Six motions without strain; the mass moves as a whole along any direction.
TEST_CASE("a beam gives way to its six rigid motions only and keeps its mass", "[shell][derived]") {
  const Eigen::Vector3d a(0.1, 0.2, 0.3), b(0.4, 0.1, 0.5), n(0.0, 0.0, 1.0);
  const shell::BeamElement beam = shell::beam_element(a, b, n, section());
  for (int k = 0; k < 6; ++k) {
    Eigen::Matrix<double, 12, 1> x;
    x << in_axes(rigid_motion(k, a), Eigen::Matrix3d::Identity()),
        in_axes(rigid_motion(k, b), Eigen::Matrix3d::Identity());
    CHECK(relative_energy(beam.stiffness, x) < 1e-13);
    const double mass = 7850.0 * 2.1e-4 * (b - a).norm();
    if (k < 3) CHECK(x.dot(beam.mass * x) == Approx(mass).epsilon(1e-12));
  }
  const Eigen::VectorXd e = scaled_eigenvalues(beam.stiffness);
  CHECK(std::abs(e(5)) < 1e-11);
  CHECK(e(6) > 1e-5);
  CHECK(scaled_eigenvalues(beam.mass)(0) > 1e-5);
}

TEST_CASE("a beam without length or seen end on is refused", "[shell]") {
  const Eigen::Vector3d a(0.1, 0.0, 0.0), b(0.4, 0.0, 0.0);
  const Eigen::Vector3d x = Eigen::Vector3d::UnitX(), z = Eigen::Vector3d::UnitZ();
  CHECK_THROWS_AS(shell::beam_element(a, a, z, section()), std::invalid_argument);
  CHECK_THROWS_AS(shell::beam_element(a, b, x, section()), std::invalid_argument);
  CHECK_THROWS_AS(shell::beam_element(a, b, -3.0 * x, section()), std::invalid_argument);
}
