// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/area_image.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

namespace calmplate::picture {
namespace {

double total(const PixelGrid& grid) {
  return std::accumulate(grid.value.begin(), grid.value.end(), 0.0);
}

Outline box(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

}  // namespace

// Source: derived. The covers of all pixels add up to the area. Edges on eighths of a pixel are
// exact in y, any edge is exact in x.
TEST_CASE("pixel covers add up to the area, holes left out", "[picture][derived]") {
  const Outlines frame{box(1.3, 2.25, 8.7, 6.5), box(3.1, 3.5, 5.2, 5.0)};
  const PixelGrid cover = pixel_cover(frame, 10, 9);
  CHECK(total(cover) == Approx(7.4 * 4.25 - 2.1 * 1.5).epsilon(1e-12));
  CHECK(cover.at(1, 2) == Approx(0.7 * 0.75).epsilon(1e-12));
  CHECK(cover.at(4, 4) == 0.0);
  CHECK(cover.at(7, 4) == Approx(1.0).epsilon(1e-12));
  CHECK(cover.at(9, 4) == 0.0);
}

// Source: derived, area of a triangle. Tolerance: midpoint rule over eight lines a pixel is exact
// for straight edges but at the three corners.
TEST_CASE("a slanted edge is covered by its exact share", "[picture][derived]") {
  const Outlines triangle{{{1.0, 1.0}, {15.0, 3.0}, {4.0, 18.0}}};
  const double area = 0.5 * (14.0 * 17.0 - 3.0 * 2.0);
  CHECK(total(pixel_cover(triangle, 20, 20)) == Approx(area).epsilon(1e-3));
}

TEST_CASE("an outline beyond the image covers only what is on it", "[picture][derived]") {
  CHECK(total(pixel_cover({box(-5.0, -5.0, 3.5, 2.0)}, 10, 10)) == Approx(7.0).epsilon(1e-12));
  CHECK(total(pixel_cover({box(20.0, 20.0, 30.0, 30.0)}, 10, 10)) == 0.0);
}

TEST_CASE("a point is inside the rim and outside the hole", "[picture]") {
  const Outlines ring{box(0.0, 0.0, 10.0, 10.0), box(4.0, 4.0, 6.0, 6.0)};
  CHECK(inside(ring, {2.0, 5.0}));
  CHECK_FALSE(inside(ring, {5.0, 5.0}));
  CHECK_FALSE(inside(ring, {11.0, 5.0}));
}

// Source: derived. Linear interpolation reproduces a linear field at every pixel centre.
TEST_CASE("a linear field is read exactly at pixel centres", "[picture][derived]") {
  const std::vector<Point> points{{0.0, 0.0}, {12.0, 0.0}, {12.0, 8.0}, {0.0, 8.0}};
  const std::vector<Triangle> triangles{{0, 1, 2}, {0, 2, 3}};
  std::vector<double> values;
  for (const Point& p : points) values.push_back(3.0 + 2.0 * p.x - 0.5 * p.y);
  const PixelGrid grid = pixel_field(points, triangles, values, true, 12, 8);
  for (int j = 0; j < 8; ++j) {
    for (int i = 0; i < 12; ++i) {
      CHECK(grid.at(i, j) == Approx(3.0 + 2.0 * (i + 0.5) - 0.5 * (j + 0.5)).epsilon(1e-12));
    }
  }
}

TEST_CASE("a triangle with a NaN corner draws nothing", "[picture]") {
  const double none = std::numeric_limits<double>::quiet_NaN();
  const std::vector<Point> points{{0, 0}, {20, 0}, {20, 20}, {0, 20}};
  const PixelGrid grid =
      pixel_field(points, {{0, 1, 2}, {0, 2, 3}}, {1.0, none, 1.0, 1.0}, true, 20, 20);
  CHECK(grid.at(5, 15) == Approx(1.0));
  CHECK(std::isnan(grid.at(15, 5)));
}

TEST_CASE("a triangle's own value fills it, and reaches two pixels beyond", "[picture]") {
  const std::vector<Point> points{{2, 2}, {6, 2}, {6, 6}, {2, 6}};
  const PixelGrid grid = pixel_field(points, {{0, 1, 2}, {0, 2, 3}}, {7.0, 7.0}, false, 12, 12);
  CHECK(grid.at(3, 4) == 7.0);
  CHECK(grid.at(7, 4) == 7.0);
  CHECK(std::isnan(grid.at(8, 4)));
}

TEST_CASE("numbers of values that do not fit are refused", "[picture]") {
  const std::vector<Point> points{{0, 0}, {1, 0}, {0, 1}};
  CHECK_THROWS_AS(pixel_field(points, {{0, 1, 2}}, {1.0}, true, 4, 4), std::invalid_argument);
  CHECK_THROWS_AS(pixel_field(points, {{0, 1, 2}}, {1.0, 2.0}, false, 4, 4), std::invalid_argument);
  CHECK_THROWS_AS(
      colour_field(PixelGrid(2, 2, 0.0), PixelGrid(2, 3, 1.0), [](double) { return kBlack; }),
      std::invalid_argument);
  CHECK_THROWS_AS(PixelGrid(0, 3, 0.0), std::invalid_argument);
}

// Source: derived. Half black over white is mid grey, 127.5, rounded up; a moved image that hangs
// over the edge is cut.
TEST_CASE("one image is laid over another by its opacity", "[picture][derived]") {
  RgbaImage under = colour_area(PixelGrid(3, 2, 1.0), kWhite);
  const RgbaImage over = colour_area(PixelGrid(2, 2, 128.0 / 255.0), kBlack);
  lay_over(under, over, 2, -1);
  CHECK(int(under.bytes[4 * 2]) == 127);  // pixel (2, 0)
  CHECK(int(under.bytes[4 * 1]) == 255);
  CHECK(int(under.bytes[4 * 5]) == 255);  // pixel (2, 1)
}

}  // namespace calmplate::picture
