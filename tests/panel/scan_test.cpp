// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/scan.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "changed_meshes.hpp"
#include "panel/flat_map.hpp"
#include "panel/topology.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::Mesh;
using panel::Panel;
using panel::PanelReport;

namespace {

constexpr double kRadius = 2.0;
constexpr double kSize = 0.02;

/// An invented scan: crowned skin, nodes 4 mm apart, a round hole of 120 mm.
Mesh clean_scan() {
  return testing::with_hole(testing::sphere_panel(0.5, 0.4, kRadius, 125, 100), 0.1, 0.05, 0.06);
}

Panel meshed(const Mesh& mesh, PanelReport& report) {
  panel::PanelOptions options;
  options.element_size_m = kSize;
  return panel::make_panel(mesh, options, "scan.ply", &report);
}

/// Signed height of every node over the sphere the scan was made from.
Eigen::VectorXd heights(const Panel& panel) {
  Eigen::VectorXd height(panel.mesh.nodes.rows());
  for (Eigen::Index i = 0; i < height.size(); ++i)
    height[i] =
        (panel.mesh.nodes.row(i).transpose() + Vector3d(0.0, 0.0, kRadius)).norm() - kRadius;
  return height;
}

/// Angles between the panel's normals and the sphere's, rad.
Eigen::VectorXd tilts(const Panel& panel) {
  Eigen::VectorXd tilt(panel.mesh.nodes.rows());
  for (Eigen::Index i = 0; i < tilt.size(); ++i) {
    const Vector3d radial =
        (panel.mesh.nodes.row(i).transpose() + Vector3d(0.0, 0.0, kRadius)).normalized();
    tilt[i] = std::acos(std::min(1.0, radial.dot(panel.normals.row(i).transpose())));
  }
  return tilt;
}

}  // namespace

TEST_CASE("a drawn mesh is not taken for a scan", "[panel]") {
  for (const double radius : {0.8, 2.0}) {
    PanelReport report;
    meshed(testing::sphere_panel(0.5, 0.4, radius, 60, 48), report);
    CHECK(report.noise_m < 1e-5);
    CHECK_FALSE(report.smoothed);
  }
}

// Source: derived. Some 75 scan points lie within an element's length of a node; a quadric through
// them leaves about a quarter of the noise at most, 0.1 mm of 0.3 mm, and the crown where it was.
TEST_CASE("a scan's noise is taken off and its crown kept", "[panel][derived]") {
  PanelReport report;
  const Panel panel = meshed(testing::with_noise(clean_scan(), 0.0003, 0.0003, 23), report);
  CHECK(report.smoothed);
  CHECK(std::abs(report.noise_m - 0.0003) < 0.0001);
  const Eigen::VectorXd height = heights(panel);
  CHECK(std::sqrt(height.squaredNorm() / static_cast<double>(height.size())) < 0.0001);
  CHECK(std::abs(height.mean()) < 2e-5);  // the crown is 26 mm high
  const Eigen::VectorXd tilt = tilts(panel);
  CHECK(std::sqrt(tilt.squaredNorm() / static_cast<double>(tilt.size())) < base::from_degrees(0.5));
  CHECK(tilt.maxCoeff() < base::from_degrees(2.5));
  PanelReport clean_report;
  const Panel clean = meshed(clean_scan(), clean_report);
  CHECK_FALSE(clean_report.smoothed);
  CAPTURE(panel.area_m2, clean.area_m2, panel.rim.back().length_m, clean.rim.back().length_m);
  CHECK(std::abs(panel.area_m2 / clean.area_m2 - 1.0) < 2e-3);
  REQUIRE(panel.rim.size() == 5);
  for (std::size_t i = 0; i < 4; ++i)
    CHECK(std::abs(panel.rim[i].length_m / clean.rim[i].length_m - 1.0) < 2e-3);
  CHECK(report.worst_angle_deg > 20.0);
}

// Source: derived. 40 triangles are taken out singly, 150 nodes doubled, 30 triangles turned, and a
// patch floats in the air.
TEST_CASE("a rough scan is mended: holes, doubled points, a loose island", "[panel][derived]") {
  Mesh scan = testing::with_noise(clean_scan(), 0.0003, 0.0002, 31);
  std::mt19937 generator(5);
  std::vector<Eigen::RowVector3i> kept;
  int taken = 0;
  for (Eigen::Index t = 0; t < scan.triangles.rows(); ++t) {
    // One of 500, well away from the rim and the hole.
    const Vector3d p = scan.nodes.row(scan.triangles(t, 0)).transpose();
    const bool inner = std::abs(p.x()) < 0.23 && std::abs(p.y()) < 0.18 &&
                       std::hypot(p.x() - 0.1, p.y() - 0.05) > 0.08;
    if (inner && t % 499 == 0) {
      ++taken;
      continue;
    }
    kept.push_back(scan.triangles.row(t));
    if (generator() % 200 == 0) kept.back().reverseInPlace();
  }
  REQUIRE(taken > 20);
  scan.triangles.resize(static_cast<Eigen::Index>(kept.size()), 3);
  for (std::size_t t = 0; t < kept.size(); ++t)
    scan.triangles.row(static_cast<Eigen::Index>(t)) = kept[t];
  const Mesh island = testing::moved(testing::flat_plate(0.03, 0.03, 6, 6), {0.0, 0.0, 0.05});
  PanelReport report;
  const Panel panel = meshed(testing::together(testing::as_soup(scan), island), report);
  CHECK(report.islands_dropped == 1);
  CHECK(report.dropped_triangles == 72);
  CHECK(report.holes_filled == taken);
  CHECK(report.flipped_triangles > 50);
  CHECK(report.duplicate_nodes > 50000);
  CHECK(report.smoothed);
  CHECK(panel.rim.size() == 5);
  CHECK(panel.rim.back().name == "hole-1");
  CHECK(std::abs(panel.rim.back().length_m / (base::kTwoPi * 0.06) - 1.0) < 0.08);
  CHECK(heights(panel).cwiseAbs().maxCoeff() < 0.0004);
}

