// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/drawn_shape.hpp"

#include <catch2/catch.hpp>
#include <functional>

#include "drawings.hpp"
#include "panel/crown_spline.hpp"
#include "panel/raise.hpp"

using namespace calmplate;
using Eigen::Vector2d;

namespace {

/// The message with which a rectangle of 1.0 x 0.6 m is refused once it has been changed.
std::string refusal(const std::function<void(panel::DrawnInput&)>& change) {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.02);
  change(drawing);
  try {
    panel::drawn_shape(drawing);
  } catch (const base::InputError& fault) {
    return fault.what();
  }
  return "it was taken";
}

panel::ClosedLine hole(double x, double y, double diameter, int number = 1) {
  panel::ClosedLine line = panel::circle({x, y}, diameter);
  line.where = {"door.toml", 10 + number, "panel.hole[" + std::to_string(number) + "]"};
  return line;
}

}  // namespace

TEST_CASE("a sound drawing is taken", "[panel]") {
  CHECK(refusal([](auto&) {}) == "it was taken");
  CHECK_NOTHROW(panel::drawn_shape(testing::drawn_door(0.015)));
}

// Source: [practice] common practice, no source: one line with place, fault and remedy.
TEST_CASE("a hole that is none is refused in one line", "[panel][practice]") {
  CHECK(
      refusal([](auto& d) { d.holes = {hole(1.5, 0.3, 0.1)}; }) ==
      "door.toml:11: panel.hole[1]: lies outside the outline; allowed: a hole with skin all round");
  CHECK_THAT(refusal([](auto& d) { d.holes = {hole(0.03, 0.3, 0.1)}; }),
             Catch::StartsWith("door.toml:11: panel.hole[1]: crosses the outline near [0, "));
  CHECK(
      refusal([](auto& d) { d.holes = {hole(0.051, 0.3, 0.1)}; }) ==
      "door.toml:11: panel.hole[1]: leaves 1 mm of skin to the outline; allowed: 2 mm or more, or "
      "one opening in place of the two");
  CHECK_THAT(refusal([](auto& d) {
               d.holes = {hole(0.3, 0.3, 0.1), hole(0.38, 0.3, 0.1, 2)};
             }),
             Catch::StartsWith("door.toml:12: panel.hole[2]: crosses panel.hole[1] near [340, "));
  CHECK(refusal([](auto& d) {
          d.holes = {hole(0.3, 0.3, 0.1), hole(0.3, 0.3, 0.02, 2)};
        }) ==
        "door.toml:12: panel.hole[2]: and panel.hole[1] lie one in the other; allowed: one opening "
        "in place of the two");
}

// Source: [practice] as above.
TEST_CASE("an outline of the wrong size is refused", "[panel][practice]") {
  CHECK_THAT(refusal([](auto& d) { d.outline.corners *= 0.01; }),
             Catch::StartsWith("door.toml:5: panel.outline_mm: is 10 mm across"));
  CHECK_THAT(refusal([](auto& d) { d.outline.corners *= 5.0; }),
             Catch::StartsWith("door.toml:5: panel.outline_mm: is 5000 mm across"));
}

// Source: [practice] as above.
TEST_CASE("a crown that no shallow skin has is refused", "[panel][practice]") {
  CHECK_THAT(refusal([](auto& d) { d.radius_up_m = 0.5; }),
             Catch::StartsWith("door.toml:7: panel.crown_radius_up_m: makes the skin slope by 0."));
  CHECK(refusal([](auto& d) { d.crown = {testing::crown_point(0.5, 0.9, 0.01)}; }) ==
        "door.toml:9: panel.crown[1]: is measured at [500, 900] mm, off the outline; allowed: "
        "places inside the outline or within 30 mm of it");
  const auto heights = [](double top) {
    return [top](panel::DrawnInput& d) {
      for (int j = 0; j < 3; ++j)
        for (int i = 0; i < 3; ++i)
          d.crown.push_back(
              testing::crown_point(0.5 * i, 0.3 * j, top * ((i == 1) + (j == 1)) / 2.0));
    };
  };
  CHECK(refusal(heights(0.03)) == "it was taken");
  CHECK_THAT(refusal(heights(0.3)), Catch::Contains("which is no shallow skin"));
}

