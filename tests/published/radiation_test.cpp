// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/radiation.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "published/bench.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

const Eigen::VectorXcd kUnit = Eigen::VectorXcd::Ones(1);

double hz(double wave_number) { return wave_number * base::kAirSound / base::kTwoPi; }

Bench free_plate(const panel::Mesh& mesh) {
  return make_bench(mesh, steel(0.8e-3), all_round(shell::Hold::free));
}

/// A flat round piston of the radius 0.2 m.
struct Piston {
  Bench bench = free_plate(testing::disc(0.2, 24));
  response::Radiator radiator{
      bench.skin, Eigen::MatrixXd::Ones(bench.skin.dof.rows(), 1), hz(6.0 / 0.2)};
};

double share(double m) { return 1.0 - 8.0 / std::pow(m * base::kPi, 2); }

/// Wallace's low-frequency efficiency of a simply supported plate's mode, a 1.0 m, b 0.6 m.
double wallace(int m, int n, double freq_hz) {
  const double k = base::kTwoPi * freq_hz / base::kAirSound;
  double ka = k, kb = 0.6 * k, ab = 1.0 / 0.6;
  const bool odd_m = m % 2 == 1, odd_n = n % 2 == 1;
  if (!odd_m && odd_n) {  // as odd m with even n, sides swapped
    std::swap(m, n);
    std::swap(ka, kb);
    ab = 1.0 / ab;
  }
  const double front = 1.0 / (m * m * n * n * std::pow(base::kPi, 5));
  const auto wide = [](double i) { return 1.0 - 24.0 / std::pow(i * base::kPi, 2); };
  if (odd_m && odd_n)
    return 32.0 * ka * kb * front * (1.0 - ka * kb / 12.0 * (share(m) * ab + share(n) / ab));
  if (odd_m != odd_n)
    return 8.0 / 3.0 * ka * std::pow(kb, 3) * front *
           (1.0 - ka * kb / 20.0 * (share(m) * ab + wide(n) / ab));
  return 2.0 / 15.0 * std::pow(ka * kb, 3) * front *
         (1.0 - ka * kb / 28.0 * (wide(m) * ab + wide(n) / ab));
}

/// sin(m pi x) sin(n pi y / 0.6) at the nodes, one mode a column.
Eigen::MatrixXd sines(const Bench& bench, const std::vector<double>& waves) {
  const panel::Nodes& at = bench.panel->mesh.nodes;
  Eigen::MatrixXd normal(at.rows(), static_cast<Eigen::Index>(waves.size()) / 2);
  for (Eigen::Index j = 0; j < normal.cols(); ++j)
    normal.col(j) =
        (base::kPi * waves[static_cast<std::size_t>(2 * j)] * at.col(0)).array().sin() *
        (base::kPi * waves[static_cast<std::size_t>(2 * j + 1)] / 0.6 * at.col(1)).array().sin();
  return normal;
}

}  // namespace

// Source: derived. Directivity 2 J_1(x)/x with x = k a sin(angle), its square summed over the half
// sphere: sigma = 1 - J_1(2 k a) / (k a). The six figures beside it were worked out apart from this
// program.
TEST_CASE("a baffled round piston has its closed-form radiation resistance",
          "[published][derived]") {
  const Piston piston;
  const std::vector<double> ka = {0.1, 0.2, 0.5, 1.0, 2.0, 3.0, 5.0};
  const std::vector<double> known = {
      0.00499167, 0.0198671, 0.119899, 0.423275, 1.03302, 1.09223, 0.991305};
  Table table("Baffled round piston of 0.2 m, 8 mm elements, resistance over rho c S");
  for (std::size_t i = 0; i < ka.size(); ++i) {
    const double exact = 1.0 - std::cyl_bessel_j(1.0, 2.0 * ka[i]) / ka[i];
    CHECK(exact == Approx(known[i]).epsilon(1e-5));
    table.row("k a = " + std::to_string(ka[i]).substr(0, 3),
              piston.radiator.efficiency(hz(ka[i] / 0.2), kUnit),
              exact,
              0.01);
  }
}

