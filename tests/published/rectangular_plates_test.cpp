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

constexpr double kElement = 0.012;  // the program's own element size, m
constexpr double kRule = 0.005;

int cells(double length) { return static_cast<int>(std::lround(length / kElement)); }

Bench rectangle(double a, double b, const std::string& letters) {
  return make_bench(
      testing::flat_plate(a, b, cells(a), cells(b)), steel(0.8e-3), by_letters(letters));
}

std::string name(const char* what, std::size_t mode) {
  return std::string(what) + ", mode " + std::to_string(mode + 1);
}

void check_rectangle(const std::string& letters, double a, double b, const std::string& key) {
  const ReferenceFile data("thin_plates/rectangles.txt");
  const std::vector<double>& lambda = data[key];
  const Bench bench = rectangle(a, b, letters);
  const bool free = letters == "FFFF";
  const int skip = free ? 6 : 0;
  const BenchModes modes = bare_modes(bench, static_cast<int>(lambda.size()) + skip);
  if (free) REQUIRE(modes.rigid_body == 6);
  for (int i = 0; i < skip; ++i) CHECK(modes.freq_hz(i) < 1e-3 * modes.freq_hz(skip));
  Table table("Plate " + key + ", 12 mm elements, Hz");
  for (std::size_t i = 0; i < lambda.size(); ++i)
    table.row(name(letters.c_str(), i),
              modes.freq_hz(skip + static_cast<int>(i)),
              plate_hz(lambda[i], a, steel(0.8e-3)),
              data.rule());
}

}  // namespace

// Source: derived. w = sin(m pi x/a) sin(n pi y/b) meets the edges: lambda = pi^2 (m^2 + n^2
// (a/b)^2).
TEST_CASE("a simply supported plate has its closed-form frequencies", "[published][derived]") {
  const Bench bench = rectangle(1.0, 0.6, "SSSS");
  const BenchModes modes = bare_modes(bench, 8);
  std::vector<double> lambda;
  for (int m = 1; m < 9; ++m)
    for (int n = 1; n < 9; ++n) lambda.push_back(base::kPi * base::kPi * (m * m + n * n / 0.36));
  std::sort(lambda.begin(), lambda.end());
  Table table("Plate SSSS 1.0 x 0.6 x 0.8 mm steel, 12 mm elements, Hz");
  for (std::size_t i = 0; i < 8; ++i)
    table.row(name("SSSS", i),
              modes.freq_hz(static_cast<int>(i)),
              plate_hz(lambda[i], 1.0, steel(0.8e-3)),
              kRule);
}

// Source: derived. Converged Ritz, see the data file; CCSS and SSCF are Levy cases.
TEST_CASE("a clamped square has its frequencies and its pair", "[published][derived]") {
  check_rectangle("CCCC", 0.6, 0.6, "CCCC 1");
  const BenchModes modes = bare_modes(rectangle(0.6, 0.6, "CCCC"), 3);
  CHECK(modes.freq_hz(2) / modes.freq_hz(1) - 1.0 < 1e-6);
}

TEST_CASE("a clamped rectangle of 2 to 1 has its frequencies", "[published][derived]") {
  check_rectangle("CCCC", 1.0, 0.5, "CCCC 2");
}

TEST_CASE("a cantilever plate has its frequencies", "[published][derived]") {
  check_rectangle("CFFF", 0.6, 0.6, "CFFF 1");
  check_rectangle("CFFF", 1.0, 0.5, "CFFF 2");
}

TEST_CASE("a free plate has six rigid motions, then its frequencies", "[published][derived]") {
  check_rectangle("FFFF", 0.6, 0.6, "FFFF 1");
  check_rectangle("FFFF", 0.9, 0.6, "FFFF 1.5");
}

TEST_CASE("plates with two sides simply supported have Levy's frequencies",
          "[published][derived]") {
  check_rectangle("CCSS", 0.6, 0.6, "CCSS 1");
  check_rectangle("SSCF", 0.6, 0.6, "SSCF 1");
}

// Source: derived. Navier's double series for a uniform pressure q: the centre moves by
// 16 q / (pi^6 D) sum over odd m, n of (-1)^((m+n)/2 - 1) / (m n (m^2/a^2 + n^2/b^2)^2).
TEST_CASE("a simply supported plate sags by Navier's series", "[published][derived]") {
  Table table("Static centre deflection under a uniform pressure, SSSS, mm per kPa");
  for (const double b : {1.0, 1.5, 5.0 / 3.0, 2.0}) {
    const double a = 0.48;
    const Bench bench = make_bench(testing::flat_plate(a, a * b, 40, 2 * cells(0.5 * a * b)),
                                   steel(0.8e-3),
                                   all_round(shell::Hold::simply_supported));
    double sum = 0.0;
    for (int m = 1; m < 400; m += 2)
      for (int n = 1; n < 400; n += 2)
        sum += ((m + n) / 2 % 2 == 1 ? 1.0 : -1.0) / (double(m) * n) /
               std::pow(m * m + n * n / (b * b), 2);
    const double exact =
        16.0 * std::pow(a, 4) / std::pow(base::kPi, 6) / bending_rigidity(steel(0.8e-3)) * sum;
    table.row("b/a = " + std::to_string(b).substr(0, 5),
              1e6 * deflection_under_pressure(bench, {0.5 * a, 0.5 * a * b}),
              1e6 * exact,
              kRule);
  }
}