// Source: [practice] as above.
TEST_CASE("a swage line or a recess that cannot be pressed is refused", "[panel][practice]") {
  CHECK(refusal([](auto& d) {
          panel::FlatPoints line(2, 2);
          line << 0.0, 0.8, 1.0, 0.8;
          d.swages = {testing::swage(line, 0.05, 0.005)};
        }) ==
        "door.toml:20: panel.swage[1]: lies off the outline; allowed: a line that runs over the "
        "skin");
  CHECK_THAT(refusal([](auto& d) { d.swages = {testing::swage_across(0.02, 0.01)}; }),
             Catch::StartsWith("door.toml:20: panel.swage[1]: is 10 mm high over a width of 20 mm: "
                               "its sides would be steeper than 45 degrees"));
  const auto recess = [](double x, double depth, double wall, double radius) {
    return [=](panel::DrawnInput& d) {
      d.recesses = {
          {{x, 0.3}, {0.2, 0.1}, 0.0, depth, radius, wall, {"door.toml", 30, "panel.recess[1]"}}};
    };
  };
  CHECK(refusal(recess(0.5, 0.01, 0.02, 0.03)) == "it was taken");
  CHECK(refusal(recess(1.2, 0.01, 0.02, 0.03)) ==
        "door.toml:30: panel.recess[1]: has its middle at [1200, 300] mm, off the outline; "
        "allowed: a "
        "recess in the skin");
  CHECK(refusal(recess(0.5, 0.01, 0.06, 0.03)) ==
        "door.toml:30: panel.recess[1]: has walls 60 mm wide, which leave no floor; allowed: up to "
        "47.5 mm");
  CHECK(refusal(recess(0.5, 0.01, 0.02, 0.06)) ==
        "door.toml:30: panel.recess[1]: has corners of 60 mm, over half its smaller side; allowed: "
        "up "
        "to 50 mm");
  CHECK_THAT(
      refusal(recess(0.5, 0.04, 0.02, 0.03)),
      Catch::StartsWith("door.toml:30: panel.recess[1]: is 40 mm deep over walls 20 mm wide"));
}

// Source: derived. A quadratic has no change of curvature: it comes back from any points.
TEST_CASE("the crown's spline gives a quadratic back from its points", "[panel][derived]") {
  const auto quadratic = [](const Vector2d& p) {
    return 0.003 - 0.01 * p.x() + 0.02 * p.y() - p.x() * p.x() / 8.0 + 0.05 * p.x() * p.y() -
           p.y() * p.y() / 3.0;
  };
  std::vector<panel::CrownPoint> points;
  const Vector2d places[] = {{0.0, 0.0},
                             {1.0, 0.1},
                             {0.9, 0.6},
                             {0.1, 0.5},
                             {0.5, 0.0},
                             {0.6, 0.3},
                             {0.3, 0.4},
                             {0.7, 0.5}};
  for (const Vector2d& at : places)
    points.push_back(testing::crown_point(at.x(), at.y(), quadratic(at)));
  const panel::CrownSpline spline(points);
  CHECK(spline.residual() < 1e-14);
  for (const Vector2d& at : {Vector2d(0.2, 0.2), Vector2d(0.8, 0.35), Vector2d(1.1, -0.1)})
    CHECK(std::abs(spline.height(at) - quadratic(at)) < 1e-11);
}

