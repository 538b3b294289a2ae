// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/remesh.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>

#include "changed_meshes.hpp"
#include "panel/cover.hpp"
#include "panel/panel.hpp"
#include "panel/plane_mesh.hpp"
#include "panel/rim_sampling.hpp"
#include "panel/topology.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::Panel;

namespace {

Panel meshed(const panel::Mesh& mesh, double size, panel::PanelReport* report = nullptr) {
  panel::PanelOptions options;
  options.element_size_m = size;
  return panel::make_panel(mesh, options, "door.stl", report);
}

double rim_length(const Panel& panel) {
  double sum = 0.0;
  for (const auto& part : panel.rim) sum += part.length_m;
  return sum;
}

bool same_bytes(const panel::Mesh& a, const panel::Mesh& b) {
  return a.nodes.rows() == b.nodes.rows() && a.triangles.rows() == b.triangles.rows() &&
         std::memcmp(a.nodes.data(), b.nodes.data(), sizeof(double) * a.nodes.size()) == 0 &&
         std::memcmp(a.triangles.data(), b.triangles.data(), sizeof(int) * a.triangles.size()) == 0;
}

}  // namespace

// Source: derived. Two meshes of one skin have one area and one rim; chords cut off e^2 / 24 R^2 of
// a curved rim's length and e^2 / 8 R of its depth.
TEST_CASE("a crowned skin meshed anew keeps area, rim and crown", "[panel][derived]") {
  const panel::Mesh mesh = testing::sphere_panel(0.9, 0.6, 1.5, 60, 40);
  const double size = GENERATE(0.015, 0.025, 0.04);
  const Panel before = panel::make_panel(mesh, {}, "door.stl");
  panel::PanelReport report;
  const Panel after = meshed(mesh, size, &report);
  CAPTURE(size, after.element_size_m, report.worst_angle_deg);
  CHECK(report.remeshed);
  CHECK_FALSE(report.smoothed);
  CHECK(std::abs(after.area_m2 / before.area_m2 - 1.0) < 1e-3);
  CHECK(std::abs(rim_length(after) / rim_length(before) - 1.0) < 2e-3);
  CHECK(std::abs(after.element_size_m / size - 1.0) < 0.05);
  CHECK(report.worst_angle_deg > 20.0);
  CHECK(after.rim.size() == 4);
  double off = 0.0;
  for (Eigen::Index i = 0; i < after.mesh.nodes.rows(); ++i)
    off = std::max(
        off,
        std::abs((after.mesh.nodes.row(i).transpose() + Vector3d(0.0, 0.0, 1.5)).norm() - 1.5));
  // The facets that were read lie below the sphere by up to their diagonal's square over 8 R.
  CHECK(off < 0.022 * 0.022 / (8.0 * 1.5));
}

// Source: derived. Straight rims lose nothing at all.
TEST_CASE("a flat plate of two triangles becomes an even mesh of the same plate",
          "[panel][derived]") {
  panel::PanelReport report;
  const Panel panel = meshed(testing::flat_plate(0.9, 0.6, 1, 1), 0.02, &report);
  CHECK(std::abs(panel.area_m2 - 0.54) < 1e-13);
  CHECK(std::abs(rim_length(panel) - 3.0) < 1e-13);
  CHECK(std::abs(panel.element_size_m / 0.02 - 1.0) < 0.05);
  CHECK(report.worst_angle_deg > 25.0);
  CHECK(panel.rim[0].nodes.size() == 46);
  int even_triangles = 0;
  for (Eigen::Index t = 0; t < panel.mesh.triangles.rows(); ++t) {
    const panel::Mesh one{panel.mesh.nodes, panel.mesh.triangles.middleRows(t, 1)};
    even_triangles += panel::worst_angle_degrees(one) > 50.0 ? 1 : 0;
  }
  CHECK(even_triangles > 0.9 * static_cast<double>(panel.mesh.triangles.rows()));
}

// Source: derived. A polygon of n chords on a circle has the area n/2 r^2 sin(2 pi / n).
TEST_CASE("round rims and holes are divided evenly", "[panel][derived]") {
  const Panel panel = meshed(testing::annulus(0.08, 0.3, 30), 0.02);
  REQUIRE(panel.rim.size() == 2);
  const double n = static_cast<double>(panel.rim[0].nodes.size() - 1);
  const double m = static_cast<double>(panel.rim[1].nodes.size() - 1);
  CHECK(n == std::round(base::kTwoPi * 0.3 / 0.02));
  CHECK(m == std::round(base::kTwoPi * 0.08 / 0.02));
  for (const auto& part : panel.rim) {
    const double even = part.length_m / static_cast<double>(part.nodes.size() - 1);
    for (std::size_t i = 0; i + 1 < part.nodes.size(); ++i)
      CHECK(std::abs((panel.mesh.nodes.row(part.nodes[i + 1]) - panel.mesh.nodes.row(part.nodes[i]))
                             .norm() /
                         even -
                     1.0) < 0.01);
  }
  const double expected =
      0.5 * n * 0.09 * std::sin(base::kTwoPi / n) - 0.5 * m * 0.0064 * std::sin(base::kTwoPi / m);
  CHECK(std::abs(panel.area_m2 / expected - 1.0) < 1e-3);
}

