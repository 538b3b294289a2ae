// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/panel.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/input_error.hpp"
#include "changed_meshes.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::make_panel;
using panel::Mesh;
using panel::Panel;
using panel::PanelOptions;

namespace {

Mesh inside_out(Mesh mesh) {
  mesh.triangles.col(1).swap(mesh.triangles.col(2));
  return mesh;
}

double mean_z(const Panel& panel) { return panel.normals.col(2).mean(); }

}  // namespace

// Source: derived. A crown bulges out of the car, whichever way the file's triangles run.
TEST_CASE("outside is the side to which the skin bulges", "[panel][derived]") {
  const Mesh up = testing::sphere_panel(0.9, 0.6, 2.0, 9, 6);
  Mesh down = up;
  down.nodes.col(2) *= -1.0;
  CHECK(mean_z(make_panel(up, {}, "a.stl")) > 0.9);
  CHECK(mean_z(make_panel(inside_out(up), {}, "a.stl")) > 0.9);
  CHECK(mean_z(make_panel(down, {}, "a.stl")) < -0.9);
  CHECK(mean_z(make_panel(inside_out(down), {}, "a.stl")) < -0.9);
}

TEST_CASE("outside of a flat panel is where its triangles run anticlockwise", "[panel]") {
  const Mesh plate = testing::flat_plate(0.9, 0.6, 9, 6);
  CHECK(mean_z(make_panel(plate, {}, "a.stl")) > 0.9);
  CHECK(mean_z(make_panel(inside_out(plate), {}, "a.stl")) < -0.9);
}

TEST_CASE("a given outward direction decides", "[panel]") {
  PanelOptions options;
  options.outward = Vector3d(0.3, 0.0, -1.0);
  CHECK(mean_z(make_panel(testing::sphere_panel(0.9, 0.6, 2.0, 9, 6), options, "a.stl")) < -0.9);
  options.outward = Vector3d(0.3, 0.0, 1.0);
  CHECK(mean_z(make_panel(testing::sphere_panel(0.9, 0.6, 2.0, 9, 6), options, "a.stl")) > 0.9);
}

// Source: derived. Seen from outside, x to the right and y up: normal, x and y make a right hand.
TEST_CASE("the flat map is seen from outside", "[panel][derived]") {
  PanelOptions options;
  options.outward = -Vector3d::UnitZ();
  const Panel panel = make_panel(testing::flat_plate(0.9, 0.6, 9, 6), options, "a.stl");
  // x stays, so y must point down the sheet's own y.
  for (Eigen::Index i = 0; i < panel.mesh.nodes.rows(); ++i) {
    CHECK(std::abs(panel.flat.points()(i, 0) - panel.mesh.nodes(i, 0)) < 1e-13);
    CHECK(std::abs(panel.flat.points()(i, 1) - (0.6 - panel.mesh.nodes(i, 1))) < 1e-13);
  }
}

TEST_CASE("directions that say nothing are refused", "[panel]") {
  const Mesh plate = testing::flat_plate(0.9, 0.6, 9, 6);
  PanelOptions options;
  options.along = Vector3d::UnitZ();
  CHECK_THROWS_WITH(make_panel(plate, options, "door.stl"),
                    "door.stl: the direction along the panel is normal to the skin; allowed: a "
                    "direction that runs along the skin");
  options = {};
  options.outward = Vector3d::UnitX();
  CHECK_THROWS_WITH(make_panel(plate, options, "door.stl"),
                    "door.stl: the direction out of the car lies along the skin; allowed: a "
                    "direction away from the skin");
  options = {};
  options.element_size_m = -0.01;
  CHECK_THROWS_AS(make_panel(plate, options, "door.stl"), std::invalid_argument);
  options.element_size_m = NAN;
  CHECK_THROWS_AS(make_panel(plate, options, "door.stl"), std::invalid_argument);
}

TEST_CASE("a tube is refused by name", "[panel]") {
  // Welding closes the grid's two ends.
  const Mesh tube = testing::grid(12, 8, [](double u, double v) {
    const double angle = base::kTwoPi * u;
    return Vector3d(0.1 * std::cos(angle), 0.1 * std::sin(angle), 0.4 * v);
  });
  PanelOptions options;
  options.along = Vector3d::UnitZ();
  CHECK_THROWS_WITH(make_panel(tube, options, "door.stl"),
                    "door.stl: cannot be laid flat: it is closed round itself; allowed: a skin "
                    "that a sheet of paper would follow with few creases");
}

// Source: derived. Four cells out of the middle of a plate leave a hole of 0.2 m round.
TEST_CASE("without a size the mesh stays as it is", "[panel][derived]") {
  const Mesh mesh = testing::with_hole(testing::flat_plate(0.4, 0.4, 16, 16), 0.2, 0.2, 0.03);
  panel::PanelReport report;
  const Panel panel = make_panel(mesh, {}, "a.stl", &report);
  CHECK_FALSE(report.remeshed);
  CHECK(report.holes_filled == 0);
  CHECK(panel.mesh.triangles == panel::Triangles(mesh.triangles.unaryExpr([&](int n) {
          // The hole's middle node went, so later numbers moved up by one.
          return n > 8 * 17 + 8 ? n - 1 : n;
        })));
  CHECK(std::abs(panel.area_m2 - (0.16 - 4.0 * 0.025 * 0.025)) < 1e-14);
  REQUIRE(panel::parts_named(panel, "holes").size() == 1);
  CHECK(std::abs(panel.rim.back().length_m - 0.2) < 1e-12);
  CHECK(std::abs(report.worst_angle_deg - 45.0) < 1e-9);
}

// Source: derived. A node put on a straight edge makes one triangle without height. It goes, and
// the sheet stays whole: same area, one rim.
TEST_CASE("a triangle without height is flipped away", "[panel][derived]") {
  Mesh mesh = testing::flat_plate(0.2, 0.1, 2, 1);
  // Triangles 0 and 1 share the diagonal from node 0 to node 4. Cut triangle 0 = (0, 1, 4) at the
  // diagonal's middle and fill the gap with a triangle that has no area.
  mesh.nodes.conservativeResize(7, 3);
  mesh.nodes.row(6) << 0.05, 0.05, 0.0;
  mesh.triangles.conservativeResize(6, 3);
  REQUIRE(mesh.triangles.row(0) == Eigen::RowVector3i(0, 1, 4));
  mesh.triangles.row(0) << 0, 1, 6;
  mesh.triangles.row(4) << 1, 4, 6;
  mesh.triangles.row(5) << 0, 6, 4;
  panel::PanelReport report;
  const Panel panel = make_panel(mesh, {}, "a.stl", &report);
  CHECK(report.degenerate_triangles == 1);
  CHECK(std::abs(panel.area_m2 - 0.02) < 1e-15);
  CHECK(panel.rim.size() == 4);
  CHECK(report.worst_angle_deg > 40.0);
}
