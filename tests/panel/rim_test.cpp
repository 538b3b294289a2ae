// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/rim.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "changed_meshes.hpp"
#include "panel/cover.hpp"
#include "panel/plane_mesh.hpp"

using namespace calmplate;
using Eigen::Vector3d;

namespace {

std::map<std::string, double> lengths(const panel::Panel& panel) {
  std::map<std::string, double> found;
  for (const panel::RimPart& part : panel.rim) found[part.name] = part.length_m;
  return found;
}

/// A flat panel inside an outline.
panel::Panel flat_panel(const panel::FlatPoints& outline, double size) {
  const panel::PlaneMesh plane = panel::mesh_between({outline}, size);
  panel::Mesh mesh{panel::Nodes::Zero(plane.points.rows(), 3), plane.triangles};
  mesh.nodes.leftCols<2>() = plane.points;
  return panel::make_panel(mesh, {}, "flat.stl");
}

/// Rectangle a by b with rounded corners, `step` apart along it. Anticlockwise.
panel::FlatPoints rounded_rectangle(double a, double b, double radius, double step) {
  std::vector<Eigen::Vector2d> points;
  const Eigen::Vector2d middle[4] = {
      {a - radius, radius}, {a - radius, b - radius}, {radius, b - radius}, {radius, radius}};
  for (int c = 0; c < 4; ++c) {
    const int arcs = std::max(1, static_cast<int>(radius * base::kPi / 2.0 / step));
    for (int i = 0; i <= arcs; ++i) {
      const double angle = (c - 1 + static_cast<double>(i) / arcs) * base::kPi / 2.0;
      points.push_back(middle[c] + radius * Eigen::Vector2d(std::cos(angle), std::sin(angle)));
    }
    const double side = (c % 2 == 0 ? b : a) - 2.0 * radius;
    const Eigen::Vector2d from = points.back();
    const Eigen::Vector2d along = c == 0   ? Eigen::Vector2d(0.0, 1.0)
                                  : c == 1 ? Eigen::Vector2d(-1.0, 0.0)
                                  : c == 2 ? Eigen::Vector2d(0.0, -1.0)
                                           : Eigen::Vector2d(1.0, 0.0);
    const int count = static_cast<int>(side / step);
    for (int i = 1; i < count; ++i) points.push_back(from + along * side * i / count);
  }
  panel::FlatPoints out(static_cast<Eigen::Index>(points.size()), 2);
  for (std::size_t i = 0; i < points.size(); ++i)
    out.row(static_cast<Eigen::Index>(i)) = points[i].transpose();
  return out;
}

}  // namespace

// Source: derived. A rectangle's sides are its rim's parts.
TEST_CASE("a rectangle has a bottom, right, top and left, anticlockwise from the datum",
          "[panel][derived]") {
  const panel::Panel panel = panel::make_panel(testing::flat_plate(0.9, 0.6, 18, 12), {}, "a.stl");
  REQUIRE(panel.rim.size() == 4);
  const char* names[4] = {"bottom", "right", "top", "left"};
  const double length[4] = {0.9, 0.6, 0.9, 0.6};
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(panel.rim[i].name == names[i]);
    CHECK(std::abs(panel.rim[i].length_m - length[i]) < 1e-12);
    CHECK_FALSE(panel.rim[i].hole);
    CHECK(panel.rim[i].nodes.back() == panel.rim[(i + 1) % 4].nodes.front());
  }
  CHECK(panel.flat.points().row(panel.rim[0].nodes.front()).norm() < 1e-14);
  CHECK(panel.rim[0].nodes.size() == 19);
}

// Source: derived. Corners rounded with radius r still split the rim; the parts add up to the whole
// rim, 2 (a + b) - (8 - 2 pi) r less what the chords cut off, and are alike in pairs.
TEST_CASE("rounded corners still divide the rim into four sides", "[panel][derived]") {
  const double radius = GENERATE(0.02, 0.06, 0.09);
  const double step = GENERATE(0.006, 0.02);
  const panel::Panel panel = flat_panel(rounded_rectangle(0.9, 0.6, radius, step), 0.03);
  CAPTURE(radius, step);
  const auto found = lengths(panel);
  REQUIRE(found.size() == 4);
  REQUIRE(found.count("bottom") == 1);
  const double whole = 2.0 * 1.5 - (8.0 - base::kTwoPi) * radius;
  const double sum = found.at("bottom") + found.at("right") + found.at("top") + found.at("left");
  CHECK(std::abs(sum - whole) < 0.005 * whole);
  // The cut lies on the arc, at most one step from its middle.
  const double side = 0.9 - 2.0 * radius + radius * base::kPi / 2.0;
  CHECK(std::abs(found.at("bottom") - side) < 2.0 * step + 0.005);
}

// Source: derived. No chord of a circle turns by more than a sixteenth of a round, 22.5 degrees.
TEST_CASE("a round panel has one closed part", "[panel][derived]") {
  const panel::Panel panel = panel::make_panel(testing::disc(0.3, 12), {}, "disc.stl");
  REQUIRE(panel.rim.size() == 1);
  CHECK(panel.rim[0].name == "rim");
  CHECK(panel.rim[0].nodes.front() == panel.rim[0].nodes.back());
  CHECK(std::abs(panel.rim[0].length_m - 144.0 * 0.3 * std::sin(base::kPi / 72.0)) < 1e-12);
}

