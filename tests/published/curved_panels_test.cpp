// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/crowned.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

constexpr double kRule = 0.005;

struct HalfWaves {
  double freq_hz;
  int m, n;
};

/// Lowest patterns of a panel 1.0 x 0.6 m of 0.8 mm steel.
std::vector<HalfWaves> closed_form(const Crown& crown) {
  std::vector<HalfWaves> all;
  for (int m = 1; m < 16; ++m)
    for (int n = 1; n < 16; ++n)
      all.push_back(
          {three_displacement_hz(steel(0.8e-3), m * base::kPi / 1.0, n * base::kPi / 0.6, crown),
           m,
           n});
  std::sort(all.begin(), all.end(), [](const HalfWaves& a, const HalfWaves& b) {
    return a.freq_hz < b.freq_hz;
  });
  all.resize(8);
  return all;
}

void check_panel(const Crown& crown, const std::string& title) {
  const Bench bench = crowned_panel(1.0, 0.6, crown, 84, 50);
  const BenchModes modes = bare_modes(bench, 8);
  Table table(title + ", 1.0 x 0.6 x 0.8 mm steel, shear diaphragms, 12 mm elements, Hz");
  // In order, not by shape: modes within a few per thousand of each other mix at the least excuse.
  const std::vector<HalfWaves> exact = closed_form(crown);
  for (std::size_t i = 0; i < exact.size(); ++i)
    table.row("mode " + std::to_string(i + 1) + ", (" + std::to_string(exact[i].m) + "," +
                  std::to_string(exact[i].n) + ")",
              modes.freq_hz(static_cast<int>(i)),
              exact[i].freq_hz,
              kRule);
}

}  // namespace

// Source: derived, by another route: the same equations were solved apart from this program.
TEST_CASE("the closed form of curved panels gives the digits on record", "[published][derived]") {
  const ReferenceFile data("curved_panels/three_displacements.txt");
  const std::vector<std::pair<std::string, Crown>> cases = {{"flat", {0.0, 0.0}},
                                                            {"inf 8", {0.0, 1.0 / 8.0}},
                                                            {"inf 3", {0.0, 1.0 / 3.0}},
                                                            {"8 inf", {1.0 / 8.0, 0.0}},
                                                            {"3 inf", {1.0 / 3.0, 0.0}},
                                                            {"8 8", {1.0 / 8.0, 1.0 / 8.0}},
                                                            {"3 3", {1.0 / 3.0, 1.0 / 3.0}},
                                                            {"8 3", {1.0 / 8.0, 1.0 / 3.0}}};
  for (const auto& [key, crown] : cases) {
    const std::vector<HalfWaves> known = closed_form(crown);
    for (std::size_t i = 0; i < known.size(); ++i) {
      CAPTURE(key, i);
      CHECK(known[i].freq_hz == Approx(data[key][i]).epsilon(data.rule()));
    }
  }
}

// Source: derived. Three displacements, exact for shear-diaphragm edges, see closed_forms.hpp.
TEST_CASE("cylinder panels curved across have their frequencies", "[published][derived]") {
  check_panel({0.0, 1.0 / 8.0}, "Cylinder, R 8 m over the 0.6 m side");
  check_panel({0.0, 1.0 / 3.0}, "Cylinder, R 3 m over the 0.6 m side");
}

TEST_CASE("cylinder panels curved along have their frequencies", "[published][derived]") {
  check_panel({1.0 / 8.0, 0.0}, "Cylinder, R 8 m over the 1.0 m side");
  check_panel({1.0 / 3.0, 0.0}, "Cylinder, R 3 m over the 1.0 m side");
}

TEST_CASE("sphere panels have their frequencies", "[published][derived]") {
  check_panel({1.0 / 8.0, 1.0 / 8.0}, "Sphere, R 8 m");
  check_panel({1.0 / 3.0, 1.0 / 3.0}, "Sphere, R 3 m");
}

TEST_CASE("a doubly crowned panel has its frequencies", "[published][derived]") {
  check_panel({1.0 / 8.0, 1.0 / 3.0}, "Crowned, R 8 m along and 3 m across");
}
