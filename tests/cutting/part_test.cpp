// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/part.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <catch2/catch.hpp>

#include "base/units.hpp"
#include "panel/polygon.hpp"
#include "support/test_meshes.hpp"

namespace calmplate {
namespace {

using Catch::WithinAbs;
using cutting::Direction;
using Eigen::Vector2d;

panel::Panel plate() {
  return panel::make_panel(testing::flat_plate(1.0, 0.6, 20, 12), {}, "plate");
}

cutting::Stock stock(double width_m, double length_m) {
  cutting::Stock s;
  s.sheet = "sheet";
  s.width_m = width_m;
  s.length_m = length_m;
  s.where = {"door.toml", 20, "sheet[1]"};
  return s;
}

cutting::PieceToCut piece(const panel::Polygon& outline) {
  cutting::PieceToCut p;
  p.layout = "partial";
  p.number = 3;
  p.sheets = {"sheet"};
  p.region.outline = outline;
  p.where = {"door.toml", 40, "layout[1].piece[3]"};
  return p;
}

panel::Polygon polygon(const std::vector<Vector2d>& points) { return panel::to_polygon(points); }

std::string refusal(const cutting::PieceToCut& p, const cutting::Stock& s, bool split) {
  try {
    cutting::parts_of(plate(), p, {s}, split);
  } catch (const base::InputError& e) {
    return e.what();
  }
  return "it was cut without complaint";
}

}  // namespace

// Source: [derived] a rectangle is its own smallest rectangle, however it is turned. Tolerance:
// rounding.
TEST_CASE("a turned rectangle is cut as itself, its paper upright to 45 degrees",
          "[cutting][derived]") {
  for (const double degrees : {0.0, 10.0, 44.0, -30.0, 60.0, 90.0, 170.0}) {
    CAPTURE(degrees);
    const auto outline = panel::rectangle({0.5, 0.3}, {0.25, 0.16}, base::from_degrees(degrees));
    const auto parts = cutting::parts_of(plate(), piece(outline), {stock(0.5, 0.75)}, false);
    REQUIRE(parts.size() == 1);
    const cutting::Part& part = parts.front();
    CHECK(part.label == "3");
    CHECK(part.rectangular);
    CHECK_THAT(part.size_m.maxCoeff(), WithinAbs(0.25, 1e-12));
    CHECK_THAT(part.size_m.minCoeff(), WithinAbs(0.16, 1e-12));
    // "Up" on the map is no more than 45 degrees from "up" on paper.
    CHECK((part.frame.turn * Vector2d::UnitY()).y() > 0.707);
    for (Eigen::Index i = 0; i < 4; ++i) {
      const Vector2d map = part.loops.front().row(i).transpose(), paper = part.frame.to_paper(map);
      CHECK((part.frame.to_map(paper) - map).norm() < 1e-12);
      CHECK(paper.minCoeff() > -1e-12);
      CHECK((part.size_m - paper).minCoeff() > -1e-12);
    }
  }
}

// Source: [derived] seen from inside, left and right change places.
TEST_CASE("a piece of the inner face is mirrored on paper, one of the outer face is not",
          "[cutting][derived]") {
  // An L: its foot points to the right of the map.
  const auto outline =
      polygon({{0.4, 0.2}, {0.6, 0.2}, {0.6, 0.25}, {0.45, 0.25}, {0.45, 0.4}, {0.4, 0.4}});
  for (const bool outer : {false, true}) {
    CAPTURE(outer);
    cutting::PieceToCut p = piece(outline);
    p.outer_face = outer;
    const auto part = cutting::parts_of(plate(), p, {stock(0.5, 0.75)}, false).front();
    CHECK_FALSE(part.rectangular);
    CHECK_THAT(part.frame.turn.determinant(), WithinAbs(outer ? 1.0 : -1.0, 1e-12));
    const Vector2d foot = part.frame.to_paper({0.6, 0.2}), heel = part.frame.to_paper({0.4, 0.2});
    CHECK_THAT(foot.x() - heel.x(), WithinAbs(outer ? 0.2 : -0.2, 1e-12));
    CHECK_THAT(part.rectangle_m2(), WithinAbs(0.04, 1e-12));
    CHECK_THAT(part.area_m2, WithinAbs(0.2 * 0.05 + 0.05 * 0.15, 1e-12));
  }
}

// Source: [derived] a right triangle with legs 3 and 4 has rectangles 3 x 4 (on a leg) and 5 x 2.4
// (on the longest side): both of area 12, so the one square to the map stays. A turned one of legs
// 1 and 1 has 1 x 1 against sqrt(2) x sqrt(2)/2, again equal; a kite of a half turn has its own.
TEST_CASE("the smallest rectangle has a side on the hull", "[cutting][derived]") {
  const double s = 0.05;
  const auto cut = [&](const std::vector<Vector2d>& points) {
    return cutting::parts_of(plate(), piece(polygon(points)), {stock(0.5, 0.75)}, false).front();
  };
  const auto triangle = cut({{0.3, 0.2}, {0.3 + 4 * s, 0.2}, {0.3, 0.2 + 3 * s}});
  CHECK_THAT(triangle.rectangle_m2(), WithinAbs(12 * s * s, 1e-12));
  CHECK_THAT(triangle.size_m.x(), WithinAbs(4 * s, 1e-12));
  // A square stood on its corner: 1 against 2 square to the map.
  const auto diamond = cut({{0.5, 0.2}, {0.6, 0.3}, {0.5, 0.4}, {0.4, 0.3}});
  CHECK_THAT(diamond.rectangle_m2(), WithinAbs(0.02, 1e-12));
  CHECK(diamond.rectangular);
  // Any other angle is worse, for a shape of no symmetry.
  const std::vector<Vector2d> odd = {
      {0.31, 0.22}, {0.52, 0.17}, {0.66, 0.29}, {0.58, 0.41}, {0.45, 0.33}, {0.36, 0.37}};
  const auto part = cut(odd);
  for (int degrees = 0; degrees < 90; ++degrees) {
    const double a = base::from_degrees(degrees);
    Vector2d low(1e9, 1e9), high = -low;
    for (const Vector2d& p : odd) {
      const Vector2d q(std::cos(a) * p.x() + std::sin(a) * p.y(),
                       -std::sin(a) * p.x() + std::cos(a) * p.y());
      low = low.cwiseMin(q);
      high = high.cwiseMax(q);
    }
    CHECK((high - low).prod() * 1.001 >= part.rectangle_m2());
  }
}

TEST_CASE("a sheet with a direction is cut square to the map", "[cutting]") {
  cutting::Stock s = stock(0.5, 0.75);
  s.direction = Direction::along;
  const auto outline = panel::rectangle({0.5, 0.3}, {0.2, 0.2}, base::from_degrees(45.0));
  const auto part = cutting::parts_of(plate(), piece(outline), {s}, false).front();
  CHECK_THAT(part.size_m.x(), WithinAbs(0.2 * std::sqrt(2.0), 1e-12));
  CHECK_FALSE(part.rectangular);
}

TEST_CASE("of the rectangles that the stock holds the smallest is taken", "[cutting]") {
  // The smallest, along the strip, is longer than the stock; one square to the map is not.
  const auto strip = panel::rectangle({0.5, 0.3}, {0.52, 0.05}, base::from_degrees(40.0));
  const auto part = cutting::parts_of(plate(), piece(strip), {stock(0.45, 0.5)}, false).front();
  CHECK(part.size_m.maxCoeff() < 0.5);
}

// Source: [derived] areas of rectangles.
TEST_CASE("a piece larger than the stock is cut in the fewest equal parts, if the job says so",
          "[cutting][derived]") {
  const auto outline = panel::rectangle({0.5, 0.3}, {0.9, 0.5}, 0.0);
  const cutting::Stock s = stock(0.35, 0.5);
  CHECK(refusal(piece(outline), s, false) ==
        "door.toml:40: layout[1].piece[3]: is 900 x 500 mm when cut, larger than the stock of "
        "\"sheet\", 350 x 500 mm; allowed: pieces that the stock holds, or split = true under "
        "[cutting]");
  const auto parts = cutting::parts_of(plate(), piece(outline), {s}, true);
  REQUIRE(parts.size() == 3);
  double area = 0.0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    CHECK(parts[i].label == "3." + std::to_string(i + 1));
    CHECK(parts[i].was_split);
    CHECK(parts[i].rectangular);
    CHECK_THAT(parts[i].size_m.x(), WithinAbs(0.3, 1e-9));
    CHECK_THAT(parts[i].size_m.y(), WithinAbs(0.5, 1e-9));
    area += parts[i].area_m2;
  }
  CHECK_THAT(area, WithinAbs(0.45, 1e-9));
}

