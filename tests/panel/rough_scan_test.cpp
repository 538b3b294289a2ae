// SPDX-License-Identifier: GPL-3.0-or-later
// Whole scans through make_panel: what must come out, and what must be refused.
#include "support/rough_scan.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "base/input_error.hpp"
#include "changed_meshes.hpp"
#include "panel/panel.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::Mesh;
using panel::Panel;
using panel::PanelReport;

namespace {

panel::PanelOptions meshed_with(double element_m) {
  panel::PanelOptions options;
  options.element_size_m = element_m;
  return options;
}

std::string refusal(const Mesh& scan) {
  try {
    panel::make_panel(scan, meshed_with(0.012), "scan.stl");
  } catch (const base::InputError& fault) {
    CHECK(std::string(fault.what()).find('\n') == std::string::npos);
    return fault.what();
  }
  return "accepted";
}

/// One face of a box: a grid from a corner along two sides.
Mesh face(const Vector3d& corner, const Vector3d& a, const Vector3d& b, int n) {
  return testing::grid(n, n, [&](double u, double v) { return Vector3d(corner + u * a + v * b); });
}

Mesh box(double a, double b, double c, int n) {
  const Vector3d o = Vector3d::Zero(), x(a, 0, 0), y(0, b, 0), z(0, 0, c);
  Mesh all = testing::together(face(o, y, x, n), face(z, x, y, n));
  all = testing::together(all, testing::together(face(o, x, z, n), face(y, z, x, n)));
  return testing::together(all, testing::together(face(o, z, y, n), face(x, y, z, n)));
}

}  // namespace

// Source: derived. A crown is put in and noise over it: the curvatures of the whole panel are 1 /
// R, or 0 along a cylinder; the mean height over a rim plane is what it was.
TEST_CASE("smoothing keeps the crown of spheres and cylinders within one percent",
          "[panel][derived]") {
  const double radius = GENERATE(0.9, 2.0, 4.0);
  const bool sphere = GENERATE(true, false);
  CAPTURE(radius, sphere);
  const Mesh shape = sphere ? testing::sphere_panel(0.5, 0.4, radius, 160, 130)
                            : testing::cylinder_panel(0.5, 0.4, radius, 160, 130);
  PanelReport report;
  panel::make_panel(testing::roughened(shape, {}), meshed_with(0.02), "scan.stl", &report);
  REQUIRE(report.smoothed);
  CHECK(std::abs(report.noise_m / 0.0003 - 1.0) < 0.05);
  const panel::Crown &before = report.scanned, &after = report.kept;
  CHECK(std::abs(after.mean_height_m / before.mean_height_m - 1.0) < 0.01);
  CHECK(std::abs(after.mean_curvature() / before.mean_curvature() - 1.0) < 0.01);
  // A sphere's mean over the panel is a little above 1 / R, by the share of (r / R)^2.
  const double expected = (sphere ? 1.0 : 0.5) / radius;
  CHECK(std::abs(after.mean_curvature() / expected - 1.0) < 0.01 + 0.1 / (radius * radius));
  if (!sphere) CHECK(std::abs(after.along_1_m) < 0.01 / radius);
}

// Source: derived. With the noise said to be 0 the points stay as they are; said to be what it is,
// the same comes out as when it is measured.
TEST_CASE("a scan's noise may be given", "[panel][derived]") {
  const Mesh scan = testing::roughened(testing::sphere_panel(0.5, 0.4, 2.0, 100, 80), {});
  panel::PanelOptions options = meshed_with(0.02);
  const auto roughness = [&](PanelReport& report) {
    const Panel panel = panel::make_panel(scan, options, "scan.stl", &report);
    double square = 0.0;
    for (Eigen::Index i = 0; i < panel.mesh.nodes.rows(); ++i) {
      const Vector3d p = panel.mesh.nodes.row(i).transpose() + Vector3d(0.0, 0.0, 2.0);
      square += std::pow(p.norm() - 2.0, 2) / static_cast<double>(panel.mesh.nodes.rows());
    }
    return std::sqrt(square);
  };
  PanelReport measured, given, none;
  const double smooth = roughness(measured);
  options.scan_noise_m = 0.0003;
  CHECK(roughness(given) < 1.2 * smooth);
  CHECK(given.smoothed);
  CHECK(given.noise_m == 0.0003);
  options.scan_noise_m = 0.0;
  CHECK(roughness(none) > 3.0 * smooth);
  CHECK_FALSE(none.smoothed);
  options.scan_noise_m = -1.0;
  CHECK_THROWS_AS(panel::make_panel(scan, options, "scan.stl"), std::invalid_argument);
}

