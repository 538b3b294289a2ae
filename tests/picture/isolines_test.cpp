// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/isolines.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace calmplate::picture {
namespace {

struct Square {
  std::vector<Point> points;
  std::vector<Triangle> triangles;
};

/// [-1, 1] x [-1, 1] in 2 n^2 triangles.
Square square(int n) {
  Square s;
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) s.points.push_back({2.0 * i / n - 1.0, 2.0 * j / n - 1.0});
  }
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      const int a = j * (n + 1) + i;
      s.triangles.push_back({a, a + 1, a + n + 2});
      s.triangles.push_back({a, a + n + 2, a + n + 1});
    }
  }
  return s;
}

}  // namespace

// Source: derived. The level line 0.25 of x^2 + y^2 is a circle of radius 0.5, length pi. The field
// is linear over triangles of side 0.05, so radius and length are right to about (0.05)^2.
TEST_CASE("a round hill has one closed round line", "[picture][derived]") {
  const Square s = square(40);
  std::vector<double> values;
  for (const Point& p : s.points) values.push_back(p.x * p.x + p.y * p.y);
  const auto lines = isolines(s.points, s.triangles, values, {0.25});
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].level == 0.25);
  for (const Point& p : lines[0].points) {
    CHECK(std::hypot(p.x, p.y) == Approx(0.5).margin(0.003));
  }
  CHECK(length_of(lines[0].points) == Approx(3.14159265).epsilon(0.005));
}

// Source: derived. The zero line of x is the square's middle, length 2; with the upper half NaN
// only the lower half of it is left.
TEST_CASE("lines end where the field does", "[picture][derived]") {
  const Square s = square(16);
  std::vector<double> values;
  for (const Point& p : s.points) values.push_back(p.x + 0.01);
  const auto whole = isolines(s.points, s.triangles, values, {0.0});
  REQUIRE(whole.size() == 1);
  CHECK(length_of(whole[0].points) == Approx(2.0).epsilon(1e-6));
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (s.points[k].y > 0.01) values[k] = std::numeric_limits<double>::quiet_NaN();
  }
  const auto half = isolines(s.points, s.triangles, values, {0.0});
  REQUIRE(half.size() == 1);
  CHECK(length_of(half[0].points) == Approx(1.0).epsilon(1e-6));
}

TEST_CASE("a label stands where its line is level", "[picture]") {
  std::vector<Point> arch;
  for (int k = 0; k <= 60; ++k) {
    const double angle = 3.14159265 * k / 60;
    arch.push_back({-10.0 * std::cos(angle), 10.0 * std::sin(angle)});
  }
  const Point at = label_place(arch);
  CHECK(at.y > 9.9);
  CHECK(std::abs(at.x) < 1.5);
}

TEST_CASE("a number of values that does not fit is refused", "[picture]") {
  const Square s = square(2);
  CHECK_THROWS_AS(isolines(s.points, s.triangles, {1.0}, {0.0}), std::invalid_argument);
}

}  // namespace calmplate::picture
