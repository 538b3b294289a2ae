// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/gaps.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "changed_meshes.hpp"
#include "panel/coarsen.hpp"
#include "panel/sheet.hpp"
#include "panel/topology.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::Mesh;
using panel::PanelReport;

namespace {

/// The mesh without the triangles of these numbers.
Mesh without(const Mesh& mesh, const std::set<Eigen::Index>& gone) {
  Mesh out{mesh.nodes, panel::Triangles(mesh.triangles.rows(), 3)};
  Eigen::Index kept = 0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    if (gone.count(t) == 0) out.triangles.row(kept++) = mesh.triangles.row(t);
  out.triangles.conservativeResize(kept, 3);
  return out;
}

double area_of(const Mesh& mesh) { return panel::triangle_areas(mesh).sum(); }

/// Every fifteenth triangle, by a fixed shuffle, so that gaps meet at nodes and lie side by side.
std::set<Eigen::Index> scattered(Eigen::Index n) {
  std::mt19937 generator(7);
  std::set<Eigen::Index> gone;
  for (Eigen::Index t = 0; t < n; ++t)
    if (generator() % 15 == 0) gone.insert(t);
  return gone;
}

}  // namespace

// Source: derived. What was taken out of a plate away from its rim comes back, to the last square
// millimetre, with as many triangles and one rim.
TEST_CASE("scattered gaps close, also where they meet at a node", "[panel][derived]") {
  const Mesh plate = testing::flat_plate(0.5, 0.4, 50, 40);
  std::set<Eigen::Index> gone = scattered(plate.triangles.rows());
  for (auto t = gone.begin(); t != gone.end();) {
    const Vector3d p = plate.nodes.row(plate.triangles(*t, 0)).transpose();
    const bool inner = p.x() > 0.02 && p.x() < 0.48 && p.y() > 0.02 && p.y() < 0.38;
    t = inner ? std::next(t) : gone.erase(t);
  }
  REQUIRE(gone.size() > 200);
  Mesh mesh = without(plate, gone);
  PanelReport report;
  panel::close_gaps(mesh, 0.04, report);
  CHECK(mesh.triangles.rows() == plate.triangles.rows());
  CHECK(std::abs(area_of(mesh) - 0.2) < 1e-12);
  CHECK(panel::boundary_loops(mesh.triangles).size() == 1);
  CHECK(report.holes_filled > 150);
  CHECK(report.holes_filled < static_cast<int>(gone.size()));  // some lay side by side
  // All of one sense: neighbours share each edge both ways, or boundary_loops would have thrown.
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    const Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)).transpose();
    const Vector3d u = mesh.nodes.row(mesh.triangles(t, 1)).transpose() - a;
    const Vector3d v = mesh.nodes.row(mesh.triangles(t, 2)).transpose() - a;
    CHECK(u.cross(v).z() > 0.0);
  }
}

// Source: derived. Three gaps round one node: two neighbours never have an edge in common.
TEST_CASE("three gaps round one node stay three", "[panel][derived]") {
  Mesh disc = testing::disc(0.1, 2);
  std::set<Eigen::Index> gone;
  for (Eigen::Index t = 0; t < 6; t += 2) gone.insert(t);
  Mesh mesh = without(disc, gone);
  PanelReport report;
  panel::close_gaps(mesh, 0.2, report);
  CHECK(report.holes_filled == 3);
  CHECK(std::abs(area_of(mesh) - area_of(disc)) < 1e-15);
}

TEST_CASE("gaps larger than wanted and the rim stay open", "[panel]") {
  const Mesh plate = testing::with_hole(testing::flat_plate(0.5, 0.4, 50, 40), 0.2, 0.2, 0.025);
  Mesh mesh = plate;
  PanelReport report;
  panel::close_gaps(mesh, 0.04, report);
  CHECK(report.holes_filled == 0);
  CHECK(mesh.triangles == plate.triangles);
  panel::close_gaps(mesh, 0.08, report);
  CHECK(report.holes_filled == 1);
  CHECK(std::abs(area_of(mesh) - 0.2) < 1e-12);
}

