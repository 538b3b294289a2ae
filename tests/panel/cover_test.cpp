// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/cover.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "changed_meshes.hpp"
#include "panel/polygon.hpp"

using namespace calmplate;
using Eigen::Vector2d;
using panel::Polygon;
using panel::Region;

namespace {

double even(std::mt19937& generator) { return static_cast<double>(generator()) / 4294967296.0; }

Polygon polygon(std::initializer_list<Vector2d> corners) {
  Polygon out(static_cast<Eigen::Index>(corners.size()), 2);
  Eigen::Index i = 0;
  for (const Vector2d& p : corners) out.row(i++) = p.transpose();
  return out;
}

panel::Panel plate() {
  return panel::make_panel(testing::flat_plate(0.9, 0.6, 37, 23), {}, "plate.stl");
}

double area(const panel::Panel& panel, const Region& region) {
  return panel::covered_area(panel, panel::cover(panel, region));
}

Region inside(const Polygon& outline) {
  Region region;
  region.outline = outline;
  return region;
}

/// A star of five points about a middle: not convex. Area from its ten triangles.
Polygon star(const Vector2d& middle, double outer, double inner, double turn) {
  Polygon out(10, 2);
  for (int i = 0; i < 10; ++i) {
    const double angle = turn + base::kPi * i / 5.0, radius = i % 2 == 0 ? outer : inner;
    out.row(i) = (middle + radius * Vector2d(std::cos(angle), std::sin(angle))).transpose();
  }
  return out;
}
double star_area(double outer, double inner) {
  return 5.0 * outer * inner * std::sin(base::kPi / 5.0);
}

}  // namespace

// Source: derived. Wherever a rectangle lies on a flat panel it covers width times height.
TEST_CASE("a rectangle on a flat panel covers its own area", "[panel][derived]") {
  const panel::Panel panel = plate();
  std::mt19937 generator(5);
  for (int n = 0; n < 300; ++n) {
    const double w = 0.01 + 0.2 * even(generator), h = 0.01 + 0.2 * even(generator);
    const double reach = 0.5 * std::hypot(w, h);
    const Vector2d middle(reach + (0.9 - 2.0 * reach) * even(generator),
                          reach + (0.6 - 2.0 * reach) * even(generator));
    const Polygon piece = panel::rectangle(middle, {w, h}, base::kTwoPi * even(generator));
    CAPTURE(n, w, h);
    CHECK(std::abs(area(panel, inside(piece)) / (w * h) - 1.0) < 1e-12);
    CHECK(std::abs(panel::share_on_panel(panel, piece) - 1.0) < 1e-12);
  }
}

// Source: derived. Pieces that tile the map's bounding box cover every triangle once.
TEST_CASE("pieces that tile the map add up to the panel", "[panel][derived]") {
  const panel::Mesh meshes[] = {testing::annulus(0.1, 0.3, 7),
                                testing::sphere_panel(0.9, 0.6, 1.0, 17, 12),
                                testing::skew_plate(0.7, 0.9, 11)};
  for (const panel::Mesh& mesh : meshes) {
    const panel::Panel panel = panel::make_panel(mesh, {}, "tiled.stl");
    const int nx = 7, ny = 5;
    const Vector2d size(panel.flat.size().x() / nx, panel.flat.size().y() / ny);
    Eigen::VectorXd share = Eigen::VectorXd::Zero(panel.mesh.triangles.rows());
    double sum = 0.0;
    for (int i = 0; i < nx; ++i)
      for (int j = 0; j < ny; ++j) {
        const Vector2d middle((i + 0.5) * size.x(), (j + 0.5) * size.y());
        const auto covered = panel::cover(panel, inside(panel::rectangle(middle, size, 0.0)));
        sum += panel::covered_area(panel, covered);
        for (const auto& c : covered) {
          CHECK(c.fraction > 0.0);
          CHECK(c.fraction <= 1.0);
          share[c.triangle] += c.fraction;
        }
      }
    CHECK(std::abs(sum / panel.area_m2 - 1.0) < 1e-12);
    CHECK((share.array() - 1.0).abs().maxCoeff() < 1e-9);
  }
}