// Source: derived. Points at random heights are met; 100 of them near each other too.
TEST_CASE("the crown's spline meets every measured height", "[panel][derived]") {
  std::vector<panel::CrownPoint> points;
  for (int j = 0; j < 10; ++j)
    for (int i = 0; i < 10; ++i)
      points.push_back(
          testing::crown_point(0.11 * i, 0.06 * j, 0.02 * std::sin(7.0 * i + 3.0 * j * j)));
  const panel::CrownSpline spline(points);
  for (const panel::CrownPoint& p : points)
    CHECK(std::abs(spline.height(p.at) - p.height_m) < 1e-10);
}

// Source: derived. The gap under a straight edge of length L on a skin of radius R is a b / 2 R at
// distances a and b from its ends; two edges give a crown with two radii.
TEST_CASE("gaps under straight edges give the crown they were measured on", "[panel][derived]") {
  const double radius_x = 10.0, radius_y = 3.0;
  panel::CrownPoint along = testing::crown_point(0.4, 0.3, 0.4 * 0.6 / (2.0 * radius_x));
  along.from = Vector2d(0.0, 0.3);
  along.to = Vector2d(1.0, 0.3);
  panel::CrownPoint up = testing::crown_point(0.5, 0.3, 0.3 * 0.3 / (2.0 * radius_y));
  up.from = Vector2d(0.5, 0.0);
  up.to = Vector2d(0.5, 0.6);
  const panel::CrownSpline spline({along, up});
  const auto chord = [&](const Vector2d& a, const Vector2d& b) {
    return spline.height(0.5 * (a + b)) - 0.5 * (spline.height(a) + spline.height(b));
  };
  CHECK(std::abs(chord({0.1, 0.1}, {0.9, 0.1}) - 0.4 * 0.4 / (2.0 * radius_x)) < 1e-9);
  CHECK(std::abs(chord({0.2, 0.1}, {0.2, 0.5}) - 0.2 * 0.2 / (2.0 * radius_y)) < 1e-9);
}

// Source: [practice] as above.
TEST_CASE("crown points that make no crown are refused", "[panel][practice]") {
  const auto message = [](const std::vector<panel::CrownPoint>& points) -> std::string {
    try {
      panel::CrownSpline spline(points);
    } catch (const base::InputError& fault) {
      return fault.what();
    }
    return "they were taken";
  };
  const auto a = testing::crown_point(0.0, 0.0, 0.0), b = testing::crown_point(1.0, 0.0, 0.0),
             c = testing::crown_point(0.5, 0.3, 0.01);
  CHECK_THAT(message({a, b, c}), Catch::Contains("is one of 3 heights over a plane"));
  CHECK_THAT(message({a, b, c, a}), Catch::Contains("is measured where panel.crown[1] is already"));
  panel::CrownPoint edge = c;
  edge.from = Vector2d(0.0, 0.0);
  edge.to = Vector2d(1.0, 0.0);
  CHECK_THAT(message({edge}), Catch::Contains("does not lie on its straight edge"));
  edge.to = Vector2d(0.001, 0.0);
  CHECK_THAT(message({edge}), Catch::Contains("shorter than 10 mm"));
  panel::CrownPoint gap = testing::crown_point(0.5, 0.0, 0.01);
  gap.from = a.at;
  gap.to = b.at;
  CHECK(message({gap, a, b}) == "they were taken");
  CHECK_THAT(message({gap, a, b, testing::crown_point(0.5, 0.0, 0.02)}),
             Catch::Contains("contradict each other"));
  CHECK_THROWS_AS(panel::CrownSpline({}), std::invalid_argument);
}

TEST_CASE("a sheet bent too steeply is a wrong call", "[panel]") {
  panel::FlatPoints flat(3, 2);
  flat << 0.0, 0.0, 1.0, 0.0, 0.0, 1.0;
  panel::Triangles one(1, 3);
  one << 0, 1, 2;
  CHECK_NOTHROW(panel::bent_plan(flat, one, Eigen::Vector3d(0.0, 0.5, 0.0)));
  CHECK_THROWS_AS(panel::bent_plan(flat, one, Eigen::Vector3d(0.0, 0.96, 0.0)),
                  std::invalid_argument);
}