// Source: derived. Triangles taken out at the rim come back; a square inner corner and the rim's
// own corners stay as they are.
TEST_CASE("bites out of the rim are closed, square corners stay", "[panel][derived]") {
  const auto is_l = [](const Vector3d& p) { return p.x() < 0.3 || p.y() < 0.2; };
  const Mesh plate = testing::only(testing::flat_plate(0.5, 0.4, 50, 40), is_l);
  const auto bitten = [](const Vector3d& p) {
    const bool lower = p.y() < 0.017 && std::abs(p.x() - 0.2) < 0.012;
    const bool left = p.x() < 0.0095 && std::abs(p.y() - 0.3) < 0.0099;
    return !lower && !left;
  };
  PanelReport ignored;
  Mesh mesh = panel::mend_sheet(testing::only(plate, bitten), "a.stl", ignored);
  const double lost = area_of(plate) - area_of(mesh);
  REQUIRE(lost > 3e-4);
  PanelReport report;
  panel::close_bites(mesh, 0.04, report);
  CHECK(report.holes_filled == 2);
  CHECK(std::abs(area_of(mesh) - area_of(plate)) < 1e-12);
  Mesh whole = panel::mend_sheet(plate, "a.stl", ignored);
  const panel::Triangles before = whole.triangles;
  PanelReport none;
  panel::close_bites(whole, 0.04, none);
  CHECK(none.holes_filled == 0);
  CHECK(whole.triangles == before);
}

// Source: derived. A frame stands across the skin along a line of nodes: at each of its edges three
// triangles meet, and it is the frame that has to go.
TEST_CASE("a frame grown onto a scan is taken off and the skin stays whole", "[panel][derived]") {
  const Mesh skin = testing::sphere_panel(0.5, 0.4, 2.0, 50, 40);
  Mesh both = skin;
  // A wall 30 mm high on the nodes of the middle row.
  const int row = 20 * 51, first = static_cast<int>(skin.nodes.rows());
  both.nodes.conservativeResize(first + 51, 3);
  both.triangles.conservativeResize(skin.triangles.rows() + 100, 3);
  for (int i = 0; i <= 50; ++i)
    both.nodes.row(first + i) = skin.nodes.row(row + i) - Eigen::RowVector3d(0.0, 0.004, 0.03);
  for (int i = 0; i < 50; ++i) {
    both.triangles.row(skin.triangles.rows() + 2 * i) << row + i, row + i + 1, first + i;
    both.triangles.row(skin.triangles.rows() + 2 * i + 1) << row + i + 1, first + i + 1, first + i;
  }
  PanelReport report;
  const Mesh mended = panel::mend_sheet(both, "a.stl", report, {false, true, 0.04});
  CHECK(mended.nodes == skin.nodes);
  CHECK(mended.triangles == skin.triangles);
  CHECK(report.dropped_triangles == 100);
}

// Source: derived. Areas and rims of a plate are kept by whatever collapses inside them; nodes that
// stand for many lie on the sphere but for the sag of the piece they stand for, l^2 / 8 R.
TEST_CASE("a fine mesh is made coarse and keeps rim, holes and place", "[panel][derived]") {
  const Mesh plate = testing::with_hole(testing::flat_plate(0.5, 0.4, 250, 200), 0.2, 0.2, 0.05);
  const Mesh coarse = panel::coarsened(plate, 0.006);
  CHECK(coarse.triangles.rows() < plate.triangles.rows() / 10);
  const auto loops = panel::boundary_loops(coarse.triangles);
  REQUIRE(loops.size() == 2);
  // Edges along the rim stay under half of the others': 1.8 m of rim, 0.314 m of hole.
  CHECK(loops[0].size() + loops[1].size() > 525);  // 2.1 m / 4 mm
  CHECK(std::abs(panel::mean_edge_length(coarse) / 0.009 - 1.0) < 0.15);
  CHECK(std::abs(area_of(coarse) / area_of(plate) - 1.0) < 2e-3);
  const Mesh ball = panel::coarsened(testing::sphere_panel(0.5, 0.4, 1.0, 250, 200), 0.006);
  double off = 0.0;
  for (Eigen::Index i = 0; i < ball.nodes.rows(); ++i)
    off = std::max(off, std::abs((ball.nodes.row(i) + Eigen::RowVector3d(0, 0, 1)).norm() - 1.0));
  CHECK(off < 0.012 * 0.012 / 8.0);
  CHECK(panel::worst_angle_degrees(ball) > 3.0);
}
