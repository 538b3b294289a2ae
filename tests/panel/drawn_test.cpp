// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/drawn.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>

#include "base/units.hpp"
#include "drawings.hpp"
#include "panel/drawn_shape.hpp"
#include "panel/topology.hpp"

using namespace calmplate;
using Eigen::Vector2d;
using panel::Panel;

namespace {

const panel::RimPart& part(const Panel& panel, const std::string& name) {
  const std::vector<int> found = panel::parts_named(panel, name);
  REQUIRE(found.size() == 1);
  return panel.rim[static_cast<std::size_t>(found[0])];
}

/// Length on the skin of a straight line on the map, walked in small steps.
double on_skin(const Panel& panel, const Vector2d& from, const Vector2d& to) {
  constexpr int kSteps = 2000;
  double sum = 0.0;
  Eigen::Vector3d last = panel.flat.to_space(panel.flat.nearest(from));
  for (int k = 1; k <= kSteps; ++k) {
    const Vector2d at = from + (to - from) * k / kSteps;
    const Eigen::Vector3d here = panel.flat.to_space(panel.flat.nearest(at));
    sum += (here - last).norm();
    last = here;
  }
  return sum;
}

/// Height out of the car at a place on the map.
double height(const Panel& panel, const Vector2d& at) {
  const auto place = panel.flat.to_skin(at);
  REQUIRE(place.has_value());
  return -panel.flat.to_space(*place).y();
}

}  // namespace

// Source: derived. A flat drawing is the skin itself, in the plane y = 0 with z up.
TEST_CASE("a flat drawing becomes the same plate, upright in the car", "[panel][derived]") {
  panel::PanelReport report;
  const Panel panel =
      panel::make_drawn_panel(testing::drawn_rectangle(1.0, 0.6, 0.02), 35.0, &report);
  CHECK(std::abs(panel.area_m2 - 0.6) < 1e-12);
  CHECK(report.worst_stretch < 1e-12);
  CHECK(report.worst_angle_deg > 25.0);
  CHECK(std::abs(panel.element_size_m / 0.02 - 1.0) < 0.03);
  CHECK(panel.mesh.nodes.col(1).cwiseAbs().maxCoeff() == 0.0);
  CHECK(panel.mesh.nodes.col(0) == panel.flat.points().col(0));
  CHECK(panel.mesh.nodes.col(2) == panel.flat.points().col(1));
  CHECK(panel.normals.col(1).maxCoeff() < -1.0 + 1e-12);
  REQUIRE(panel.rim.size() == 4);
  CHECK(panel.rim[0].name == "bottom");
  CHECK(panel.rim[1].name == "right");
  CHECK(panel.rim[2].name == "top");
  CHECK(panel.rim[3].name == "left");
  CHECK(std::abs(part(panel, "bottom").length_m - 1.0) < 1e-12);
}

// Source: derived. pi r^2 less what the polygon's chords cut off; a slot is a rectangle and a disc.
TEST_CASE("holes of each shape take their area out of the skin", "[panel][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.02);
  drawing.holes = {panel::circle({0.3, 0.3}, 0.165), panel::slot({0.6, 0.4}, 0.12, 0.04, 0.5)};
  panel::FlatPoints square(4, 2);  // clockwise: the sense does not matter
  square << 0.7, 0.1, 0.7, 0.2, 0.8, 0.2, 0.8, 0.1;
  drawing.holes.push_back(testing::closed_line(square));
  const double disc = base::kPi * 0.0825 * 0.0825, slot = 0.08 * 0.04 + base::kPi * 0.02 * 0.02;
  CHECK(std::abs(panel::drawn_area(drawing) - (0.6 - disc - slot - 0.01)) < 1e-12);
  const Panel panel = panel::make_drawn_panel(drawing);
  CHECK(std::abs(panel.area_m2 / panel::drawn_area(drawing) - 1.0) < 5e-4);
  REQUIRE(panel.rim.size() == 7);
  const panel::RimPart& round = part(panel, "hole-1");
  CHECK(round.nodes.size() > 24);
  for (const int node : round.nodes)
    CHECK(std::abs((panel.flat.points().row(node).transpose() - Vector2d(0.3, 0.3)).norm() -
                   0.0825) < 1e-12);
  CHECK(std::abs(part(panel, "hole-2").length_m - 0.4) < 1e-12);
  CHECK(std::abs(part(panel, "hole-3").length_m / (0.16 + base::kPi * 0.04) - 1.0) < 0.02);
}