// Source: derived. Limits of 2 sizes, 40 mm, and 1 mm mean width.
TEST_CASE("small holes and slits are closed, real ones stay", "[panel][derived]") {
  const Mesh plate = testing::flat_plate(0.5, 0.4, 125, 100);
  const auto holes_left = [&](double radius, double size, int& filled) {
    PanelReport report;
    const Mesh closed = panel::with_small_holes_closed(
        [&] {
          PanelReport ignored;
          return panel::without_slivers(
              panel::make_panel(testing::with_hole(plate, 0.2, 0.2, radius), {}, "a.stl").mesh,
              ignored);
        }(),
        std::min(2.0 * size, 0.04),
        report);
    filled = report.holes_filled;
    return panel::boundary_loops(closed.triangles).size() - 1;
  };
  int filled = 0;
  CHECK(holes_left(0.016, 0.03, filled) == 0);
  CHECK(filled == 1);
  CHECK(holes_left(0.016, 0.012, filled) == 1);  // 32 mm is over 2 x 12 mm
  CHECK(holes_left(0.026, 0.03, filled) == 1);   // over 40 mm
  CHECK(filled == 0);

  // A cut 100 mm long, opened by 0.4 mm in the middle row of a plate.
  Mesh cut = testing::as_soup(plate);
  for (Eigen::Index t = 0; t < cut.triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      const Eigen::Index n = 3 * t + k;
      const double mean_y = cut.nodes.middleRows(3 * t, 3).col(1).mean();
      const bool on_line = std::abs(cut.nodes(n, 1) - 0.2) < 1e-6;
      if (on_line && mean_y > 0.2 && cut.nodes(n, 0) > 0.201 && cut.nodes(n, 0) < 0.299)
        cut.nodes(n, 1) += 0.0004;
    }
  // Keep the means above from being spoilt by the shift: 0.4 mm is a tenth of a cell.
  const Panel open = panel::make_panel(cut, {}, "cut.stl");
  REQUIRE(open.rim.size() == 5);
  PanelReport report;
  const Mesh closed = panel::with_small_holes_closed(open.mesh, 0.04, report);
  CHECK(report.holes_filled == 1);
  CHECK(panel::boundary_loops(closed.triangles).size() == 1);
  CHECK(std::abs(panel::triangle_areas(closed).sum() - 0.2) < 1e-12);
}

// Source: derived. Filling a hole in a crown gives back the crown: the patch stays within the cap
// that a flat cover would cut off, d^2 / 8 R, and does better by far.
TEST_CASE("a patch over a hole carries the crown on", "[panel][derived]") {
  const Mesh mesh =
      testing::with_hole(testing::sphere_panel(0.5, 0.4, 0.5, 125, 100), 0.0, 0.0, 0.016);
  const Panel open = panel::make_panel(mesh, {}, "a.stl");
  PanelReport report;
  const Mesh closed = panel::with_small_holes_closed(open.mesh, 0.04, report);
  REQUIRE(report.holes_filled == 1);
  double worst = 0.0;
  int inside = 0;
  for (Eigen::Index i = 0; i < closed.nodes.rows(); ++i) {
    const Vector3d p = closed.nodes.row(i).transpose();
    if (p.head<2>().norm() > 0.012) continue;
    ++inside;
    worst = std::max(worst, std::abs((p + Vector3d(0.0, 0.0, 0.5)).norm() - 0.5));
  }
  CHECK(inside > 3);
  CHECK(worst < 0.25 * 0.032 * 0.032 / (8.0 * 0.5));
}

TEST_CASE("an evened-out mesh keeps its skin", "[panel]") {
  const Mesh mesh = testing::sphere_panel(0.5, 0.4, 2.0, 80, 64);
  const Mesh coarse = panel::evened_out(mesh, 0.02);
  CHECK(coarse.nodes.rows() < mesh.nodes.rows() / 3);
  CHECK(std::abs(panel::triangle_areas(coarse).sum() / panel::triangle_areas(mesh).sum() - 1.0) <
        5e-3);
}
