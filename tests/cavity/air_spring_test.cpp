// SPDX-License-Identifier: GPL-3.0-or-later
#include "cavity/air_spring.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/SparseLU>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numeric>
#include <stdexcept>

#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

using Complex = std::complex<double>;

/// A crowned panel on a wedge of lossy air with a cone and two leaks.
struct Door {
  panel::Panel panel = panel::make_panel(sphere_panel(0.9, 0.5, 2.0, 36, 20), {}, "test mesh");
  cavity::Slab slab;
  cavity::CavityModes modes;
  Eigen::MatrixXd normal;
  std::vector<cavity::ConeInput> cones{{{0.2, 0.15}, 0.0133}};
  std::vector<cavity::LeakInput> leaks{{{0.7, 0.3}, 0.002, 0.05, 0.3}, {{0.4, 0.4}, 0.004, 0.1, 0}};

  explicit Door(double top_hz) {
    cavity::SlabInput input;
    input.depth_bottom_m = 0.13;
    input.depth_top_m = 0.07;
    input.loss_factor = 0.08;
    slab = cavity::make_slab(panel, input);
    modes = cavity::cavity_modes(slab, top_hz);
    const panel::FlatPoints& at = panel.flat.points();
    const Eigen::Vector2d size = panel.flat.size();
    normal.resize(at.rows(), 4);
    for (int j = 0; j < 4; ++j)
      normal.col(j) = (base::kPi * (1 + j % 2) / size.x() * at.col(0)).array().sin() *
                      (base::kPi * (1 + j / 2) / size.y() * at.col(1)).array().sin();
  }
};

/// Pressure at the nodes and the pressure's generalised force on what moves.
struct Answer {
  Eigen::VectorXcd pressure, force;
};

/// The slab's own equations, solved as they stand: with c^2 (1 + i loss) for c^2,
/// (H - w^2 Q / (1 + i loss)) p = -w^2 (volume that goes in).
Answer direct(const Door& d, const Eigen::VectorXd& move, double freq_hz) {
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  Eigen::MatrixXd out(d.slab.depth_m.size(), move.size());
  out.leftCols(4) = d.slab.A * d.normal;
  out.col(4) = -cavity::opening(d.slab, d.cones[0].at, d.cones[0].area_m2);
  for (Eigen::Index i = 0; i < 2; ++i) {
    const cavity::LeakInput& l = d.leaks[static_cast<std::size_t>(i)];
    out.col(5 + i) = -cavity::opening(d.slab, l.at, l.area_m2);
  }
  const Eigen::SparseMatrix<Complex> system =
      d.slab.H.cast<Complex>() - (w2 / Complex(1.0, d.slab.loss_factor)) * d.slab.Q.cast<Complex>();
  const Eigen::SparseLU<Eigen::SparseMatrix<Complex>> lu(system);
  REQUIRE(lu.info() == Eigen::Success);
  Answer a;
  a.pressure = lu.solve((w2 * out * move).cast<Complex>().eval());
  a.force = out.transpose().cast<Complex>() * a.pressure;
  return a;
}

/// The same from the symmetric block: the air's own coordinates follow without a force.
Answer from_block(const Door& d,
                  const cavity::AirSpring& air,
                  const Eigen::VectorXd& move,
                  double freq_hz) {
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  const Complex lossy(1.0, air.loss_factor);
  const Eigen::MatrixXcd dynamic = lossy * air.stiffness.cast<Complex>() - w2 * air.mass;
  const Eigen::Index n = move.size();
  Eigen::VectorXcd z(air.size());
  z.head(n) = move.cast<Complex>();
  z.tail(air.n_air) = -dynamic.bottomRightCorner(air.n_air, air.n_air)
                           .partialPivLu()
                           .solve(dynamic.bottomLeftCorner(air.n_air, n) * z.head(n));
  std::vector<int> all(static_cast<std::size_t>(d.slab.depth_m.size()));
  std::iota(all.begin(), all.end(), 0);
  const cavity::PressureRows rows = cavity::pressure_rows(d.modes, air, all);
  Answer a;
  a.pressure = lossy * (rows.spring * z) + w2 * (rows.inertia * z);
  a.force = -(dynamic * z).head(n);
  for (Eigen::Index i = 0; i < 2; ++i) {  // the plugs' own inertia is no pressure
    const cavity::LeakInput& l = d.leaks[static_cast<std::size_t>(i)];
    a.force(5 + i) -= w2 * d.slab.density * l.area_m2 * l.length_m * move(5 + i);
  }
  return a;
}

}  // namespace

// Source: derived, the slab's equations solved directly. Tolerance: modes up to 1500 Hz are kept
// and the rest follows as added mass, so what is missing goes with (f / 1500 Hz)^2 of the near
// field.
TEST_CASE("the symmetric block gives the pressure and the force of the slab's own equations",
          "[cavity][derived]") {
  const Door d(1500.0);
  cavity::AirSpringOptions options;
  options.across = false;
  const cavity::AirSpring air =
      cavity::air_spring(d.slab, d.modes, d.normal, d.cones, d.leaks, options);
  REQUIRE(air.size() == 4 + 1 + 2 + d.modes.omega2.size() - 1);
  for (int j = 0; j < 8; ++j) {
    Eigen::VectorXd move = Eigen::VectorXd::Zero(7);
    if (j < 7)
      move(j) = 1e-3;
    else
      move << 1e-3, -2e-3, 5e-4, 1e-3, 4e-3, -3e-3, 2e-3;
    for (const double f : {20.0, 110.0, 260.0}) {
      const Answer a = direct(d, move, f), b = from_block(d, air, move, f);
      CAPTURE(j, f);
      CHECK((a.pressure - b.pressure).cwiseAbs().maxCoeff() <
            5e-3 * a.pressure.cwiseAbs().maxCoeff());
      CHECK((a.force - b.force).norm() < 2e-3 * a.force.norm());
    }
  }
}