// Source: derived. A cylinder's points lie at its radius from its axis; the arc is what was drawn.
TEST_CASE("a crown in one direction is a cylinder with the lengths that were drawn",
          "[panel][derived]") {
  const double radius = GENERATE(0.7, 3.0, 8.0);
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.015);
  drawing.radius_up_m = radius;
  panel::PanelReport report;
  const Panel panel = panel::make_drawn_panel(drawing, 35.0, &report);
  const double sagitta = radius * (1.0 - std::cos(0.3 / radius));
  double off = 0.0;
  // The heights count from the plane that fits best: the axis is where the top says it is.
  const double axis = height(panel, {0.5, 0.3}) - radius;
  for (Eigen::Index i = 0; i < panel.mesh.nodes.rows(); ++i)
    off =
        std::max(off,
                 std::abs(std::hypot(-panel.mesh.nodes(i, 1) - axis, panel.mesh.nodes(i, 2) - 0.3) -
                          radius));
  CAPTURE(radius, off, report.worst_stretch);
  CHECK(off < 2.0 * 0.015 * 0.015 / (8.0 * radius));
  CHECK(std::abs(height(panel, {0.5, 0.3}) - height(panel, {0.5, 0.0}) - sagitta) < 1e-4 * radius);
  CHECK(report.worst_stretch < 2e-4);
  CHECK(std::abs(panel.area_m2 - 0.6) < 1e-4);
}

// Source: derived. Lengths along the skin are those on the map; double curvature K = 1/(Ra Rb)
// keeps them only to the order of K times the square of the extent.
TEST_CASE("a doubly crowned skin keeps lengths to a few parts in ten thousand",
          "[panel][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.015);
  drawing.radius_up_m = 3.0;
  drawing.radius_along_m = 10.0;
  panel::PanelReport report;
  const Panel panel = panel::make_drawn_panel(drawing, 35.0, &report);
  CHECK(report.worst_stretch < 1e-3);
  CHECK(std::abs(panel.area_m2 / 0.6 - 1.0) < 1e-4);
  for (const double share : {0.1, 0.5, 0.9}) {
    CAPTURE(share);
    CHECK(std::abs(on_skin(panel, {0.0, 0.6 * share}, {1.0, 0.6 * share}) - 1.0) < 7e-4);
    CHECK(std::abs(on_skin(panel, {share, 0.0}, {share, 0.6}) / 0.6 - 1.0) < 7e-4);
  }
  const double up = 3.0 * (1.0 - std::cos(0.1)), along = 10.0 * (1.0 - std::cos(0.05));
  CHECK(std::abs(height(panel, {0.5, 0.3}) - height(panel, {0.5, 0.0}) - up) < 2e-5);
  CHECK(std::abs(height(panel, {0.5, 0.3}) - height(panel, {0.0, 0.3}) - along) < 2e-5);
  drawing.radius_along_m = 3.0;
  CHECK(panel::make_drawn_panel(drawing).flat.worst_stretch() < 3.5e-3);
}

// Source: derived. The plane that heights are measured from may lie anyhow: nine heights on a
// tilted plane more give the same skin.
TEST_CASE("measured heights are met, whatever plane they were measured from", "[panel][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.02), tilted = drawing;
  const double measured[3][3] = {{0.0, 0.008, 0.001}, {0.011, 0.021, 0.013}, {0.002, 0.010, 0.0}};
  for (int j = 0; j < 3; ++j)
    for (int i = 0; i < 3; ++i) {
      drawing.crown.push_back(testing::crown_point(0.5 * i, 0.3 * j, measured[j][i]));
      tilted.crown.push_back(testing::crown_point(
          0.5 * i, 0.3 * j, measured[j][i] + 0.005 + 0.02 * 0.5 * i - 0.03 * 0.3 * j));
    }
  const Panel panel = panel::make_drawn_panel(drawing);
  // Over the plane through three of the corners.
  const double h00 = height(panel, {0.0, 0.0});
  const Vector2d slope(height(panel, {1.0, 0.0}) - h00 - 0.001,
                       (height(panel, {0.0, 0.6}) - h00 - 0.002) / 0.6);
  for (int j = 0; j < 3; ++j)
    for (int i = 0; i < 3; ++i) {
      const Vector2d at(0.5 * i, 0.3 * j);
      CAPTURE(i, j);
      CHECK(std::abs(height(panel, at) - h00 - slope.dot(at) - measured[j][i]) < 2e-4);
    }
  const Panel other = panel::make_drawn_panel(tilted);
  CHECK((other.mesh.nodes - panel.mesh.nodes).cwiseAbs().maxCoeff() < 1e-9);
}

