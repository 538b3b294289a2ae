// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/air_mass.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

Bench plate() {
  return make_bench(testing::flat_plate(1.0, 0.6, 60, 36),
                    steel(0.8e-3),
                    all_round(shell::Hold::simply_supported));
}

}  // namespace

// Source: derived, by quadrature apart from this program, see the data file.
TEST_CASE("air on one face adds its mass to each mode of a plate", "[published][derived]") {
  const ReferenceFile data("air_mass/simply_supported.txt");
  const Bench bench = plate();
  const panel::FlatPoints& at = bench.panel->flat.points();
  const std::vector<double>& waves = data["modes"];
  Table table("Mass of the air on one face, SSSS modes 1.0 x 0.6 m, 17 mm elements, kg/m2");
  for (std::size_t i = 0; i < data["mass"].size(); ++i) {
    const double m = waves[2 * i], n = waves[2 * i + 1];
    const Eigen::VectorXd shape =
        (base::kPi * m * at.col(0)).array().sin() * (base::kPi * n / 0.6 * at.col(1)).array().sin();
    const Eigen::MatrixXd mass = reduced::air_mass(bench.skin, shape, 1);
    table.row("(" + std::to_string(int(m)) + "," + std::to_string(int(n)) + ")",
              mass(0, 0) / (0.25 * 1.0 * 0.6),
              data["mass"][i],
              data.rule());
  }
}

// Source: derived. int int dA dA' / r over a disc is 16 pi a^3 / 3, so a rigid disc in a baffle
// moves rho / (2 pi) times that: 8 rho a^3 / 3 a face.
TEST_CASE("a rigid disc in a baffle moves eight thirds rho a cubed", "[published][derived]") {
  const double a = 0.3;
  const Bench bench = make_bench(testing::disc(a, 25), steel(0.8e-3), all_round(shell::Hold::free));
  const Eigen::MatrixXd rigid = Eigen::MatrixXd::Ones(bench.skin.dof.rows(), 1);
  Table table("Mass of the air on a rigid disc of 0.3 m, kg");
  for (const int faces : {1, 2})
    table.row(std::to_string(faces) + " face(s)",
              reduced::air_mass(bench.skin, rigid, faces)(0, 0),
              faces * 8.0 / 3.0 * base::kAirDensity * a * a * a,
              0.015);
}

// Source: derived. Added mass mu on plate mass m lowers a mode by sqrt(1 + mu/m); modes of one
// plate hardly mix. The masses are those of the data file.
TEST_CASE("air on both faces lowers a plate's modes", "[published][derived]") {
  const ReferenceFile data("air_mass/simply_supported.txt");
  const Bench bench = plate();
  const BenchModes modes = damped_modes(bench, {}, 32.0, 2);
  const double mass = bench.skin.plate.density * bench.skin.plate.thickness_m;
  const std::vector<double>& waves = data["modes"];
  Table table("SSSS 1.0 x 0.6 x 0.8 mm steel with air on both faces, 17 mm elements, Hz");
  for (std::size_t i = 0; i < data["mass"].size(); ++i) {
    const int m = static_cast<int>(waves[2 * i]), n = static_cast<int>(waves[2 * i + 1]);
    const double lambda = base::kPi * base::kPi * (m * m + n * n / 0.36);
    table.row("(" + std::to_string(m) + "," + std::to_string(n) + ")",
              modes.freq_hz(find_mode(bench, modes, m, n)),
              plate_hz(lambda, 1.0, steel(0.8e-3)) / std::sqrt(1.0 + 2.0 * data["mass"][i] / mass),
              0.005);
  }
}