// Source: [derived] a trapezium of 0.7 and 0.3 m on 0.3 m high: cut at its middle each half is 0.35
// m wide, while its box is 0.7 m. On stock of 0.36 x 0.31 two parts do.
TEST_CASE("parts are judged by their own rectangles, and the fewest are taken",
          "[cutting][derived]") {
  const auto outline = polygon({{0.1, 0.1}, {0.8, 0.1}, {0.6, 0.4}, {0.3, 0.4}});
  const auto parts = cutting::parts_of(plate(), piece(outline), {stock(0.31, 0.36)}, true);
  CHECK(parts.size() == 2);
  // A disc of 0.5 m on stock of 0.36 m: quarters of 0.25 m fit, halves of 0.5 m do not.
  std::vector<Vector2d> disc;
  for (int k = 0; k < 72; ++k)
    disc.push_back(Vector2d(0.5, 0.3) +
                   0.25 * Vector2d(std::cos(k * base::kPi / 36.0), std::sin(k * base::kPi / 36.0)));
  const auto quarters = cutting::parts_of(plate(), piece(polygon(disc)), {stock(0.36, 0.36)}, true);
  CHECK(quarters.size() == 4);
  double area = 0.0;
  for (const auto& p : quarters) area += p.area_m2;
  CHECK_THAT(area, WithinAbs(panel::polygon_area(polygon(disc)), 1e-9));
}

