// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "cavity/air_spring.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"
#include "reduced/full_reduction.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

constexpr double kBulk = base::kAirDensity * base::kAirSound * base::kAirSound;

cavity::SlabInput depth(double bottom_m, double top_m) {
  cavity::SlabInput c;
  c.depth_bottom_m = bottom_m;
  c.depth_top_m = top_m;
  return c;
}

cavity::SlabInput volume(double volume_m3) {
  cavity::SlabInput c;
  c.volume_m3 = volume_m3;
  return c;
}

Bench free_plate(const panel::Mesh& mesh) {
  return make_bench(mesh, steel(0.8e-3), all_round(shell::Hold::free));
}

double hz(double omega2) { return std::sqrt(omega2) / base::kTwoPi; }

/// Zero of f between two places, by halving.
double root(const std::function<double(double)>& f, double low, double high) {
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    ((f(low) < 0.0) == (f(middle) < 0.0) ? low : high) = middle;
  }
  return low;
}

/// Frequencies of a reduced model with a block of air, ascending, Hz; with `moving` above 0 only
/// those modes that displace more than this share of what a piston would.
std::vector<double> coupled(const Eigen::MatrixXd& stiffness,
                            const Eigen::MatrixXd& mass,
                            const cavity::AirSpring& air,
                            const Bench& bench,
                            const Eigen::MatrixXd& normal,
                            double moving) {
  const Eigen::Index r = normal.cols();
  Eigen::MatrixXd k = air.stiffness, m = air.mass;
  k.topLeftCorner(r, r) += stiffness;
  m.topLeftCorner(r, r) += mass;
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> eig(k, m);
  const Eigen::VectorXd& area = bench.skin.node_area;
  std::vector<double> out;
  for (Eigen::Index j = 0; j < k.rows(); ++j) {
    const Eigen::VectorXd w = normal * eig.eigenvectors().col(j).head(r);
    const double share = std::abs(area.dot(w)) / std::sqrt(area.sum() * w.cwiseAbs2().dot(area));
    if (share > moving) out.push_back(hz(eig.eigenvalues()(j)));
  }
  return out;
}

/// A tube of 0.9 m, 30 mm wide, closed all round; the skin's first shape moves only at its left
/// end.
struct Tube {
  Bench bench = free_plate(testing::flat_plate(0.9, 0.03, 180, 6));
  cavity::Slab slab = cavity::make_slab(*bench.panel, depth(0.1, 0.1));
  cavity::CavityModes modes = cavity::cavity_modes(slab, 2500.0);
  Eigen::MatrixXd left_end() const {
    return (bench.panel->mesh.nodes.col(0).array() < 1e-9).cast<double>();
  }
};

}  // namespace

// Source: derived. cos(p pi x/a) cos(q pi y/b) meets closed walls: f = (c/2) sqrt((p/a)^2 +
// (q/b)^2).
TEST_CASE("a rectangular cavity has its closed-form modes", "[published][derived]") {
  const Bench bench = free_plate(testing::flat_plate(1.0, 0.6, 40, 24));
  const cavity::CavityModes modes =
      cavity::cavity_modes(cavity::make_slab(*bench.panel, depth(0.1, 0.1)), 650.0);
  std::vector<double> exact;
  for (int p = 0; p < 6; ++p)
    for (int q = 0; q < 4; ++q)
      exact.push_back(0.5 * base::kAirSound * std::hypot(p / 1.0, q / 0.6));
  std::sort(exact.begin(), exact.end());
  Table table("Cavity 1.0 x 0.6 m, closed walls, 25 mm elements, Hz");
  REQUIRE(modes.omega2.size() > 9);
  for (std::size_t i = 1; i < 10; ++i)
    table.row("mode " + std::to_string(i),
              hz(modes.omega2(static_cast<Eigen::Index>(i))),
              exact[i],
              0.005);
}

