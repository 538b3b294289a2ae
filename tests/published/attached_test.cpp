// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
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

constexpr double kRule = 0.005;
constexpr double kA = 1.0, kB = 0.6;

/// First frequencies of the simply supported steel plate 1.0 x 0.6 x 0.8 mm with a point mass, Hz.
/// Source: [derived] the mass's own force drives every mode phi_mn(x0, y0):
/// 1 = M w^2 sum phi^2 / (m a b / 4 (w_mn^2 - w^2)); modes with phi = 0 keep their frequency.
std::vector<double> with_point_mass(double mass_kg, double x, double y, std::size_t count) {
  struct Pole {
    double omega2, phi2;
  };
  const shell::Plate plate = steel(0.8e-3);
  const double area_mass = plate.density * plate.thickness_m;
  std::vector<Pole> poles;
  std::vector<double> freq_hz;
  for (int m = 1; m <= 300; ++m)
    for (int n = 1; n <= 180; ++n) {
      const double f = plate_hz(base::kPi * base::kPi * (m * m + n * n / (kB * kB)), 1.0, plate);
      const double phi = std::sin(m * base::kPi * x / kA) * std::sin(n * base::kPi * y / kB);
      if (std::abs(phi) > 1e-9)
        poles.push_back({std::pow(base::kTwoPi * f, 2), phi * phi});
      else
        freq_hz.push_back(f);
    }
  std::sort(
      poles.begin(), poles.end(), [](const Pole& p, const Pole& q) { return p.omega2 < q.omega2; });
  const auto left = [&](double omega2) {
    double sum = 0.0;
    for (const Pole& p : poles) sum += p.phi2 / (p.omega2 - omega2);
    return mass_kg * omega2 * sum / (0.25 * area_mass * kA * kB) - 1.0;
  };
  // One root below the first pole and one between each two; `left` rises from -1 or minus infinity.
  double low = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    double a = low, b = poles[i].omega2;
    low = b;
    for (int step = 0; step < 50; ++step) {
      const double middle = 0.5 * (a + b);
      (left(middle) < 0.0 ? a : b) = middle;
    }
    freq_hz.push_back(std::sqrt(a) / base::kTwoPi);
  }
  std::sort(freq_hz.begin(), freq_hz.end());
  freq_hz.resize(count);
  return freq_hz;
}

}  // namespace

// Source: derived, by another route: the same equation was solved apart from this program.
TEST_CASE("the closed form of a point mass gives the digits on record", "[published][derived]") {
  const std::vector<double> light = with_point_mass(0.1, 0.3, 0.2, 5);
  const std::vector<double> heavy = with_point_mass(0.5, 0.3, 0.2, 5);
  const std::vector<double> light_known = {7.23474, 12.8792, 22.9010, 23.3783, 28.8331};
  const std::vector<double> heavy_known = {6.46661, 11.6529, 21.0869, 23.2614, 27.4954};
  for (std::size_t i = 0; i < 5; ++i) {
    CHECK(light[i] == Approx(light_known[i]).epsilon(1e-5));
    CHECK(heavy[i] == Approx(heavy_known[i]).epsilon(1e-5));
  }
  CHECK(with_point_mass(0.1, 0.5, 0.3, 1)[0] == Approx(7.05804).epsilon(1e-5));
  CHECK(with_point_mass(0.5, 0.5, 0.3, 1)[0] == Approx(5.93080).epsilon(1e-5));
}

// Source: derived. See with_point_mass.
TEST_CASE("a point mass lowers the plate's modes as it must", "[published][derived]") {
  Bench bench = make_bench(
      testing::flat_plate(kA, kB, 60, 36), steel(0.8e-3), all_round(shell::Hold::simply_supported));
  Table table("Point mass on SSSS 1.0 x 0.6 x 0.8 mm steel, 17 mm elements, Hz");
  for (const Eigen::Vector2d& at : {Eigen::Vector2d(0.5, 0.3), Eigen::Vector2d(0.3, 0.2)})
    for (const double mass_kg : {0.1, 0.5}) {
      shell::MassInput mass;
      mass.at = at;
      mass.mass_kg = mass_kg;
      bench.attachments.masses = {mass};
      const BenchModes modes = bare_modes(bench, 5);
      const std::vector<double> known = with_point_mass(mass_kg, at.x(), at.y(), 5);
      for (std::size_t i = 0; i < 5; ++i) {
        char name[64];
        std::snprintf(
            name, sizeof name, "%.1f kg at (%.1f, %.1f), mode %zu", mass_kg, at.x(), at.y(), i + 1);
        table.row(name, modes.freq_hz(static_cast<int>(i)), known[i], kRule);
      }
    }
}