TEST_CASE("a piece that may not be turned is refused where turning would do", "[cutting]") {
  cutting::Stock s = stock(0.35, 0.5);
  const auto outline = panel::rectangle({0.5, 0.3}, {0.3, 0.45}, 0.0);
  CHECK(refusal(piece(outline), s, false) == "it was cut without complaint");
  s.direction = Direction::along;
  CHECK_THAT(refusal(piece(outline), s, false), Catch::Contains("which may not be turned"));
  s.direction = Direction::up;
  CHECK(refusal(piece(outline), s, false) == "it was cut without complaint");
}

TEST_CASE("a stock size that is not given is asked for, unless an offcut will do", "[cutting]") {
  cutting::Stock s = stock(0.0, 0.0);
  const auto outline = panel::rectangle({0.5, 0.3}, {0.3, 0.2}, 0.0);
  CHECK(refusal(piece(outline), s, true) ==
        "door.toml:20: sheet[1]: has no stock size, and 300 x 200 mm of it are to be cut; allowed: "
        "stock_width_mm and stock_length_mm as it is sold");
  s.offcuts_m = {{0.2, 0.3}};
  CHECK(refusal(piece(outline), s, true) == "it was cut without complaint");
}

// Source: [derived] areas by hand: 1 x 0.6 m less a band of 0.1 m right across, in two islands.
TEST_CASE("what keep-outs cut apart becomes parts, a stack one part for each sheet",
          "[cutting][derived]") {
  cutting::PieceToCut p = piece({});
  p.region.holes = {panel::rectangle({0.4, 0.3}, {0.1, 1.0}, 0.0),
                    panel::rectangle({0.7, 0.3}, {0.1, 0.1}, 0.0)};
  p.sheets = {"sheet", "top"};
  cutting::Stock top = stock(2.0, 2.0);
  top.sheet = "top";
  const auto parts = cutting::parts_of(plate(), p, {stock(2.0, 2.0), top}, false);
  REQUIRE(parts.size() == 4);
  CHECK(parts[0].label == "3a.1");
  CHECK(parts[1].label == "3a.2");
  CHECK(parts[3].label == "3b.2");
  CHECK(parts[3].sheet == "top");
  std::vector<double> areas = {parts[0].area_m2, parts[1].area_m2};
  std::sort(areas.begin(), areas.end());
  CHECK_THAT(areas[0], WithinAbs(0.35 * 0.6, 1e-9));
  CHECK_THAT(areas[1], WithinAbs(0.55 * 0.6 - 0.01, 1e-9));
  CHECK(parts[0].loops.size() + parts[1].loops.size() == 3);
}

// Source: [derived] an L of 200 x 50 and 50 x 150: the square of its bend is the widest place, 25
// mm from three edges. Tolerance: the 30th part of its size that the docstring gives.
TEST_CASE("a number stands where the part is widest", "[cutting][derived]") {
  const auto part =
      cutting::parts_of(
          plate(),
          piece(polygon(
              {{0.4, 0.2}, {0.6, 0.2}, {0.6, 0.25}, {0.45, 0.25}, {0.45, 0.4}, {0.4, 0.4}})),
          {stock(0.5, 0.75)},
          false)
          .front();
  const cutting::LabelPlace place = cutting::label_place(part);
  CHECK(cutting::on_part(part, place.at));
  CHECK_FALSE(cutting::on_part(part, {0.5, 0.3}));
  CHECK_THAT(place.clear_m, WithinAbs(0.027, 0.2 / 30.0));
}

TEST_CASE("lengths are written with one decimal where they have one", "[cutting]") {
  CHECK(cutting::mm_text(0.25) == "250");
  CHECK(cutting::mm_text(0.24963) == "249.6");
  CHECK(cutting::mm_text(-1e-9) == "0");
}

}  // namespace calmplate