// Source: derived. J_1'(k R) = 0 for the lowest mode of a round cavity, J_0'(k R) = 0 for the
// lowest that is the same all round.
TEST_CASE("a round cavity has its closed-form modes, also behind a hole in the skin",
          "[published][derived]") {
  const double radius = 0.3;
  const auto slope = [](double x) {
    return std::cyl_bessel_j(0.0, x) - std::cyl_bessel_j(1.0, x) / x;
  };
  const double first = root(slope, 1.5, 2.2);
  const double even = root([](double x) { return std::cyl_bessel_j(1.0, x); }, 3.5, 4.2);
  const double unit = base::kAirSound / (base::kTwoPi * radius);
  Table table("Round cavity of 0.3 m, closed walls, 15 mm elements, Hz");
  for (const bool hole : {false, true}) {
    const Bench bench =
        free_plate(hole ? testing::annulus(0.06, radius, 16) : testing::disc(radius, 20));
    const cavity::CavityModes modes =
        cavity::cavity_modes(cavity::make_slab(*bench.panel, depth(0.1, 0.1)), 900.0);
    REQUIRE(modes.omega2.size() > 5);
    const std::string name = hole ? " behind a hole of 120 mm" : "";
    for (const Eigen::Index i : {1, 2})
      table.row("one diameter" + name, hz(modes.omega2(i)), first * unit, 0.005);
    table.row("one circle" + name, hz(modes.omega2(5)), even * unit, 0.005);
  }
}

// Source: derived. Webster's equation (d p')' + k^2 d p = 0 with d falling in a straight line is
// Bessel's in the distance r from where the depth would be 0: J_1(k r1) Y_1(k r2) =
// J_1(k r2) Y_1(k r1). Across it cos(p pi x / a), squares of the frequencies add up.
TEST_CASE("a cavity that narrows upward has the modes of a wedge", "[published][derived]") {
  const double a = 0.25, b = 0.6;
  const Bench bench = free_plate(testing::flat_plate(a, b, 15, 36));
  cavity::SlabInput input = depth(0.16, 0.04);
  input.volume_m3 = 0.02;  // scales the depths, not the modes
  const cavity::CavityModes modes =
      cavity::cavity_modes(cavity::make_slab(*bench.panel, input), 800.0);
  const double near = 0.04 * b / 0.12, far = near + b;
  const auto wedge = [&](double k) {
    return std::cyl_bessel_j(1.0, k * near) * std::cyl_neumann(1.0, k * far) -
           std::cyl_bessel_j(1.0, k * far) * std::cyl_neumann(1.0, k * near);
  };
  const double k1 = root(wedge, 4.5, 7.0), k2 = root(wedge, 9.0, 12.5), kx = base::kPi / a;
  const double unit = base::kAirSound / base::kTwoPi;
  REQUIRE(modes.omega2.size() > 4);
  Table table("Cavity 0.25 x 0.6 m, depth four to one, 17 mm elements, Hz");
  table.row("up once", hz(modes.omega2(1)), k1 * unit, 0.005);
  table.row("up twice", hz(modes.omega2(2)), k2 * unit, 0.005);
  table.row("across once", hz(modes.omega2(3)), kx * unit, 0.005);
  table.row("across and up once", hz(modes.omega2(4)), std::hypot(kx, k1) * unit, 0.005);
  // An even depth would have its first mode elsewhere: the depth counts.
  CHECK(std::abs(k1 / (base::kPi / b) - 1.0) > 0.03);
}

// Source: derived. Even pressure p = rho c^2 (volume that goes in) / V.
TEST_CASE("slow air is the spring rho c^2 S^2 / V to a cone and to the skin",
          "[published][derived]") {
  const Bench bench = free_plate(testing::flat_plate(1.0, 0.6, 20, 12));
  const cavity::Slab slab = cavity::make_slab(*bench.panel, volume(0.06));
  const Eigen::MatrixXd piston = Eigen::MatrixXd::Ones(bench.skin.dof.rows(), 1);
  const cavity::AirSpring air =
      cavity::air_spring(slab, cavity::even_mode(slab), piston, {{{0.2, 0.2}, 0.0133}}, {});
  Table table("Lumped stiffness of 60 l, N/m");
  table.row("skin as a piston", air.stiffness(0, 0), kBulk * 0.36 / 0.06, 1e-9);
  table.row("cone of 133 cm2", air.stiffness(1, 1), kBulk * 0.0133 * 0.0133 / 0.06, 1e-9);
  table.row("one on the other", air.stiffness(0, 1), -kBulk * 0.0133 * 0.6 / 0.06, 1e-9);
}