// Source: derived. Of an L, 0.8 by 0.6 with a corner of 0.5 by 0.4 taken away, two sides face up
// (0.3 and 0.5 long) and two to the right (0.2 and 0.4); the longer has the plain name.
TEST_CASE("a second part that faces the same side gets a number", "[panel][derived]") {
  const panel::Mesh mesh =
      testing::only(testing::flat_plate(0.8, 0.6, 32, 24),
                    [](const Vector3d& p) { return p.x() < 0.3 || p.y() < 0.2; });
  const auto found = lengths(panel::make_panel(mesh, {}, "l.stl"));
  const std::map<std::string, double> expected = {{"bottom", 0.8},
                                                  {"left", 0.6},
                                                  {"top", 0.5},
                                                  {"top-2", 0.3},
                                                  {"right", 0.4},
                                                  {"right-2", 0.2}};
  REQUIRE(found.size() == expected.size());
  for (const auto& [name, length] : expected) {
    CAPTURE(name);
    REQUIRE(found.count(name) == 1);
    CHECK(std::abs(found.at(name) - length) < 1e-12);
  }
}

// Source: derived. A rhombus with an acute angle of 60 degrees turns by 60 and 120 degrees.
TEST_CASE("the sides of a skew panel are found by which way they face", "[panel][derived]") {
  const auto found =
      lengths(panel::make_panel(testing::skew_plate(0.5, base::kPi / 3.0, 20), {}, "skew.stl"));
  REQUIRE(found.size() == 4);
  for (const char* name : {"bottom", "right", "top", "left"}) {
    REQUIRE(found.count(name) == 1);
    CHECK(std::abs(found.at(name) - 0.5) < 1e-12);
  }
}

// Source: derived. 35 degrees lie between the two turns of 30 and 150 degrees of this rhombus.
TEST_CASE("the corner angle decides what counts as a corner", "[panel][derived]") {
  const panel::Mesh mesh = testing::skew_plate(0.5, base::kPi / 6.0, 20);
  panel::PanelOptions options;
  CHECK(panel::make_panel(mesh, options, "skew.stl").rim.size() == 2);
  options.corner_degrees = 20.0;
  CHECK(panel::make_panel(mesh, options, "skew.stl").rim.size() == 4);
}

TEST_CASE("holes are numbered by size and run clockwise, and groups have names", "[panel]") {
  panel::Mesh mesh = testing::flat_plate(0.9, 0.6, 45, 30);
  mesh = testing::with_hole(mesh, 0.2, 0.3, 0.05);
  mesh = testing::with_hole(mesh, 0.6, 0.3, 0.12);
  const panel::Panel panel = panel::make_panel(mesh, {}, "holes.stl");
  REQUIRE(panel.rim.size() == 6);
  CHECK(panel::parts_named(panel, "rim") == std::vector<int>{0, 1, 2, 3});
  CHECK(panel::parts_named(panel, "holes") == std::vector<int>{4, 5});
  CHECK(panel::parts_named(panel, "all") == std::vector<int>{0, 1, 2, 3, 4, 5});
  CHECK(panel::parts_named(panel, "top") == std::vector<int>{2});
  CHECK(panel::parts_named(panel, "hole-2") == std::vector<int>{5});
  CHECK(panel::parts_named(panel, "hinge").empty());
  CHECK(panel.rim[4].name == "hole-1");
  CHECK(panel.rim[4].length_m > panel.rim[5].length_m);
  for (const std::size_t h : {std::size_t{4}, std::size_t{5}}) {
    const auto& nodes = panel.rim[h].nodes;
    CHECK(panel.rim[h].hole);
    CHECK(nodes.front() == nodes.back());
    panel::Polygon polygon(static_cast<Eigen::Index>(nodes.size()) - 1, 2);
    for (Eigen::Index i = 0; i < polygon.rows(); ++i)
      polygon.row(i) = panel.flat.points().row(nodes[static_cast<std::size_t>(i)]);
    CHECK(panel::polygon_area(polygon) < 0.0);
  }
}

// Source: derived. On a plate the distance to the rim is the least of four coordinates; to a round
// hole it is the distance from its middle less the radius, within the depth of the hole's steps.
TEST_CASE("nodes know how far they are from rim and holes", "[panel][derived]") {
  const panel::Panel plate = panel::make_panel(testing::flat_plate(0.9, 0.6, 18, 12), {}, "a.stl");
  REQUIRE(plate.rim_distance_m.size() == plate.mesh.nodes.rows());
  for (Eigen::Index i = 0; i < plate.mesh.nodes.rows(); ++i) {
    const double x = plate.mesh.nodes(i, 0), y = plate.mesh.nodes(i, 1);
    CHECK(std::abs(plate.rim_distance_m[i] - std::min({x, y, 0.9 - x, 0.6 - y})) < 1e-12);
    CHECK(std::isinf(plate.hole_distance_m[i]));
  }
  const panel::Panel ring = panel::make_panel(testing::annulus(0.1, 0.3, 10), {}, "ring.stl");
  for (Eigen::Index i = 0; i < ring.mesh.nodes.rows(); ++i) {
    const double r = ring.mesh.nodes.row(i).norm();
    CHECK(std::abs(ring.hole_distance_m[i] - (r - 0.1)) < 0.0006);  // e^2 / 8 R of 20 mm on 0.1 m
    CHECK(std::abs(ring.rim_distance_m[i] - (0.3 - r)) < 0.0003);
  }
}
