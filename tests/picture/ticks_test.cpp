// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/ticks.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace calmplate::picture {

// Source: derived. Steps are 1, 2 or 5 times a power of ten, and both ends are enclosed.
TEST_CASE("ticks are round, few and enclose the range", "[picture][derived]") {
  const auto [low, high] =
      GENERATE(table<double, double>({{0.4, 4.9}, {-3.2, 17.0}, {88.0, 137.0}, {1e-7, 4.1e-7}}));
  const int most = GENERATE(3, 6, 12);
  CAPTURE(low, high, most);
  const Ticks ticks = round_ticks(low, high, most);
  CHECK(ticks.at.front() <= low + 1e-9 * ticks.step);
  CHECK(ticks.at.back() >= high - 1e-9 * ticks.step);
  CHECK(ticks.at.front() > low - ticks.step);
  CHECK(ticks.at.back() < high + ticks.step);
  CHECK(int(ticks.at.size()) <= most + 2);
  const double mantissa = ticks.step / std::pow(10.0, std::floor(std::log10(ticks.step) + 1e-9));
  const bool round = std::abs(mantissa - 1) < 1e-9 || std::abs(mantissa - 2) < 1e-9 ||
                     std::abs(mantissa - 5) < 1e-9;
  CHECK(round);
}

TEST_CASE("a range of one value still has a scale", "[picture]") {
  for (const double value : {0.0, 3.0, -3.0}) {
    const Ticks ticks = round_ticks(value, value, 5);
    CHECK(ticks.at.front() < value);
    CHECK(ticks.at.back() > value);
  }
}

TEST_CASE("a range that is none is refused", "[picture]") {
  CHECK_THROWS_AS(round_ticks(2.0, 1.0, 5), std::invalid_argument);
  CHECK_THROWS_AS(round_ticks(0.0, 1.0, 0), std::invalid_argument);
  CHECK_THROWS_AS(round_ticks(0.0, std::numeric_limits<double>::infinity(), 5),
                  std::invalid_argument);
}

TEST_CASE("numbers are written for people", "[picture]") {
  CHECK(number(-0.04, 1) == "0.0");
  CHECK(number(-0.06, 1) == "-0.1");
  CHECK(number(std::numeric_limits<double>::quiet_NaN(), 1) == "-");
  CHECK(tick_label(0.5, 0.5) == "0.5");
  CHECK(tick_label(120.0, 20.0) == "120");
  CHECK(tick_label(0.25, 0.05) == "0.25");
  CHECK(three_digits(0.08012) == "0.0801");
  CHECK(three_digits(48.31) == "48.3");
  CHECK(three_digits(1234.0) == "1234");
  CHECK(plain_number(40.0) == "40");
  CHECK(plain_number(62.5) == "62.5");
}

// Source: [memory] ISO 266 nominal frequencies; derived: ten one-third octaves make a decade.
TEST_CASE("one-third octaves carry their nominal names", "[picture][memory][derived]") {
  const auto centres = third_octave_centres(31.0, 260.0);
  REQUIRE(centres.size() == 10);
  CHECK(centres[9] / centres[0] == Approx(std::pow(10.0, 0.9)).epsilon(1e-12));
  const char* names[] = {"31.5", "40", "50", "63", "80", "100", "125", "160", "200", "250"};
  for (std::size_t k = 0; k < 10; ++k) CHECK(third_octave_name(centres[k]) == names[k]);
  CHECK(third_octave_name(1258.9) == "1250");
  CHECK(third_octave_name(12589.0) == "12500");
  CHECK(third_octave_name(6.3) == "6.3");
}

}  // namespace calmplate::picture