// Source: derived. Across a ridge height/2 (1 + cos(2 pi d / width)) the tape is longer than the
// chord by pi^2 height^2 / (4 width) in first order; the map is the tape.
TEST_CASE("a swage line stands as high as it was drawn and the tape lies over it",
          "[panel][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.02);
  drawing.swages = {testing::swage_across(0.05, 0.006)};
  panel::PanelReport report;
  const Panel panel = panel::make_drawn_panel(drawing, 35.0, &report);
  for (const double x : {0.11, 0.5, 0.83}) {
    CAPTURE(x);
    CHECK(std::abs(height(panel, {x, 0.2}) - height(panel, {x, 0.1}) - 0.006) < 2e-4);
    CHECK(std::abs(height(panel, {x, 0.2125}) - height(panel, {x, 0.1}) - 0.003) < 3e-4);
    CHECK(std::abs(on_skin(panel, {x, 0.0}, {x, 0.6}) - 0.6) < 6e-4);
  }
  const double shorter =
      0.6 - (panel.mesh.nodes.col(2).maxCoeff() - panel.mesh.nodes.col(2).minCoeff());
  CHECK(std::abs(shorter / (base::kPi * base::kPi * 36e-6 / 0.2) - 1.0) < 0.1);
  CHECK(report.worst_stretch < 0.01);
  CHECK(report.worst_angle_deg > 20.0);
}

TEST_CASE("a swage line has a row of nodes on its crest and is meshed finer than the rest",
          "[panel]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.025);
  drawing.swages = {testing::swage_across(0.04, 0.005)};
  const panel::DrawnSkin skin = panel::draw_skin(drawing);
  int on_crest = 0, within = 0;
  for (Eigen::Index i = 0; i < skin.flat.rows(); ++i) {
    const double off = std::abs(skin.flat(i, 1) - 0.2);
    on_crest += off < 1e-12 ? 1 : 0;
    within += off < 0.02 ? 1 : 0;
  }
  CHECK(on_crest >= 240);  // a tenth of the width apart, 4 mm
  CHECK(within >= 5 * on_crest);
}

// Source: derived. Inside the opening less its walls lies the floor, as deep as drawn.
TEST_CASE("a recess has its floor, its opening and nothing beyond", "[panel][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.02);
  panel::RecessInput recess;
  recess.centre = {0.6, 0.35};
  recess.size = {0.2, 0.1};
  recess.angle_rad = 0.3;
  recess.depth_m = 0.012;
  recess.corner_radius_m = 0.03;
  recess.wall_m = 0.02;
  drawing.recesses = {recess};
  panel::PanelReport report;
  const Panel panel = panel::make_drawn_panel(drawing, 35.0, &report);
  const Vector2d along(std::cos(0.3), std::sin(0.3)), up(-std::sin(0.3), std::cos(0.3));
  CHECK(std::abs(height(panel, recess.centre) + 0.012) < 1e-12);
  CHECK(std::abs(height(panel, recess.centre + 0.078 * along) + 0.012) < 3e-4);
  CHECK(std::abs(height(panel, recess.centre + 0.028 * up) + 0.012) < 3e-4);
  CHECK(std::abs(height(panel, recess.centre + 0.09 * along) + 0.006) < 5e-4);
  CHECK(std::abs(height(panel, recess.centre + 0.04 * up) + 0.006) < 5e-4);
  CHECK(std::abs(height(panel, recess.centre + 0.101 * along)) < 3e-4);
  CHECK(std::abs(height(panel, recess.centre + 0.098 * along + 0.048 * up)) < 3e-4);
  CHECK(height(panel, {0.1, 0.1}) == 0.0);
  CHECK(panel.flat.points().col(0) == panel.mesh.nodes.col(0));
  CHECK(report.worst_angle_deg > 20.0);
}

