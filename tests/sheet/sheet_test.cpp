// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/sheet.hpp"

#include <catch2/catch.hpp>

using namespace calmplate;

// Source: derived. 2 mm x 1700 + 0.1 mm x 2700 = 3.4 + 0.27 kg/m2.
TEST_CASE("a sheet's mass per area is that of its core and its foil", "[sheet][derived]") {
  sheet::Sheet s;
  CHECK(s.mass_per_area() == 0.0);
  s.core_thickness_m = 2e-3;
  s.core_density = 1700.0;
  CHECK(s.mass_per_area() == Approx(3.4).epsilon(1e-14));
  s.foil_thickness_m = 0.1e-3;
  s.foil.density = 2700.0;
  CHECK(s.mass_per_area() == Approx(3.67).epsilon(1e-14));
}