// Source: derived. Everything is every triangle, whole.
TEST_CASE("a region without outline covers every triangle wholly", "[panel][derived]") {
  const panel::Panel panel = plate();
  const auto covered = panel::cover(panel, {});
  REQUIRE(covered.size() == static_cast<std::size_t>(panel.mesh.triangles.rows()));
  for (std::size_t t = 0; t < covered.size(); ++t) {
    CHECK(covered[t].triangle == static_cast<int>(t));
    CHECK(covered[t].fraction == 1.0);
  }
}

// Source: derived. A star's area is that of the ten triangles about its middle; turning its sense
// round changes nothing.
TEST_CASE("a piece that is not convex covers its own area", "[panel][derived]") {
  const panel::Panel panel = plate();
  for (int n = 0; n < 20; ++n) {
    Polygon piece = star({0.45, 0.3}, 0.25, 0.08, 0.1 * n);
    if (n % 2 == 1) piece = piece.colwise().reverse().eval();
    CHECK(std::abs(area(panel, inside(piece)) / star_area(0.25, 0.08) - 1.0) < 1e-12);
  }
}

// Source: derived. Two squares of side 0.1 that overlap by 0.05 x 0.05 take 0.0175 away; a third
// that lies outside takes nothing.
TEST_CASE("holes that overlap are taken away once", "[panel][derived]") {
  const panel::Panel panel = plate();
  Region region = inside(panel::rectangle({0.45, 0.3}, {0.4, 0.3}, 0.0));
  region.holes = {panel::rectangle({0.45, 0.3}, {0.1, 0.1}, 0.0),
                  panel::rectangle({0.50, 0.35}, {0.1, 0.1}, 0.0),
                  panel::rectangle({0.10, 0.1}, {0.1, 0.1}, 0.3)};
  CHECK(std::abs(area(panel, region) - (0.12 - 0.0175)) < 1e-13);
  // Half in the piece, half out: only the half inside counts.
  region.holes = {panel::rectangle({0.25, 0.3}, {0.1, 0.1}, 0.0)};
  CHECK(std::abs(area(panel, region) - (0.12 - 0.005)) < 1e-13);
  // Holes in everything, and in a piece that is not convex.
  Region all;
  all.holes = {panel::rectangle({0.45, 0.3}, {0.1, 0.1}, 0.0),
               panel::rectangle({0.50, 0.35}, {0.1, 0.1}, 0.0)};
  CHECK(std::abs(area(panel, all) - (0.54 - 0.0175)) < 1e-12);
  Region starry = inside(star({0.45, 0.3}, 0.25, 0.12, 0.3));
  starry.holes = {panel::rectangle({0.45, 0.3}, {0.1, 0.1}, 0.2)};
  CHECK(std::abs(area(panel, starry) - (star_area(0.25, 0.12) - 0.01)) < 1e-13);
  // A hole that swallows the piece leaves nothing, convex or not.
  starry.holes = {panel::rectangle({0.45, 0.3}, {0.8, 0.55}, 0.0)};
  CHECK(panel::cover(panel, starry).empty());
  region.holes = starry.holes;
  CHECK(panel::cover(panel, region).empty());
}

// Source: derived. Overhang: a rectangle with its middle on the rim lies half on the panel.
TEST_CASE("the share on the panel leaves out what hangs over", "[panel][derived]") {
  const panel::Panel panel = plate();
  CHECK(std::abs(panel::share_on_panel(panel, panel::rectangle({0.0, 0.3}, {0.2, 0.1}, 0.0)) -
                 0.5) < 1e-12);
  CHECK(std::abs(panel::share_on_panel(panel, panel::rectangle({0.9, 0.6}, {0.2, 0.1}, 0.0)) -
                 0.25) < 1e-12);
  CHECK(panel::share_on_panel(panel, panel::rectangle({1.5, 0.3}, {0.2, 0.1}, 0.0)) == 0.0);
  CHECK(panel::share_on_panel(panel, panel::rectangle({0.5, 0.3}, {0.2, 0.1}, 0.7)) == 1.0);
}