// Source: derived, apart from this program, see the data file. Here the plate's exact modes are
// the shapes.
TEST_CASE("exact plate modes on even air have the roots of the coupled equation",
          "[published][derived]") {
  const ReferenceFile data("cavity/plate_on_air.txt");
  const Bench bench = free_plate(testing::flat_plate(1.0, 0.6, 60, 36));
  const panel::Nodes& at = bench.panel->mesh.nodes;
  std::vector<double> omega2;
  Eigen::MatrixXd normal(at.rows(), 0);
  for (int m = 1; m <= 9; m += 2)
    for (int n = 1; n <= 9; n += 2) {
      const double lambda = base::kPi * base::kPi * (m * m + n * n / 0.36);
      omega2.push_back(std::pow(base::kTwoPi * plate_hz(lambda, 1.0, steel(0.8e-3)), 2));
      normal.conservativeResize(Eigen::NoChange, normal.cols() + 1);
      normal.rightCols(1) = (base::kPi * m * at.col(0)).array().sin() *
                            (base::kPi * n / 0.6 * at.col(1)).array().sin();
    }
  const double modal_mass = 7850.0 * 0.8e-3 * 0.15;
  const Eigen::MatrixXd mass = modal_mass * Eigen::MatrixXd::Identity(normal.cols(), normal.cols());
  const Eigen::MatrixXd stiffness =
      modal_mass * Eigen::Map<Eigen::VectorXd>(omega2.data(), normal.cols()).asDiagonal();
  Table table("SSSS 1.0 x 0.6 x 0.8 mm steel on even air, exact plate modes, Hz");
  for (const auto& [litres, key] : {std::pair(60.0, "even_060"), std::pair(30.0, "even_030")}) {
    const cavity::Slab slab = cavity::make_slab(*bench.panel, volume(litres * 1e-3));
    cavity::AirSpringOptions lumped;
    lumped.near_field = lumped.across = false;
    const cavity::AirSpring air =
        cavity::air_spring(slab, cavity::even_mode(slab), normal, {}, {}, lumped);
    const std::vector<double> got = coupled(stiffness, mass, air, bench, normal, 0.0);
    const std::vector<double>& wanted = data[key];
    for (std::size_t i = 0; i < wanted.size(); ++i)
      table.row(std::to_string(int(litres)) + " l", got[i], wanted[i], data.rule());
  }
}

// Source: derived, apart from this program, see the data file. Here the shell's reduced model
// meets the even mode alone, then the slab with its modes and its near field.
TEST_CASE("the shell on air has the roots of plate and slab coupled", "[published][derived]") {
  const ReferenceFile data("cavity/plate_on_air.txt");
  const Bench bench = make_bench(testing::flat_plate(1.0, 0.6, 60, 36),
                                 steel(0.8e-3),
                                 all_round(shell::Hold::simply_supported));
  const shell::PanelModel model = shell::build_model(bench.skin, bench.attachments, {});
  reduced::Ports ports;
  ports.load = shell::uniform_pressure(bench.skin);
  ports.listen.resize(0, bench.skin.n_dof);
  reduced::ReductionOptions options;
  options.top_hz = 160.0;
  options.air_faces = 0;
  options.count_check = false;
  const reduced::FullReduction full = reduced::reduce_full(bench.skin, model, ports, options, {});
  const Eigen::MatrixXd stiffness = full.model.stiffness(50.0).real();
  Table table("SSSS 1.0 x 0.6 x 0.8 mm steel on air, shell of 17 mm elements, Hz");
  for (const std::string litres : {"060", "030"}) {
    const cavity::Slab slab = cavity::make_slab(*bench.panel, volume(std::stod(litres) * 1e-3));
    cavity::AirSpringOptions o;
    o.near_field = o.across = false;
    const std::vector<double> even =
        coupled(stiffness,
                full.model.mass,
                cavity::air_spring(slab, cavity::even_mode(slab), full.normal, {}, {}, o),
                bench,
                full.normal,
                1e-3);
    const std::vector<double>& wanted = data["even_" + litres];
    for (std::size_t i = 0; i < wanted.size(); ++i)
      table.row("even air, " + litres + " l", even[i], wanted[i], data.rule());
    o.near_field = true;
    const cavity::CavityModes modes = cavity::cavity_modes(slab, 400.0);
    const std::vector<double> all = coupled(stiffness,
                                            full.model.mass,
                                            cavity::air_spring(slab, modes, full.normal, {}, {}, o),
                                            bench,
                                            full.normal,
                                            0.0);
    const std::vector<double>& exact = data["slab_" + litres];
    for (std::size_t i = 0; i < exact.size(); ++i)
      table.row("slab, " + litres + " l", all[i], exact[i], data.rule());
  }
}

