// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/sheet.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "base/input_error.hpp"
#include "changed_meshes.hpp"
#include "panel/topology.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::Mesh;
using panel::PanelReport;

namespace {

Mesh plate() { return testing::flat_plate(0.9, 0.6, 9, 6); }

std::string refusal(const Mesh& mesh) {
  PanelReport report;
  try {
    panel::mend_sheet(mesh, "door.stl", report);
  } catch (const base::InputError& fault) {
    CHECK(fault.where().file == "door.stl");
    return fault.what();
  }
  return "accepted";
}

/// Adds one triangle.
Mesh with_triangle(Mesh mesh, const Eigen::RowVector3i& triangle) {
  mesh.triangles.conservativeResize(mesh.triangles.rows() + 1, 3);
  mesh.triangles.row(mesh.triangles.rows() - 1) = triangle;
  return mesh;
}
Mesh with_node(Mesh mesh, const Vector3d& node) {
  mesh.nodes.conservativeResize(mesh.nodes.rows() + 1, 3);
  mesh.nodes.row(mesh.nodes.rows() - 1) = node.transpose();
  return mesh;
}

/// A strip joined end to end, with half a twist or without.
Mesh loop_of_strip(bool twist) {
  const int n = 24;
  Mesh mesh = testing::grid(n, 2, [&](double u, double v) {
    const double round = base::kTwoPi * u, lean = twist ? base::kPi * u : 0.0;
    const double out = 0.2 + 0.05 * (v - 0.5) * std::cos(lean);
    return Vector3d(
        out * std::cos(round), out * std::sin(round), 0.05 * (v - 0.5) * std::sin(lean));
  });
  return mesh;
}

}  // namespace

// Source: derived. 9 x 6 cells in 108 triangles have 324 corners and 70 nodes.
TEST_CASE("doubled nodes become one", "[panel][derived]") {
  PanelReport report;
  const Mesh mended = panel::mend_sheet(testing::as_soup(plate()), "door.stl", report);
  CHECK(report.duplicate_nodes == 324 - 70);
  CHECK(mended.nodes.rows() == 70);
  CHECK(mended.triangles.rows() == 108);
  CHECK(report.degenerate_triangles == 0);
  CHECK(report.flipped_triangles == 0);
  CHECK(report.islands_dropped == 0);
  // Within a millionth of the diagonal (1.08 um) too, and no further.
  PanelReport near, far;
  panel::mend_sheet(
      testing::with_noise(testing::as_soup(plate()), 1e-8, 1e-8, 3), "door.stl", near);
  CHECK(near.duplicate_nodes == 324 - 70);
  panel::mend_sheet(testing::with_noise(testing::as_soup(plate()), 1e-4, 1e-4, 3), "door.stl", far);
  CHECK(far.duplicate_nodes == 0);
}

TEST_CASE("a mesh without fault comes back as it was", "[panel]") {
  PanelReport report;
  const Mesh mesh = testing::sphere_panel(0.9, 0.6, 2.0, 7, 5);
  const Mesh mended = panel::mend_sheet(mesh, "door.stl", report);
  CHECK(mended.nodes == mesh.nodes);
  CHECK(mended.triangles == mesh.triangles);
  CHECK(report.duplicate_nodes + report.degenerate_triangles + report.flipped_triangles +
            report.islands_dropped + report.dropped_triangles ==
        0);
}

TEST_CASE("triangles without area and doubled triangles go", "[panel]") {
  PanelReport report;
  Mesh mesh = with_triangle(plate(), {3, 3, 14});
  mesh = with_triangle(mesh, mesh.triangles.row(5));
  mesh = with_triangle(mesh, mesh.triangles.row(6).reverse());
  const Mesh mended = panel::mend_sheet(mesh, "door.stl", report);
  CHECK(report.degenerate_triangles == 3);
  CHECK(mended.triangles == plate().triangles);
}

TEST_CASE("triangles that run the wrong way are turned, the larger part leads", "[panel]") {
  Mesh mesh = plate();
  for (const int t : {0, 3, 17, 50, 51, 107})
    mesh.triangles.row(t) = mesh.triangles.row(t).reverse().eval();
  PanelReport report;
  const Mesh mended = panel::mend_sheet(mesh, "door.stl", report);
  CHECK(report.flipped_triangles == 6);
  double area = 0.0;
  for (Eigen::Index t = 0; t < mended.triangles.rows(); ++t) {
    const Vector3d a = mended.nodes.row(mended.triangles(t, 0)).transpose();
    const Vector3d b = mended.nodes.row(mended.triangles(t, 1)).transpose();
    const Vector3d c = mended.nodes.row(mended.triangles(t, 2)).transpose();
    area += 0.5 * (b - a).cross(c - a).z();
  }
  CHECK(std::abs(area - 0.54) < 1e-14);
}

TEST_CASE("the largest of several pieces stays", "[panel]") {
  const Mesh island = testing::moved(testing::flat_plate(0.05, 0.05, 2, 2), {0.3, 0.2, 0.04});
  PanelReport report;
  const Mesh mended = panel::mend_sheet(testing::together(island, plate()), "door.stl", report);
  CHECK(report.islands_dropped == 1);
  CHECK(report.dropped_triangles == 8);
  CHECK(mended.nodes == plate().nodes);
}

