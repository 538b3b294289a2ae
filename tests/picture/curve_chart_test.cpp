// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/curve_chart.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <set>

#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

void check_same(const std::vector<double>& found, const std::vector<double>& wanted) {
  CAPTURE(found, wanted);
  REQUIRE(found.size() == wanted.size());
  for (std::size_t k = 0; k < wanted.size(); ++k)
    CHECK(found[k] == Approx(wanted[k]).margin(1e-12));
}

}  // namespace

// Source: derived. Half way along a logarithm is the geometric mean.
TEST_CASE("an axis of logarithms puts the geometric mean in its middle", "[picture][derived]") {
  const Axis axis{10.0, 1000.0, true, {}};
  CHECK(axis.share(10.0) == Approx(0.0).margin(1e-15));
  CHECK(axis.share(100.0) == Approx(0.5));
  CHECK(axis.share(1000.0) == Approx(1.0));
  CHECK(std::isnan(axis.share(0.0)));
  CHECK(std::isnan(axis.share(-1.0)));
  const CurveChart chart{{20.0, 30.0}, {120.0, 80.0}, axis, {0.0, 10.0, false, {}}};
  CHECK(chart.at(100.0, 2.5).x == Approx(70.0));
  CHECK(chart.at(100.0, 2.5).y == Approx(42.5));
}

TEST_CASE("axes hold all that is finite and have round ends", "[picture]") {
  const Axis even = even_axis({0.0, kNone, 0.93}, 9);
  CHECK(even.low == 0.0);
  CHECK(even.high == Approx(1.0));
  check_same(even.ticks, {0.0, 0.2, 0.4, 0.6, 0.8, 1.0});
  const Axis log = log_axis({0.17, kNone, 0.0, -3.0, 26.0});
  CHECK(log.low == Approx(0.1));
  CHECK(log.high == Approx(50.0));
  CHECK(even_axis({}, 5).high > even_axis({}, 5).low);
  CHECK(log_axis({}).high > log_axis({}).low);
}

TEST_CASE("ticks of a logarithm are 1, 2, 5 or, over many decades, powers of ten", "[picture]") {
  check_same(log_ticks(10.0, 1000.0), {10, 20, 50, 100, 200, 500, 1000});
  check_same(log_ticks(0.3, 4.1), {0.2, 0.5, 1, 2, 5});
  check_same(log_ticks(0.03, 4100.0), {0.01, 0.1, 1, 10, 100, 1000, 10000});
  check_same(log_ticks(1.4, 1.4), {1, 2});
  check_same(log_ticks(2.0, 2.0), {2, 5});
  CHECK(log_ticks(1e-9, 1e9).size() == 19);
  CHECK_THROWS_AS(log_ticks(0.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(log_ticks(2.0, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(log_ticks(1.0, INFINITY), std::invalid_argument);
}

// Source: derived by hand. Two labels at 5 with a gap of 4 go to 3 and 7, their middle where it
// was; three at 0, 0 and 10 with that gap from 0 on go to 0, 4 and 10.
TEST_CASE("labels keep their order and their distance and move no more than need be",
          "[picture][derived]") {
  check_same(spread({5.0, 5.0}, 4.0, 0.0, 20.0), {3.0, 7.0});
  check_same(spread({0.0, 0.0, 10.0}, 4.0, 0.0, 20.0), {0.0, 4.0, 10.0});
  check_same(spread({1.0, 8.0, 15.0}, 4.0, 0.0, 20.0), {1.0, 8.0, 15.0});
  check_same(spread({19.0, 19.5, 20.0}, 4.0, 0.0, 20.0), {12.0, 16.0, 20.0});
  check_same(spread({1.0, 1.0, 1.0}, 4.0, 0.0, 20.0), {0.0, 4.0, 8.0});
  check_same(spread({5.0, 6.0, 7.0}, 4.0, 0.0, 2.0), {0.0, 4.0, 8.0});
  CHECK(spread({}, 4.0, 0.0, 20.0).empty());
}

TEST_CASE("a curve ends at its last point that is finite", "[picture]") {
  CurveChart chart{{0.0, 0.0}, {10.0, 10.0}, {0.0, 10.0, false, {}}, {0.0, 10.0, false, {}}};
  Point end;
  REQUIRE(curve_end(chart, {1.0, 2.0, 3.0}, {4.0, 5.0, kNone}, end));
  CHECK(end.x == Approx(2.0));
  CHECK(end.y == Approx(5.0));
  CHECK_FALSE(curve_end(chart, {1.0}, {kNone}, end));
  CHECK_FALSE(curve_end(chart, {}, {}, end));
}

TEST_CASE("curves of up to eight temperatures differ in dash and, cold to warm, in lightness",
          "[picture]") {
  std::set<std::vector<double>> dashes;
  double before = 0.0;
  for (std::size_t k = 0; k < kTemperatureStrokes; ++k) {
    const Stroke stroke = temperature_stroke(k, kTemperatureStrokes);
    dashes.insert(stroke.dash_mm);
    CHECK(lightness(stroke.colour) > before + 2.0);
    before = lightness(stroke.colour);
  }
  CHECK(dashes.size() == kTemperatureStrokes);
  CHECK(before < 70.0);  // still dark enough on white
}

}  // namespace calmplate::picture