TEST_CASE("the same input gives the same bytes", "[panel]") {
  const panel::Mesh mesh =
      testing::with_hole(testing::sphere_panel(0.5, 0.4, 1.0, 50, 40), 0.1, 0.05, 0.06);
  const panel::Mesh rough = testing::with_noise(mesh, 0.0005, 0.0003, 9);
  for (const panel::Mesh& raw : {mesh, rough}) {
    const Panel one = meshed(raw, 0.02), two = meshed(raw, 0.02);
    CHECK(same_bytes(one.mesh, two.mesh));
    CHECK(one.flat.points() == two.flat.points());
    CHECK(one.normals == two.normals);
  }
}

// Source: derived. A bridge of 10 mm between a hole and the rim, under elements of 30 mm: no length
// of rim beside it may be over 10 mm / 0.75. Where 7.5 mm meet 30 mm, angles of 18 degrees are to
// be had.
TEST_CASE("a narrow bridge gets triangles of its own size", "[panel][derived]") {
  const panel::Mesh mesh =
      testing::only(testing::flat_plate(0.6, 0.4, 120, 80), [](const Vector3d& p) {
        return !(p.x() > 0.01 && p.x() < 0.2 && p.y() > 0.1 && p.y() < 0.3);
      });
  panel::PanelReport report;
  const Panel panel = meshed(mesh, 0.03, &report);
  CHECK(std::abs(panel.area_m2 - (0.24 - 0.19 * 0.2)) < 1e-12);
  CHECK(report.worst_angle_deg > 18.0);
  REQUIRE(panel.rim.size() == 5);
  REQUIRE(panel.rim[3].name == "left");
  const auto& left = panel.rim[3].nodes;
  int beside = 0;
  for (std::size_t i = 0; i + 1 < left.size(); ++i) {
    const double from = panel.mesh.nodes(left[i], 1), to = panel.mesh.nodes(left[i + 1], 1);
    if (from > 0.3 || to < 0.1) continue;
    ++beside;
    CHECK(from - to < 0.01 / 0.75);
  }
  CHECK(beside > 15);
}

TEST_CASE("rim samples keep the corners and divide the sides evenly", "[panel]") {
  const panel::Mesh mesh = testing::flat_plate(0.9, 0.6, 37, 23);
  const panel::FlatPoints flat = mesh.nodes.leftCols<2>();
  const auto loops = panel::sample_rim(mesh, flat, 0.1, false);
  REQUIRE(loops.size() == 1);
  REQUIRE(loops[0].size() == 30);
  for (std::size_t i = 0; i < 30; ++i) {
    const double step = (loops[0][(i + 1) % 30].place - loops[0][i].place).norm();
    CHECK(std::abs(step - 0.1) < 1e-12);
    CHECK((loops[0][i].place.head<2>() - loops[0][i].flat).norm() < 1e-15);
  }
}

TEST_CASE("loops that cross cannot be filled", "[panel]") {
  const panel::FlatPoints outer = panel::rectangle({0.5, 0.5}, {1.0, 1.0}, 0.0);
  const panel::FlatPoints hole = panel::rectangle({0.9, 0.5}, {0.4, 0.4}, 0.0);
  CHECK_THROWS_AS(panel::mesh_between({outer, hole}, 0.1), std::invalid_argument);
  CHECK_THROWS_AS(panel::mesh_between({outer, outer}, 0.1), std::invalid_argument);
  const panel::FlatPoints inside = panel::rectangle({0.5, 0.5}, {0.4, 0.4}, 0.2);
  const panel::PlaneMesh plane = panel::mesh_between({outer, inside}, 0.1);
  panel::Mesh mesh{panel::Nodes::Zero(plane.points.rows(), 3), plane.triangles};
  mesh.nodes.leftCols<2>() = plane.points;
  CHECK(std::abs(panel::triangle_areas(mesh).sum() - 0.84) < 1e-13);
  CHECK((plane.points.topRows(4) - outer).norm() == 0.0);
  CHECK((plane.points.middleRows(4, 4) - inside).norm() == 0.0);
}
