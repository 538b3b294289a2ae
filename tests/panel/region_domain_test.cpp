// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "changed_meshes.hpp"
#include "panel/cover.hpp"

using namespace calmplate;
using panel::Region;

namespace {

double area(const panel::Panel& panel, const Region& region) {
  return panel::covered_area(panel, panel::cover(panel, region));
}

double drawn(const std::vector<panel::Polygon>& polygons) {
  double sum = 0.0;
  for (const auto& p : polygons) sum += panel::polygon_area(p);
  return sum;
}

}  // namespace

// Source: derived. Taking m off a rectangle all round leaves (a - 2m)(b - 2m). With square cells of
// an even count each way the corner cells are cut along the bisector, where the nearest side
// changes.
TEST_CASE("a margin along a rectangle's rim leaves the smaller rectangle", "[panel][derived]") {
  const panel::Panel panel =
      panel::make_panel(testing::flat_plate(0.9, 0.6, 36, 24), {}, "plate.stl");
  for (const double margin : {0.001, 0.02, 0.025, 0.05, 0.1}) {
    Region region;
    region.rim_margin_m = margin;
    const double expected = (0.9 - 2.0 * margin) * (0.6 - 2.0 * margin);
    CAPTURE(margin);
    CHECK(std::abs(area(panel, region) - expected) < 1e-4 * margin);
    const auto polygons = panel::outlines(panel, region);
    REQUIRE(polygons.size() == 1);
    CHECK(std::abs(drawn(polygons) - area(panel, region)) < 1e-12);
  }
}

// Source: derived. A margin on a ring leaves pi ((R - m)^2 - (r + k)^2). Facets and the distance
// that is linear within each are both out by the square of the element size.
TEST_CASE("margins round a disc and its hole converge with the square of the element size",
          "[panel][derived]") {
  Region region;
  region.rim_margin_m = 0.023;
  region.hole_margin_m = 0.031;
  const double expected = base::kPi * (std::pow(0.3 - 0.023, 2) - std::pow(0.1 + 0.031, 2));
  double error[3];
  int i = 0;
  for (const int n : {6, 12, 24}) {
    const panel::Panel panel = panel::make_panel(testing::annulus(0.1, 0.3, n), {}, "ring.stl");
    error[i++] = std::abs(area(panel, region) - expected);
  }
  CAPTURE(error[0], error[1], error[2]);
  CHECK(error[2] < 2e-3 * expected);
  CHECK(0.5 * std::log2(error[0] / error[2]) > 1.7);
}

// Source: crosscheck. Areas by clipping triangle by triangle against polygons by exact operations:
// two ways to one region.
TEST_CASE("the drawn outlines enclose the covered area", "[panel][crosscheck]") {
  panel::Mesh mesh = testing::flat_plate(0.9, 0.6, 41, 27);
  mesh = testing::with_hole(mesh, 0.3, 0.3, 0.07);
  mesh = testing::with_hole(mesh, 0.6, 0.2, 0.05);
  const panel::Panel panel = panel::make_panel(mesh, {}, "plate.stl");
  Region region;
  region.rim_margin_m = GENERATE(0.0, 0.017);
  region.hole_margin_m = GENERATE(0.0, 0.013);
  const bool outlined = GENERATE(false, true), holes = GENERATE(false, true);
  if (outlined) region.outline = panel::rectangle({0.35, 0.25}, {0.6, 0.3}, 0.4);
  if (holes)
    region.holes = {panel::rectangle({0.4, 0.35}, {0.1, 0.2}, 0.3),
                    panel::rectangle({0.45, 0.3}, {0.2, 0.05}, 0.0)};
  const auto polygons = panel::outlines(panel, region);
  REQUIRE_FALSE(polygons.empty());
  CAPTURE(region.rim_margin_m, region.hole_margin_m, outlined, holes);
  CHECK(std::abs(drawn(polygons) - area(panel, region)) < 1e-10);
}

TEST_CASE("the outline of a whole plate is its four corners", "[panel]") {
  const panel::Panel panel =
      panel::make_panel(testing::flat_plate(0.9, 0.6, 36, 24), {}, "plate.stl");
  const auto polygons = panel::outlines(panel, {});
  REQUIRE(polygons.size() == 1);
  REQUIRE(polygons[0].rows() == 4);
  CHECK(std::abs(drawn(polygons) - 0.54) < 1e-14);
}

TEST_CASE("a margin wider than the panel leaves nothing", "[panel]") {
  const panel::Panel panel =
      panel::make_panel(testing::flat_plate(0.9, 0.6, 18, 12), {}, "plate.stl");
  Region region;
  region.rim_margin_m = 0.31;
  CHECK(panel::cover(panel, region).empty());
  CHECK(panel::outlines(panel, region).empty());
  region.outline = panel::rectangle({0.45, 0.3}, {0.2, 0.2}, 0.0);
  CHECK(panel::outlines(panel, region).empty());
}