// Source: derived. Two triangles with nothing but one node in common are not joined there.
TEST_CASE("a node where the sheet touches itself is split", "[panel][derived]") {
  // Two cells taken out that meet in one inner node: four fans' worth of triangles, two fans.
  const Mesh mesh = testing::only(plate(), [](const Vector3d& p) {
    const bool one = p.x() > 0.3 && p.x() < 0.4 && p.y() > 0.2 && p.y() < 0.3;
    const bool two = p.x() > 0.4 && p.x() < 0.5 && p.y() > 0.3 && p.y() < 0.4;
    return !one && !two;
  });
  PanelReport report;
  const Mesh mended = panel::mend_sheet(mesh, "door.stl", report);
  CHECK(mended.nodes.rows() == 71);
  CHECK(mended.triangles.rows() == 104);
  CHECK(panel::boundary_loops(mended.triangles).size() == 2);
  CHECK((mended.nodes.row(70) - Eigen::RowVector3d(0.4, 0.3, 0.0)).norm() < 1e-12);
}

// Source: derived. A triangle outside a straight rim hangs on by one edge; a second one on it goes
// in the same pass and leaves the first to the next. A corner of the plate that is a single
// triangle counts as a shred too, with and without the added ones.
TEST_CASE("shreds that hang on by one edge are taken off from the rim", "[panel][derived]") {
  Mesh mesh =
      testing::grid(9, 6, [](double u, double v) { return Vector3d(0.9 * u, 0.6 * v, 0.0); });
  PanelReport none;
  const Eigen::Index whole = panel::without_shreds(mesh, none).triangles.rows();
  CHECK(whole == 108 - none.dropped_triangles);
  mesh = with_triangle(with_node(mesh, {0.45, -0.05, 0.0}), {4, 70, 5});
  mesh = with_triangle(with_node(mesh, {0.55, -0.05, 0.0}), {5, 70, 71});
  PanelReport report;
  const Mesh firm = panel::without_shreds(mesh, report);
  CHECK(firm.triangles.rows() == whole);
  CHECK(report.dropped_triangles == none.dropped_triangles + 2);
  CHECK(firm.nodes.col(1).minCoeff() == 0.0);
}

TEST_CASE("what cannot be a skin is refused in one line that says where", "[panel]") {
  CHECK(refusal(Mesh{plate().nodes, panel::Triangles(0, 3)}) ==
        "door.stl: holds no triangle; allowed: a surface of triangles");

  CHECK(refusal(Mesh{plate().nodes, panel::Triangles::Constant(4, 3, 7)}) ==
        "door.stl: holds no triangle with area; allowed: a surface of triangles");

  Mesh broken = plate();
  broken.nodes(12, 1) = NAN;
  CHECK(refusal(broken) ==
        "door.stl: node 12 has a coordinate that is not finite; allowed: numbers");

  // A rib stands on the edge between nodes 33 and 34, at (350, 300) mm.
  const Mesh rib = with_triangle(with_node(plate(), {0.35, 0.3, 0.1}), {33, 34, 70});
  CHECK(refusal(rib) ==
        "door.stl: has an edge with 3 triangles near (350.0, 300.0, 0.0) mm; allowed: one or two "
        "triangles at an edge");

  CHECK(refusal(Mesh{1000.0 * plate().nodes, plate().triangles}) ==
        "door.stl: is 900 m across; allowed: 0.02 m to 4 m (is the unit of the file right?)");
  CHECK(refusal(Mesh{0.001 * plate().nodes, plate().triangles}) ==
        "door.stl: is 0.0009 m across; allowed: 0.02 m to 4 m (is the unit of the file right?)");

  Mesh octahedron{panel::Nodes(6, 3), panel::Triangles(8, 3)};
  octahedron.nodes << 1, 0, 0, -1, 0, 0, 0, 1, 0, 0, -1, 0, 0, 0, 1, 0, 0, -1;
  octahedron.triangles << 0, 2, 4, 2, 1, 4, 1, 3, 4, 3, 0, 4, 2, 0, 5, 1, 2, 5, 3, 1, 5, 0, 3, 5;
  CHECK(refusal(octahedron) ==
        "door.stl: is a closed body without a rim; allowed: an open sheet, such as the outer face "
        "alone");

  const std::string twisted = refusal(loop_of_strip(true));
  CHECK(twisted.find("door.stl: has no outer and inner face (it is twisted into itself) near (") ==
        0);
  CHECK(twisted.find(") mm; allowed: a sheet with two faces") != std::string::npos);
  CHECK(refusal(loop_of_strip(false)) == "accepted");
}

TEST_CASE("a node number out of range is a wrong call", "[panel]") {
  PanelReport report;
  const Mesh mesh = with_triangle(plate(), {0, 1, 70});
  CHECK_THROWS_AS(panel::mend_sheet(mesh, "door.stl", report), std::invalid_argument);
}