// Source: derived. Holes of 30 and 60 mm: which of them counts is for the job to say.
TEST_CASE("real holes of a scan stay by their size", "[panel][derived]") {
  Mesh shape = testing::sphere_panel(0.5, 0.4, 2.0, 160, 130);
  shape = testing::with_hole(testing::with_hole(shape, -0.1, 0.0, 0.015), 0.1, 0.0, 0.03);
  const Mesh scan = testing::roughened(shape, {});
  const auto holes = [&](double element_m, std::optional<double> smallest_m) {
    panel::PanelOptions options = meshed_with(element_m);
    options.smallest_hole_m = smallest_m;
    return panel::make_panel(scan, options, "scan.stl").rim.size() - 4;
  };
  CHECK(holes(0.012, std::nullopt) == 2);  // those under 24 mm go
  CHECK(holes(0.020, std::nullopt) == 1);  // those under 40 mm go
  CHECK(holes(0.020, 0.025) == 2);
  CHECK(holes(0.020, 0.045) == 1);
  CHECK(holes(0.020, 0.08) == 0);
}

TEST_CASE("a scan of something that is no sheet is refused in one line", "[panel]") {
  CHECK(refusal(box(0.6, 0.4, 0.3, 40)) ==
        "scan.stl: is a closed body without a rim; allowed: an open sheet, such as the outer face "
        "alone");
  Mesh octahedron{panel::Nodes(6, 3), panel::Triangles(8, 3)};
  octahedron.nodes << 1, 0, 0, -1, 0, 0, 0, 1, 0, 0, -1, 0, 0, 0, 1, 0, 0, -1;
  octahedron.nodes *= 0.4;
  octahedron.triangles << 0, 2, 4, 2, 1, 4, 1, 3, 4, 3, 0, 4, 2, 0, 5, 1, 2, 5, 3, 1, 5, 0, 3, 5;
  CHECK_THAT(refusal(testing::roughened(testing::subdivided(octahedron, 5), {})),
             Catch::StartsWith("scan.stl: is all but a closed body: its longest rim is ") &&
                 Catch::EndsWith("mm for 1.1 m2 of surface; allowed: an open sheet, such as the "
                                 "outer face alone"));
  // Shards: 400 squares of 10 mm anywhere in a cube.
  std::mt19937 generator(3);
  const auto draw = [&] { return static_cast<double>(generator()) / 4294967296.0; };
  Mesh shards = testing::flat_plate(0.01, 0.01, 1, 1);
  for (int i = 1; i < 400; ++i)
    shards = testing::together(
        shards,
        testing::moved(testing::flat_plate(0.01, 0.01, 1, 1), Vector3d(draw(), draw(), draw())));
  CHECK(refusal(shards) ==
        "scan.stl: is in 400 loose pieces, and the largest holds only 0 % of the area; allowed: "
        "one sheet with at least a quarter of it");
  const Mesh rod = testing::grid(24, 200, [](double u, double v) {
    const double angle = base::kTwoPi * u;
    return Vector3d(0.01 * std::cos(angle), 0.01 * std::sin(angle), v);
  });
  CHECK(refusal(rod) ==
        "scan.stl: is a rod or a strip, 1000 mm long and 20 mm across; allowed: a skin at least a "
        "twentieth as wide as it is long");
  // A stack of plates grown together along many edges.
  Mesh comb = testing::flat_plate(0.5, 0.4, 25, 20);
  for (int i = 0; i < 25; ++i)
    comb = testing::together(comb, testing::grid(20, 1, [&](double u, double v) {
                               return Vector3d(0.02 * i, 0.4 * u, 0.02 * v);
                             }));
  CHECK_THAT(refusal(comb),
             Catch::StartsWith("scan.stl: is no sheet: ") &&
                 Catch::EndsWith("of its edges have three or more triangles; allowed: one or two "
                                 "triangles at an edge"));
}

TEST_CASE("the same scan gives the same bytes, fine ones too", "[panel]") {
  const Mesh scan = testing::roughened(testing::sphere_panel(0.5, 0.4, 2.0, 250, 200), {});
  const Panel one = panel::make_panel(scan, meshed_with(0.02), "scan.stl");
  const Panel two = panel::make_panel(scan, meshed_with(0.02), "scan.stl");
  CHECK(one.mesh.nodes == two.mesh.nodes);
  CHECK(one.mesh.triangles == two.mesh.triangles);
}
