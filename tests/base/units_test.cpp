// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/units.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/progress.hpp"

using namespace calmplate::base;

// Source: derived. Definitions of the units.
TEST_CASE("units pass through their doors and back", "[base][derived]") {
  CHECK(from_mm(1500.0) == 1.5);
  CHECK(to_mm(from_mm(0.7)) == Approx(0.7).epsilon(1e-15));
  CHECK(from_celsius(20.0) == 293.15);
  CHECK(to_celsius(from_celsius(-40.0)) == Approx(-40.0).epsilon(1e-14));
  CHECK(from_degrees(180.0) == kPi);
}

// Source: derived. Ten times the power is 10 dB, and none is infinitely far below.
TEST_CASE("a level is ten times the logarithm of a power ratio", "[base][derived]") {
  CHECK(to_db(10.0) == Approx(10.0).epsilon(1e-15));
  CHECK(to_db(0.5) == Approx(-3.0102999566398120).epsilon(1e-14));
  CHECK(to_db(1.0) == 0.0);
  CHECK(std::isinf(to_db(0.0)));
  CHECK(to_db(0.0) < 0.0);
}

TEST_CASE("work that is told to stop stops, and empty callbacks do nothing", "[base]") {
  Progress progress;
  CHECK_NOTHROW(progress.step("modes", 0.5));
  bool stop = false;
  std::string seen;
  progress.cancelled = [&] { return stop; };
  progress.report = [&](const std::string& stage, double share) {
    seen = stage + " " + std::to_string(share);
  };
  progress.step("modes", 0.25);
  CHECK(seen == "modes 0.250000");
  stop = true;
  CHECK_THROWS_AS(progress.check(), Cancelled);
  CHECK_THROWS_AS(progress.step("later", 1.0), Cancelled);
  CHECK(seen == "modes 0.250000");
}
