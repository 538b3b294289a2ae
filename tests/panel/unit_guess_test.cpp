// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/unit_guess.hpp"

#include <catch2/catch.hpp>

#include "base/input_error.hpp"
#include "changed_meshes.hpp"
#include "panel/panel.hpp"

using namespace calmplate;
using panel::Mesh;

namespace {

std::string guess(double a, double b, double c) {
  try {
    return panel::guess_unit({a, b, c}, "door.stl").name;
  } catch (const base::InputError& fault) {
    return fault.what();
  }
}

}  // namespace

// Source: derived. Doors of 0.3 to 3 m both ways, in the four units.
TEST_CASE("the unit of a mesh is told from its size", "[panel][derived]") {
  CHECK(guess(1.04, 0.03, 0.62) == "m");
  CHECK(guess(0.31, 2.9, 0.1) == "m");
  CHECK(guess(1040, 620, 30) == "mm");
  CHECK(guess(620, 30, 310) == "mm");
  CHECK(guess(40.9, 24.4, 1.2) == "inch");  // 0.41 x 0.24 m in cm is no door
  CHECK(guess(200, 150, 3) == "cm");        // 5.1 x 3.8 m in inches is none
}

TEST_CASE("a size that fits two units or none is asked about in one line", "[panel]") {
  CHECK(guess(104, 62, 3) ==
        "door.stl: may be a door of 1.04 x 0.62 m (cm) or 2.642 x 1.575 m (inch); allowed: "
        "mesh_unit = \"cm\" or mesh_unit = \"inch\"");
  CHECK(
      guess(8.0, 6.0, 1.0) ==
      "door.stl: is 8 x 6 in its own unit, which is no door in m, cm, mm or inch; allowed: a door "
      "skin of 0.3 to 3 m, or mesh_unit set to the file's unit");
  CHECK(guess(1000, 200, 10).find("is 1000 x 200 in its own unit") != std::string::npos);
}

// Source: derived. Islands may lie far off: it is the sheet that counts.
TEST_CASE("a guessed unit scales the whole panel", "[panel][derived]") {
  Mesh inches = testing::sphere_panel(0.9, 0.6, 2.0, 18, 12);
  inches.nodes /= 0.0254;
  const Mesh far = testing::moved(testing::flat_plate(2.0, 2.0, 2, 2), {900.0, 0.0, 0.0});
  panel::PanelOptions options;
  options.guess_unit = true;
  panel::PanelReport report;
  const panel::Panel panel =
      panel::make_panel(testing::together(inches, far), options, "door.stl", &report);
  CHECK(report.guessed_unit == "inch");
  CHECK(report.islands_dropped == 1);
  const double area = panel::triangle_areas(testing::sphere_panel(0.9, 0.6, 2.0, 18, 12)).sum();
  CHECK(std::abs(panel.area_m2 / area - 1.0) < 1e-12);
}
