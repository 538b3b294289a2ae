// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/position.hpp"

#include <catch2/catch.hpp>

#include "base/units.hpp"
#include "cutting/flatness.hpp"
#include "support/test_meshes.hpp"

namespace calmplate {
namespace {

using Catch::WithinAbs;
using Catch::WithinRel;
using Eigen::Vector2d;

cutting::Part part_of(const panel::Polygon& outline) {
  cutting::Part part;
  part.loops = {outline};
  part.area_m2 = std::abs(panel::polygon_area(outline));
  return part;
}

panel::Panel panel_of(const panel::Mesh& mesh) { return panel::make_panel(mesh, {}, "mesh"); }

double to_side(const cutting::MarkedCorner& corner, const std::string& side) {
  for (const cutting::SideDistance& s : corner.sides)
    if (s.side == side) return s.distance_m;
  return -1.0;
}

}  // namespace

// Source: [derived] distances on a rectangle. Tolerance: rounding.
TEST_CASE("the corner nearest to two sides is A, the other end of its longer edge B",
          "[cutting][derived]") {
  const panel::Panel plate = panel_of(testing::flat_plate(1.0, 0.6, 20, 12));
  const auto p =
      cutting::position_of(plate, part_of(panel::rectangle({0.3, 0.2}, {0.3, 0.2}, 0.0)));
  CHECK((p.a.at - Vector2d(0.15, 0.1)).norm() < 1e-12);
  CHECK((p.b.at - Vector2d(0.45, 0.1)).norm() < 1e-12);
  REQUIRE(p.a.sides.size() == 2);
  CHECK_THAT(to_side(p.a, "bottom"), WithinAbs(0.1, 1e-12));
  CHECK_THAT(to_side(p.a, "left"), WithinAbs(0.15, 1e-12));
  CHECK_THAT(to_side(p.b, "bottom"), WithinAbs(0.1, 1e-12));
  CHECK_THAT(to_side(p.b, "left"), WithinAbs(0.45, 1e-12));
  CHECK((p.a.sides[1].foot - Vector2d(0.0, 0.1)).norm() < 1e-12);
}

// Source: [derived] as above, the panel's corner where the longer edge runs up.
TEST_CASE("B lies at the end of the longer edge, whichever way the outline runs",
          "[cutting][derived]") {
  const panel::Panel plate = panel_of(testing::flat_plate(1.0, 0.6, 20, 12));
  for (const bool tall : {true, false})
    for (const bool backwards : {true, false}) {
      CAPTURE(tall, backwards);
      panel::Polygon outline =
          panel::rectangle({0.25, 0.25}, tall ? Vector2d(0.1, 0.3) : Vector2d(0.3, 0.1), 0.0);
      if (backwards) outline = panel::Polygon(outline.colwise().reverse());
      const auto p = cutting::position_of(plate, part_of(outline));
      CHECK_THAT((p.b.at - p.a.at).norm(), WithinAbs(0.3, 1e-12));
    }
}

// Source: [derived] opposite sides place nothing: a corner midway on a narrow panel is still
// measured from two sides that cross.
TEST_CASE("the second side is never the one opposite to the first", "[cutting][derived]") {
  const panel::Panel plate = panel_of(testing::flat_plate(1.0, 0.2, 40, 8));
  const auto p =
      cutting::position_of(plate, part_of(panel::rectangle({0.5, 0.1}, {0.3, 0.1}, 0.0)));
  for (const cutting::MarkedCorner* c : {&p.a, &p.b}) {
    REQUIRE(c->sides.size() == 2);
    const bool upright = c->sides[0].side == "bottom" || c->sides[0].side == "top";
    const bool across = c->sides[1].side == "left" || c->sides[1].side == "right";
    CHECK(upright);
    CHECK(across);
  }
}

TEST_CASE("on a round panel both distances are from the rim, well across each other", "[cutting]") {
  const panel::Panel disc =
      panel_of(testing::rings({0.0, 0.05, 0.1, 0.15, 0.2, 0.25}, {1, 8, 16, 24, 32, 40}));
  const auto p =
      cutting::position_of(disc, part_of(panel::rectangle({0.3, 0.3}, {0.1, 0.06}, 0.0)));
  REQUIRE(p.a.sides.size() == 2);
  const Vector2d a = p.a.sides[0].foot - p.a.at, b = p.a.sides[1].foot - p.a.at;
  CHECK(std::abs(a.dot(b)) <= 0.051 * a.norm() * b.norm());
  CHECK(p.a.sides[1].square);
}

// Source: [derived] an arc: the tape lies along the skin, straight through space it would be
// shorter. Tolerance: the mesh's chords of 10 mm on a radius of 0.5 m are 1.7e-5 short.
TEST_CASE("distances are those along the skin", "[cutting][derived]") {
  const panel::Panel roll = panel_of(testing::cylinder_panel(0.4, 0.6, 0.5, 40, 60));
  const double along = cutting::skin_length(roll, {0.2, 0.05}, {0.2, 0.55});
  CHECK_THAT(along, WithinRel(0.5, 1e-4));
  CHECK(2.0 * 0.5 * std::sin(0.5 * 0.5 / 0.5) < 0.96 * along);
}

// Source: [derived] a cylinder unrolls without a change of length. Tolerance: the mesh's chords.
TEST_CASE("a piece lies flat on a skin that is crowned one way", "[cutting][derived]") {
  const panel::Panel roll = panel_of(testing::cylinder_panel(0.6, 0.6, 0.5, 30, 30));
  const auto flat =
      cutting::flatness_of(roll, part_of(panel::rectangle({0.3, 0.3}, {0.5, 0.5}, 0.0)));
  CHECK(flat.error_m < 1e-4);
  CHECK(std::abs(flat.excess_m) < 1e-4);
  CHECK(flat.lies == cutting::LiesFlat::yes);
  CHECK(flat.cuts.empty());
}

// Source: [derived] docs/cutting.md "Pieces that do not lie flat": area over radius squared is the
// curvature in sum; edge excess pi K a^3 / 3. Tolerance: a node counts whole or not at all, so the
// area is known to half a row of elements along its edge (8 %).
TEST_CASE("on a dome the curvature, the edge's excess and the relief cuts are those of a sphere",
          "[cutting][derived]") {
  const double radius = 1.0, side = 0.4;
  const panel::Panel dome = panel_of(testing::sphere_panel(0.5, 0.5, radius, 50, 50));
  const Vector2d middle = 0.5 * dome.flat.size();
  const auto flat =
      cutting::flatness_of(dome, part_of(panel::rectangle(middle, {side, side}, 0.0)));
  CHECK_THAT(flat.curvature, WithinRel(side * side / (radius * radius), 0.08));
  const double a = side / std::sqrt(base::kPi);
  CHECK_THAT(flat.excess_m, WithinRel(base::kPi * a * a * a / (3.0 * radius * radius), 0.08));
  CHECK(flat.error_m > 1e-3);
  CHECK(flat.lies == cutting::LiesFlat::relief_cuts);
  const auto count = static_cast<double>(flat.cuts.size());
  CHECK(count == std::ceil(flat.excess_m / cutting::kCutTakes_m));
  double taken = 0.0;
  for (const cutting::ReliefCut& cut : flat.cuts) {
    taken += cut.width_m;
    CHECK(cut.width_m > 0.0);
    // From the edge inwards, on the line to the middle, up to where 1 mm is left over.
    CHECK_THAT((cut.from - middle).cwiseAbs().maxCoeff(), WithinAbs(0.5 * side, 1e-9));
    CHECK_THAT((cut.to - middle).norm() / (cut.from - middle).norm(),
               WithinRel(std::cbrt(1e-3 / flat.excess_m), 1e-9));
  }
  CHECK_THAT(taken, WithinRel(flat.excess_m, 1e-9));
}

// Source: [derived] a smaller disc on the same dome has an excess smaller by the cube of its size.
TEST_CASE("a small piece lies on a dome as it is", "[cutting][derived]") {
  const panel::Panel dome = panel_of(testing::sphere_panel(0.5, 0.5, 1.0, 50, 50));
  const auto flat = cutting::flatness_of(
      dome, part_of(panel::rectangle(0.5 * dome.flat.size(), {0.1, 0.1}, 0.0)));
  CHECK_THAT(flat.excess_m,
             WithinRel(base::kPi * std::pow(0.1 / std::sqrt(base::kPi), 3) / 3.0, 0.25));
  CHECK(flat.lies == cutting::LiesFlat::yes);
}

// Source: [derived] a saddle z = xy/R has curvature -1/R^2: the edge is too short, cuts open.
TEST_CASE("on a saddle relief cuts open", "[cutting][derived]") {
  const panel::Mesh mesh = testing::grid(50, 50, [](double u, double v) {
    const double x = 0.5 * (u - 0.5), y = 0.5 * (v - 0.5);
    return Eigen::Vector3d(x, y, x * y / 1.2);
  });
  const panel::Panel saddle = panel_of(mesh);
  const auto flat = cutting::flatness_of(
      saddle, part_of(panel::rectangle(0.5 * saddle.flat.size(), {0.4, 0.4}, 0.0)));
  CHECK(flat.curvature < 0.0);
  REQUIRE(flat.lies == cutting::LiesFlat::relief_cuts);
  CHECK(flat.cuts.front().width_m < 0.0);
}

// Source: [derived] a bump in a flat plate: its middle is a dome, its foot a saddle, the sum is
// nothing.
TEST_CASE("over a bump there is a warning, not relief cuts", "[cutting][derived]") {
  const panel::Mesh mesh = testing::grid(60, 60, [](double u, double v) {
    const double x = 0.6 * (u - 0.5), y = 0.6 * (v - 0.5);
    return Eigen::Vector3d(x, y, 0.03 * std::exp(-(x * x + y * y) / (0.06 * 0.06)));
  });
  const panel::Panel bump = panel_of(mesh);
  const auto flat = cutting::flatness_of(
      bump, part_of(panel::rectangle(0.5 * bump.flat.size(), {0.4, 0.4}, 0.0)));
  CHECK(flat.error_m > 1e-3);
  CHECK(flat.lies == cutting::LiesFlat::warning);
  CHECK(flat.cuts.empty());
}

// Source: [derived] the same bump on a dome: in sum a dome, but its bump and foot cancel by far
// more.
TEST_CASE("over a bump on a dome there is a warning too", "[cutting][derived]") {
  const panel::Mesh mesh = testing::grid(60, 60, [](double u, double v) {
    const double x = 0.6 * (u - 0.5), y = 0.6 * (v - 0.5), r2 = x * x + y * y;
    return Eigen::Vector3d(x, y, 0.03 * std::exp(-r2 / (0.06 * 0.06)) - 0.25 * r2);
  });
  const panel::Panel bump = panel_of(mesh);
  const auto flat = cutting::flatness_of(
      bump, part_of(panel::rectangle(0.5 * bump.flat.size(), {0.4, 0.4}, 0.0)));
  CHECK(flat.excess_m > cutting::kFlatError_m);
  CHECK(flat.lies == cutting::LiesFlat::warning);
}

}  // namespace calmplate