TEST_CASE("without the near field few modes lose a part of the force that they have with it",
          "[cavity][derived]") {
  const Door d(400.0);
  Eigen::VectorXd move = Eigen::VectorXd::Zero(7);
  move(4) = 1e-3;
  cavity::AirSpringOptions with, without;
  with.across = without.across = without.near_field = false;
  const Answer exact = direct(d, move, 110.0);
  const auto error = [&](const cavity::AirSpringOptions& o) {
    const cavity::AirSpring air =
        cavity::air_spring(d.slab, d.modes, d.normal, d.cones, d.leaks, o);
    return (from_block(d, air, move, 110.0).force - exact.force).norm() / exact.force.norm();
  };
  CHECK(error(with) < 0.01);
  CHECK(error(without) > 3.0 * error(with));
}

TEST_CASE("the block is symmetric and positive whatever it leaves out", "[cavity][derived]") {
  const Door d(600.0);
  for (const bool all : {true, false}) {
    cavity::AirSpringOptions options;
    options.near_field = options.across = all;
    const cavity::AirSpring air =
        cavity::air_spring(d.slab, d.modes, d.normal, d.cones, d.leaks, options);
    CHECK(air.stiffness == air.stiffness.transpose());
    CHECK(air.mass == air.mass.transpose());
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> k(air.stiffness), m(air.mass);
    CHECK(k.eigenvalues()(0) > -1e-12 * k.eigenvalues().tail(1)(0));
    CHECK(m.eigenvalues()(0) > -1e-12);
  }
}

// Source: derived. The even mode alone is one spring rho c^2 / V on the volume that goes in.
TEST_CASE("the even mode alone is the lumped spring, with its loss and its leaks",
          "[cavity][derived]") {
  const Door d(60.0);
  cavity::AirSpringOptions lumped;
  lumped.near_field = lumped.across = false;
  const cavity::CavityModes even = cavity::even_mode(d.slab);
  const cavity::AirSpring air =
      cavity::air_spring(d.slab, even, d.normal, d.cones, d.leaks, lumped);
  REQUIRE(air.size() == 7);
  Eigen::VectorXd volume(7);
  volume.head(4) = (d.slab.A * d.normal).colwise().sum();
  volume.tail(3) << -0.0133, -0.002, -0.004;
  const double k = base::kAirDensity * base::kAirSound * base::kAirSound / d.slab.volume_m3;
  const Eigen::MatrixXd wanted = k * volume * volume.transpose();
  CHECK((air.stiffness - wanted).norm() < 1e-12 * wanted.norm());
  Eigen::VectorXd mass = Eigen::VectorXd::Zero(7);
  mass.tail(2) << base::kAirDensity * 0.002 * 0.05, base::kAirDensity * 0.004 * 0.1;
  CHECK((air.mass - Eigen::MatrixXd(mass.asDiagonal())).norm() < 1e-15);
  CHECK(air.leak_loss(5) == Approx(0.3 * k * 4e-6).epsilon(1e-12));
  CHECK(air.leak_loss.cwiseAbs().sum() == air.leak_loss(5));
  CHECK(air.loss_factor == 0.08);
  // Outward motion of the skin thins the air.
  const cavity::PressureRows rows = cavity::pressure_rows(even, air, {0, 17});
  CHECK((rows.spring.row(0).transpose() + k * volume).norm() < 1e-12 * k * volume.norm());
  CHECK(rows.spring.row(1) == rows.spring.row(0));
  CHECK(rows.inertia.norm() == 0.0);
}

TEST_CASE("shapes, modes and openings that do not belong to the slab are refused", "[cavity]") {
  const Door d(60.0);
  CHECK_THROWS_AS(cavity::air_spring(d.slab, d.modes, d.normal.topRows(5), {}, {}),
                  std::invalid_argument);
  cavity::CavityModes other = d.modes;
  other.pressure.conservativeResize(5, Eigen::NoChange);
  CHECK_THROWS_AS(cavity::air_spring(d.slab, other, d.normal, {}, {}), std::invalid_argument);
  for (const cavity::LeakInput& bad : {cavity::LeakInput{{0.2, 0.2}, 0.0, 0.1, 0.0},
                                       cavity::LeakInput{{0.2, 0.2}, 0.01, 0.0, 0.0},
                                       cavity::LeakInput{{0.2, 0.2}, 0.01, 0.1, -0.1}})
    CHECK_THROWS_AS(cavity::air_spring(d.slab, d.modes, d.normal, {}, {bad}),
                    std::invalid_argument);
  const cavity::AirSpring air = cavity::air_spring(d.slab, d.modes, d.normal, {}, {});
  for (const int bad : {-1, static_cast<int>(d.slab.depth_m.size())})
    CHECK_THROWS_AS(cavity::pressure_rows(d.modes, air, {bad}), std::out_of_range);
}