// Source: derived. Rayleigh's integral over a disc, far away.
TEST_CASE("a baffled round piston sends sound forward as 2 J1(x)/x", "[published][derived]") {
  const Piston piston;
  const double ka = 3.0, f = hz(ka / 0.2), far = 500.0;
  const auto at = [&](double degrees) {
    const double angle = base::from_degrees(degrees);
    return std::abs(
        piston.radiator.pressure_row(f, {far * std::sin(angle), 0.0, far * std::cos(angle)})(0));
  };
  Table table("Baffled round piston, k a = 3, pressure off the axis over that on it");
  for (const double degrees : {15.0, 30.0, 45.0, 60.0, 90.0}) {
    const double x = ka * std::sin(base::from_degrees(degrees));
    table.row(std::to_string(int(degrees)) + " degrees",
              at(degrees) / at(0.0),
              2.0 * std::cyl_bessel_j(1.0, x) / x,
              0.01);
  }
}

// Source: derived. On the axis Rayleigh's integral closes: p = rho c v (e^{-ikz} -
// e^{-ik sqrt(z^2 + a^2)}).
TEST_CASE("a baffled round piston has its closed-form pressure on the axis",
          "[published][derived]") {
  const Piston piston;
  Table table("Baffled round piston of 0.2 m, pressure on the axis for 1 m/s, Pa");
  const double rho_c = base::kAirDensity * base::kAirSound;
  for (const double f : {50.0, 200.0, 800.0})
    for (const double z : {0.3, 1.0}) {
      const double k = base::kTwoPi * f / base::kAirSound, edge = std::hypot(z, 0.2);
      const std::complex<double> exact =
          rho_c * (std::polar(1.0, -k * z) - std::polar(1.0, -k * edge));
      const std::complex<double> got =
          piston.radiator.pressure_row(f, piston.radiator.in_front(z))(0);
      const std::string name =
          std::to_string(int(f)) + " Hz at " + std::to_string(z).substr(0, 3) + " m";
      table.row(name + ", size", std::abs(got), std::abs(exact), 0.01);
      CHECK(std::abs(got - exact) < 0.01 * std::abs(exact));
    }
}

// Source: derived, apart from this program, see the data file.
TEST_CASE("modes of a simply supported plate radiate as their far field says",
          "[published][derived]") {
  const ReferenceFile data("radiation/simply_supported.txt");
  const Bench bench = free_plate(testing::flat_plate(1.0, 0.6, 60, 36));
  const std::vector<double>& waves = data["modes"];
  const Eigen::MatrixXd normal = sines(bench, waves);
  const response::Radiator radiator(bench.skin, normal, 400.0);
  Table table("Radiation efficiency of SSSS modes 1.0 x 0.6 m, 17 mm elements");
  for (const int f : {20, 50, 100, 200}) {
    const std::vector<double>& known = data["at_" + std::to_string(f)];
    for (std::size_t j = 0; j < known.size(); ++j)
      table.row("(" + std::to_string(int(waves[2 * j])) + "," +
                    std::to_string(int(waves[2 * j + 1])) + ") at " + std::to_string(f) + " Hz",
                radiator.efficiency(
                    f, Eigen::VectorXcd::Unit(normal.cols(), static_cast<Eigen::Index>(j))),
                known[j],
                data["rule"][j]);
  }
}

// Source: memory. C. E. Wallace, J. Acoust. Soc. Am. 51 (1972) 946-952, two terms of a series in k:
// the check above is the one that counts. At 20 Hz the first term left out is below 1 %.
TEST_CASE("at low frequency the modes of a plate radiate as Wallace's series says",
          "[published][memory]") {
  const Bench bench = free_plate(testing::flat_plate(1.0, 0.6, 60, 36));
  const std::vector<double> waves = {1, 1, 2, 1, 1, 2, 2, 2};
  const Eigen::MatrixXd normal = sines(bench, waves);
  const response::Radiator radiator(bench.skin, normal, 400.0);
  Table table("Radiation efficiency of SSSS modes 1.0 x 0.6 m, Wallace's two terms");
  for (std::size_t j = 0; j < 4; ++j) {
    const int m = int(waves[2 * j]), n = int(waves[2 * j + 1]);
    table.row("(" + std::to_string(m) + "," + std::to_string(n) + ") at 20 Hz",
              radiator.efficiency(
                  20.0, Eigen::VectorXcd::Unit(normal.cols(), static_cast<Eigen::Index>(j))),
              wallace(m, n, 20.0),
              0.015);
  }
}
