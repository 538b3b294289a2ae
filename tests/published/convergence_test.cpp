// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/crowned.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

constexpr double kLowOrder = 1.7, kHighOrder = 2.6;

/// Order from the error against a known value, 15, 30 and 60 cells on the longer side.
void check_order(Table& table,
                 const std::string& name,
                 double exact_hz,
                 const std::function<double(int)>& computed_hz) {
  std::vector<double> size, error;
  for (const int n : {15, 30, 60}) {
    size.push_back(1.0 / n);
    error.push_back(computed_hz(n) / exact_hz - 1.0);
  }
  std::printf("  %-44s errors %% %+.3f %+.3f %+.3f\n",
              name.c_str(),
              100.0 * error[0],
              100.0 * error[1],
              100.0 * error[2]);
  table.between(name + ", order", fitted_order(size, error), kLowOrder, kHighOrder);
}

/// Order from the steps between three meshes, each twice as fine as the one before. For curved
/// panels theory and mesh do not have the same limit: a shallow theory leaves out terms of the size
/// of (side / radius)^2.
void check_own_order(Table& table,
                     const std::string& name,
                     int coarsest,
                     const std::function<double(int)>& computed_hz) {
  std::vector<double> f;
  for (const int n : {coarsest, 2 * coarsest, 4 * coarsest}) f.push_back(computed_hz(n));
  std::printf("  %-44s Hz %.6g %.6g %.6g\n", name.c_str(), f[0], f[1], f[2]);
  table.between(name + ", order of the steps",
                std::log2((f[0] - f[1]) / (f[1] - f[2])),
                kLowOrder,
                kHighOrder);
}

double crowned_hz(const Crown& crown, int cells, int m, int n) {
  const Bench bench = crowned_panel(1.0, 0.6, crown, cells, 3 * cells / 5);
  const BenchModes modes = bare_modes(bench, 12);
  return modes.freq_hz(find_mode(bench, modes, m, n));
}

}  // namespace

// Source: derived. The elements' curvature is linear-complete, so frequencies err by the square of
// the element size.
TEST_CASE("flat plates converge with order two", "[published][derived]") {
  Table table("Order of convergence, flat");
  for (const auto& [m, n] : std::vector<std::pair<int, int>>{{1, 1}, {2, 2}}) {
    const int mm = m, nn = n;
    check_order(table,
                "SSSS 1.0 x 0.6 (" + std::to_string(m) + "," + std::to_string(n) + ")",
                plate_hz(base::kPi * base::kPi * (m * m + n * n / 0.36), 1.0, steel(0.8e-3)),
                [mm, nn](int cells) { return crowned_hz({}, cells, mm, nn); });
  }
  const ReferenceFile data("thin_plates/rectangles.txt");
  check_order(
      table, "CCCC square, mode 1", plate_hz(data["CCCC 1"][0], 0.6, steel(0.8e-3)), [](int n) {
        return bare_modes(make_bench(testing::flat_plate(0.6, 0.6, n, n),
                                     steel(0.8e-3),
                                     all_round(shell::Hold::clamped)),
                          1)
            .freq_hz(0);
      });
  check_order(table,
              "clamped rhombus, skew 30, mode 1",
              plate_hz(data["CCCC 1 skew 30"][0], 0.6, steel(0.8e-3)),
              [](int n) {
                return bare_modes(make_bench(testing::skew_plate(0.6, base::from_degrees(60.0), n),
                                             steel(0.8e-3),
                                             all_round(shell::Hold::clamped)),
                                  1)
                    .freq_hz(0);
              });
}

// Source: derived. As above; the facets' slopes err by the square of the element size too. A
// sphere's modes are nearly all membrane, and 67 mm facets are too coarse to show the order.
TEST_CASE("curved panels converge with order two", "[published][derived]") {
  Table table("Order of convergence, curved");
  check_own_order(table, "cylinder R 8 m over 0.6 m (1,2)", 15, [](int cells) {
    return crowned_hz({0.0, 1.0 / 8.0}, cells, 1, 2);
  });
  check_own_order(table, "cylinder R 8 m over 0.6 m (1,3)", 30, [](int cells) {
    return crowned_hz({0.0, 1.0 / 8.0}, cells, 1, 3);
  });
  check_own_order(table, "sphere R 8 m (1,1)", 30, [](int cells) {
    return crowned_hz({1.0 / 8.0, 1.0 / 8.0}, cells, 1, 1);
  });
  check_own_order(table, "sphere R 8 m (2,2)", 30, [](int cells) {
    return crowned_hz({1.0 / 8.0, 1.0 / 8.0}, cells, 2, 2);
  });
}
