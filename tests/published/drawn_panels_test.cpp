// SPDX-License-Identifier: GPL-3.0-or-later
// The flat and the crowned panels of the other files, drawn from a tape measure: the same
// references at the same tolerance.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "panel/drawings.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

constexpr double kElement = 0.012;  // the program's own element size for a mesh, m
constexpr double kRule = 0.005;

Bench drawn_bench(const panel::DrawnInput& drawing, const std::vector<shell::EdgeInput>& edges) {
  return make_bench(panel::make_drawn_panel(drawing), steel(0.8e-3), edges);
}

struct HalfWaves {
  double freq_hz;
  int m, n;
};

/// Lowest patterns of a panel 1.0 x 0.6 m of 0.8 mm steel with shear-diaphragm edges.
std::vector<HalfWaves> closed_form(const Crown& crown, std::size_t count) {
  std::vector<HalfWaves> all;
  for (int m = 1; m < 20; ++m)
    for (int n = 1; n < 20; ++n)
      all.push_back(
          {three_displacement_hz(steel(0.8e-3), m * base::kPi / 1.0, n * base::kPi / 0.6, crown),
           m,
           n});
  std::sort(all.begin(), all.end(), [](const HalfWaves& a, const HalfWaves& b) {
    return a.freq_hz < b.freq_hz;
  });
  all.resize(count);
  return all;
}

void check_crowned(const panel::DrawnInput& drawing,
                   const Crown& crown,
                   const std::string& title,
                   double rule = kRule,
                   std::size_t count = 8) {
  const Bench bench = drawn_bench(drawing, all_round(shell::Hold::simply_supported));
  const BenchModes modes = bare_modes(bench, static_cast<int>(count));
  Table table("Drawn: " + title + ", 1.0 x 0.6 x 0.8 mm steel, elements of " +
              std::to_string(base::to_mm(drawing.element_m)).substr(0, 4) + " mm, Hz");
  const std::vector<HalfWaves> exact = closed_form(crown, count);
  for (std::size_t i = 0; i < exact.size(); ++i)
    table.row("mode " + std::to_string(i + 1) + ", (" + std::to_string(exact[i].m) + "," +
                  std::to_string(exact[i].n) + ")",
              modes.freq_hz(static_cast<int>(i)),
              exact[i].freq_hz,
              rule);
}

panel::DrawnInput crowned(double radius_along, double radius_up) {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, kElement);
  drawing.radius_along_m = radius_along;
  drawing.radius_up_m = radius_up;
  return drawing;
}

}  // namespace

// Source: derived. w = sin sin meets the edges, see rectangular_plates_test.cpp.
TEST_CASE("a drawn flat plate has the closed form's frequencies", "[published][derived]") {
  check_crowned(testing::drawn_rectangle(1.0, 0.6, kElement), {}, "flat plate, SSSS");
}

// Source: derived. Converged Ritz, see the data file.
TEST_CASE("a drawn clamped square has its frequencies", "[published][derived]") {
  const ReferenceFile data("thin_plates/rectangles.txt");
  const std::vector<double>& lambda = data["CCCC 1"];
  const Bench bench =
      drawn_bench(testing::drawn_rectangle(0.6, 0.6, kElement), all_round(shell::Hold::clamped));
  const BenchModes modes = bare_modes(bench, static_cast<int>(lambda.size()));
  Table table("Drawn: clamped square 0.6 m, 0.8 mm steel, 12 mm elements, Hz");
  for (std::size_t i = 0; i < lambda.size(); ++i)
    table.row("CCCC, mode " + std::to_string(i + 1),
              modes.freq_hz(static_cast<int>(i)),
              plate_hz(lambda[i], 0.6, steel(0.8e-3)),
              data.rule());
}

// Source: derived. Bessel functions, see closed_forms.hpp. Drawn as two sides that bow by half
// their length.
TEST_CASE("a drawn ring has its frequencies", "[published][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, kElement);
  drawing.outline = panel::circle({0.0, 0.0}, 0.6);
  drawing.holes = {panel::circle({0.0, 0.0}, 0.18)};
  const Bench bench = drawn_bench(drawing, all_round(shell::Hold::clamped));
  const BenchModes modes = bare_modes(bench, 5);
  Table table("Drawn: ring, outer radius 0.3 m clamped, inner 0.3 of it free, 12 mm elements, Hz");
  for (const int diameters : {0, 1, 2})
    table.row(std::to_string(diameters) + " diameters",
              modes.freq_hz(diameters == 0 ? 0 : 2 * diameters - 1),
              plate_hz(clamped_free_ring(diameters, 0.3, 0.3, 1)[0], 0.3, steel(0.8e-3)),
              kRule);
}

// Source: derived. Three displacements, exact for shear-diaphragm edges, see closed_forms.hpp.
TEST_CASE("drawn cylinder panels have their frequencies", "[published][derived]") {
  check_crowned(crowned(0.0, 8.0), {0.0, 1.0 / 8.0}, "cylinder, R 8 m over the 0.6 m side");
  check_crowned(crowned(0.0, 3.0), {0.0, 1.0 / 3.0}, "cylinder, R 3 m over the 0.6 m side");
  check_crowned(crowned(8.0, 0.0), {1.0 / 8.0, 0.0}, "cylinder, R 8 m over the 1.0 m side");
  check_crowned(crowned(3.0, 0.0), {1.0 / 3.0, 0.0}, "cylinder, R 3 m over the 1.0 m side");
}

TEST_CASE("drawn sphere panels and a doubly crowned one have their frequencies",
          "[published][derived]") {
  check_crowned(crowned(8.0, 8.0), {1.0 / 8.0, 1.0 / 8.0}, "sphere, R 8 m");
  check_crowned(crowned(3.0, 3.0), {1.0 / 3.0, 1.0 / 3.0}, "sphere, R 3 m");
  check_crowned(crowned(8.0, 3.0), {1.0 / 8.0, 1.0 / 3.0}, "crowned, R 8 m along and 3 m up");
}

// Source: derived, as above. A fitter's way to the same crown: the gap under a straight edge.
TEST_CASE("a cylinder drawn from the gap under a straight edge has its frequencies",
          "[published][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, kElement);
  // The gap's depth at the middle of 0.6 m of arc on a radius of 3 m.
  panel::CrownPoint gap = testing::crown_point(0.5, 0.3, 3.0 * (1.0 - std::cos(0.1)));
  gap.from = Eigen::Vector2d(0.5, 0.0);
  gap.to = Eigen::Vector2d(0.5, 0.6);
  drawing.crown = {gap};
  check_crowned(drawing, {0.0, 1.0 / 3.0}, "cylinder, R 3 m by a straight edge");
}

// Source: derived, as the flat plate above. Ten elements a wave is the coarsest mesh that brings no
// warning (job/element_rule.hpp): every mode up to there is about within the tolerance of the other
// tests.
TEST_CASE("with ten elements to the shortest wave a flat plate errs by less than 0.6 per cent",
          "[published][derived]") {
  const std::size_t count = 25;
  const shell::Plate plate = steel(0.8e-3);
  const double top_hz = closed_form({}, count).back().freq_hz;
  const double wave_m =
      std::sqrt(base::kTwoPi / top_hz) *
      std::pow(bending_rigidity(plate) / (plate.density * plate.thickness_m), 0.25);
  check_crowned(
      testing::drawn_rectangle(1.0, 0.6, wave_m / 10.0), {}, "flat plate, SSSS", 0.006, count);
}