TEST_CASE("a whole drawn door has good elements, its rim parts and its holes", "[panel]") {
  const double element = GENERATE(0.008, 0.012, 0.017, 0.025);
  panel::PanelReport report;
  const Panel panel = panel::make_drawn_panel(testing::drawn_door(element), 35.0, &report);
  CAPTURE(element, panel.mesh.nodes.rows(), report.worst_angle_deg, report.worst_stretch);
  CHECK(report.worst_angle_deg > 20.0);
  std::vector<std::string> names;
  for (const panel::RimPart& p : panel.rim) names.push_back(p.name);
  CHECK(names ==
        std::vector<std::string>{"bottom", "right", "top", "left", "hole-1", "hole-2", "hole-3"});
  for (Eigen::Index t = 0; t < panel.mesh.triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      const double side = (panel.flat.points().row(panel.mesh.triangles(t, k)) -
                           panel.flat.points().row(panel.mesh.triangles(t, (k + 1) % 3)))
                              .norm();
      if (side > 1.9 * element) FAIL("a side of " << side << " m");
    }
  // Positions are the drawing's own: the woofer's hole is where it was drawn.
  for (const int node : part(panel, "hole-1").nodes)
    CHECK(std::abs((panel.flat.points().row(node).transpose() - Vector2d(0.35, 0.40)).norm() -
                   0.0825) < 1e-12);
  CHECK_FALSE(panel.flat.to_skin({0.35, 0.40}).has_value());
}

TEST_CASE("the same drawing gives the same bytes", "[panel]") {
  const panel::DrawnSkin one = panel::draw_skin(testing::drawn_door(0.015));
  const panel::DrawnSkin two = panel::draw_skin(testing::drawn_door(0.015));
  REQUIRE(one.mesh.nodes.rows() == two.mesh.nodes.rows());
  CHECK(std::memcmp(one.mesh.nodes.data(),
                    two.mesh.nodes.data(),
                    sizeof(double) * static_cast<std::size_t>(one.mesh.nodes.size())) == 0);
  CHECK(one.mesh.triangles == two.mesh.triangles);
}

TEST_CASE("elements are finer along lines that ask for it, and features scale on request",
          "[panel]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.025);
  const auto plain = panel::draw_skin(drawing).flat.rows();
  panel::FlatPoints piece(4, 2);
  piece << 0.3, 0.2, 0.7, 0.2, 0.7, 0.4, 0.3, 0.4;
  drawing.finer = {{piece, true, 0.008}};
  const auto finer = panel::draw_skin(drawing).flat.rows();
  CHECK(finer > plain + 500);
  drawing.feature_factor = 2.0;
  const auto coarser = panel::draw_skin(drawing).flat.rows();
  CHECK(coarser > plain);
  CHECK(coarser < finer - 200);
}

TEST_CASE("a drawing without an element size is a wrong call", "[panel]") {
  CHECK_THROWS_AS(panel::draw_skin(testing::drawn_rectangle(1.0, 0.6, 0.0)), std::invalid_argument);
  CHECK_THROWS_AS(panel::draw_skin(testing::drawn_rectangle(1.0, 0.6, -0.01)),
                  std::invalid_argument);
}

// Source: derived. The map's datum is the drawing's origin, not the corner of its box.
TEST_CASE("a drawing may begin anywhere", "[panel][derived]") {
  panel::DrawnInput drawing = testing::drawn_rectangle(1.0, 0.6, 0.03);
  drawing.outline.bow_m = {0.01, 0.0, 0.0, 0.02};
  const Panel panel = panel::make_drawn_panel(drawing);
  CHECK(std::abs(panel.flat.low().x() + 0.02) < 1e-4);
  CHECK(std::abs(panel.flat.low().y() + 0.01) < 1e-4);
  CHECK(std::abs(panel.flat.size().x() - 1.02) < 1e-4);
  CHECK(std::abs(panel.flat.middle().x() - 0.49) < 1e-4);
  for (const Vector2d& at : {Vector2d(0.3, -0.005), Vector2d(-0.01, 0.3), Vector2d(0.99, 0.59)}) {
    const auto place = panel.flat.to_skin(at);
    REQUIRE(place.has_value());
    CHECK((panel.flat.to_flat(*place) - at).norm() < 1e-12);
  }
}