// Source: derived. Areas by hand.
TEST_CASE("two polygons share what lies in both", "[panel][derived]") {
  const Polygon a = panel::rectangle({0.0, 0.0}, {2.0, 2.0}, 0.0);
  CHECK(std::abs(panel::overlap_area(a, panel::rectangle({1.0, 1.0}, {2.0, 2.0}, 0.0)) - 1.0) <
        1e-14);
  // A unit square on its corner has its corners at half the diagonal, 0.7071 out.
  CHECK(std::abs(panel::overlap_area(a, panel::rectangle({0.0, 0.0}, {1.0, 1.0}, base::kPi / 4.0)) -
                 1.0) < 1e-14);
  CHECK(panel::overlap_area(a, panel::rectangle({3.0, 0.0}, {1.0, 1.0}, 0.0)) == 0.0);
  // Two U's, one upside down, with the same two arms of 1 x 2.
  const Polygon u = polygon({{0, 0}, {3, 0}, {3, 3}, {2, 3}, {2, 1}, {1, 1}, {1, 3}, {0, 3}});
  const Polygon n = polygon({{0, 1}, {0, 4}, {3, 4}, {3, 1}, {2, 1}, {2, 3}, {1, 3}, {1, 1}});
  CHECK(std::abs(panel::overlap_area(u, n) - 4.0) < 1e-12);
  CHECK(std::abs(panel::overlap_area(u, u) - 7.0) < 1e-12);
  CHECK(std::abs(panel::overlap_area(u, a) - 1.0) < 1e-14);
}

TEST_CASE("a rectangle turns about its middle, anticlockwise", "[panel]") {
  const Polygon r = panel::rectangle({1.0, 2.0}, {0.4, 0.2}, base::kPi / 2.0);
  CHECK((r.colwise().mean() - Eigen::RowVector2d(1.0, 2.0)).norm() < 1e-15);
  CHECK((r.row(0) - Eigen::RowVector2d(1.1, 1.8)).norm() < 1e-15);
  CHECK(std::abs(panel::polygon_area(r) - 0.08) < 1e-15);
}

TEST_CASE("regions that make no sense are refused", "[panel]") {
  const panel::Panel panel = plate();
  Region region;
  region.rim_margin_m = -0.01;
  CHECK_THROWS_AS(panel::cover(panel, region), std::invalid_argument);
  region.rim_margin_m = NAN;
  CHECK_THROWS_AS(panel::outlines(panel, region), std::invalid_argument);
  CHECK_THROWS_AS(panel::cover(panel, inside(polygon({{0, 0}, {1, 1}}))), std::invalid_argument);
  CHECK_THROWS_AS(panel::cover(panel, inside(polygon({{0, 0}, {1, 0}, {NAN, 1}}))),
                  std::invalid_argument);
  CHECK_THROWS_AS(panel::covered_area(panel, {{-1, 1.0}}), std::out_of_range);
  // A bow tie crosses itself: the exact operations notice.
  Region bow = inside(polygon({{0.1, 0.1}, {0.3, 0.3}, {0.3, 0.1}, {0.1, 0.25}}));
  CHECK_THROWS_AS(panel::outlines(panel, bow), std::invalid_argument);
}

// Source: derived. A hole strictly inside a square leaves a ring.
TEST_CASE("exact differences come back as signed loops", "[panel][derived]") {
  using panel::Corners;
  const Corners square = panel::to_corners(panel::rectangle({0.0, 0.0}, {2.0, 2.0}, 0.0));
  const Corners small = panel::to_corners(panel::rectangle({0.0, 0.0}, {1.0, 1.0}, 0.4));
  const auto loops = panel::subtracted({square}, {small});
  REQUIRE(loops.size() == 2);
  CHECK(std::abs(panel::signed_area(loops[0]) - 4.0) < 1e-14);
  CHECK(std::abs(panel::signed_area(loops[1]) + 1.0) < 1e-14);
  CHECK(panel::is_convex(square));
  CHECK_FALSE(panel::is_convex(panel::to_corners(star({0, 0}, 1.0, 0.4, 0.0))));
}