// Source: derived. A piston at one end of a closed tube: p(x) = lumped k L cos(k (L - x)) /
// sin(k L). Beside the piston, which takes up one element of 5 mm, the lumped pressure is left
// sooner; near the zero of the cotangent nothing relative can be asked.
TEST_CASE("pressure in a tube leaves the lumped one as standing waves ask",
          "[published][derived]") {
  const Tube tube;
  const cavity::AirSpring air = cavity::air_spring(tube.slab, tube.modes, tube.left_end(), {}, {});
  int far = 0, near = 0;
  tube.bench.panel->mesh.nodes.col(0).maxCoeff(&far);
  tube.bench.panel->mesh.nodes.col(0).minCoeff(&near);
  const cavity::PressureRows rows = cavity::pressure_rows(tube.modes, air, {far, near});
  const double lumped = -tube.slab.stiffness_per_volume2() * (tube.slab.A * tube.left_end()).sum();
  const auto ratio = [&](double f, Eigen::Index point) {
    const double w2 = std::pow(base::kTwoPi * f, 2);
    Eigen::VectorXd z(air.size());
    z(0) = 1.0;
    z.tail(air.n_air) = -air.stiffness.col(0).tail(air.n_air).array() /
                        (tube.modes.omega2.tail(air.n_air).array() - w2);
    return (rows.spring.row(point) + w2 * rows.inertia.row(point)).dot(z) / lumped;
  };
  Table table("Tube of 0.9 m, piston at one end: pressure over lumped pressure");
  const auto kl = [](double f) { return base::kTwoPi * f / base::kAirSound * 0.9; };
  for (const double f : {45.4, 61.7, 90.8, 150.0, 260.0})
    table.row(
        "far end, " + std::to_string(int(f)) + " Hz", ratio(f, 0), kl(f) / std::sin(kl(f)), 0.001);
  for (const double f : {32.9, 61.7, 150.0})
    table.row("at the piston, " + std::to_string(int(f)) + " Hz",
              ratio(f, 1),
              kl(f) / std::tan(kl(f)),
              0.005);
}

// Source: derived. Plug of mass rho A l on the spring rho c^2 A^2 / V; at the end of a tube of
// cross-section S, k tan(k L) = A / (S l).
TEST_CASE("a leak rings at Helmholtz's frequency", "[published][derived]") {
  Table table("Leaks, Hz");
  const Bench bench = free_plate(testing::flat_plate(1.0, 0.6, 20, 12));
  const cavity::Slab slab = cavity::make_slab(*bench.panel, volume(0.06));
  const Eigen::MatrixXd none(bench.skin.dof.rows(), 0);
  for (const auto& [area, length] : {std::pair(0.002, 0.03), std::pair(0.01, 0.1)}) {
    cavity::AirSpringOptions lumped;
    lumped.near_field = false;
    const cavity::AirSpring air = cavity::air_spring(
        slab, cavity::even_mode(slab), none, {}, {{{0.8, 0.1}, area, length, 0.0}}, lumped);
    table.row("60 l, even air",
              hz(air.stiffness(0, 0) / air.mass(0, 0)),
              base::kAirSound / base::kTwoPi * std::sqrt(area / (0.06 * length)),
              1e-9);
  }
  const Tube tube;
  const double area = 2e-4, length = 0.1;
  const cavity::AirSpring air = cavity::air_spring(tube.slab,
                                                   tube.modes,
                                                   Eigen::MatrixXd(tube.left_end().rows(), 0),
                                                   {},
                                                   {{{0.008, 0.015}, area, length, 0.0}});
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> eig(air.stiffness, air.mass);
  const auto closed = [&](double kl) {
    return kl * std::sin(kl) - 0.9 * area / (0.003 * length) * std::cos(kl);
  };
  const double unit = base::kAirSound / (base::kTwoPi * 0.9);
  table.row("end of a tube, plug", hz(eig.eigenvalues()(0)), root(closed, 0.1, 1.5) * unit, 0.01);
  table.row("end of a tube, wave", hz(eig.eigenvalues()(1)), root(closed, 3.0, 4.5) * unit, 0.01);
}
