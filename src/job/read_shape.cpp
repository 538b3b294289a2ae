// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <string>

#include "base/units.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr Eigen::Index kPointLimit = 2000;
constexpr double kSmallestArea_m2 = 25e-6;
constexpr Range kAngle{-360.0, 360.0};  // degrees
constexpr double kLargestSide_mm = 10000.0;
constexpr int kCircleSides = 64;

double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
  return a.x() * b.y() - a.y() * b.x();
}

/// Which side of the line a-b the point c is on: -1, 0, 1.
int side(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& c) {
  const double area = cross(b - a, c - a);
  return area > 0.0 ? 1 : (area < 0.0 ? -1 : 0);
}

/// True if c, on the line a-b, lies between a and b.
bool between(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& c) {
  return (c - a).dot(c - b) <= 0.0;
}

/// True if the closed stretches a-b and c-d have a point in common.
bool meet(const Eigen::Vector2d& a,
          const Eigen::Vector2d& b,
          const Eigen::Vector2d& c,
          const Eigen::Vector2d& d) {
  const int c_side = side(a, b, c), d_side = side(a, b, d);
  const int a_side = side(c, d, a), b_side = side(c, d, b);
  if (c_side * d_side < 0 && a_side * b_side < 0) return true;
  return (c_side == 0 && between(a, b, c)) || (d_side == 0 && between(a, b, d)) ||
         (a_side == 0 && between(c, d, a)) || (b_side == 0 && between(c, d, b));
}

std::string sides_text(Eigen::Index i, Eigen::Index j, Eigen::Index n) {
  const auto one = [n](Eigen::Index k) {
    return std::to_string(k + 1) + "-" + std::to_string((k + 1) % n + 1);
  };
  return "point " + one(i) + " and " + one(j);
}

/// Refuses an outline that touches or crosses itself.
void check_simple(const TableReader& reader, const panel::Polygon& p) {
  const Eigen::Index n = p.rows();
  const auto at = [&p, n](Eigen::Index i) { return Eigen::Vector2d(p.row(i % n)); };
  for (Eigen::Index i = 0; i < n; ++i) {
    if (at(i) == at(i + 1))
      reader.fail("outline_mm",
                  "has the same point twice, at " + std::to_string(i + 1) + " and " +
                      std::to_string((i + 1) % n + 1),
                  "each corner once");
    const Eigen::Vector2d here = at(i + 1) - at(i), next = at(i + 2) - at(i + 1);
    if (side(at(i), at(i + 1), at(i + 2)) == 0 && here.dot(next) < 0.0)
      reader.fail("outline_mm",
                  "folds back on itself at point " + std::to_string((i + 1) % n + 1),
                  "an outline that does not touch itself");
    for (Eigen::Index j = i + 2; j < n; ++j)
      if ((j + 1) % n != i && meet(at(i), at(i + 1), at(j), at(j + 1)))
        reader.fail("outline_mm",
                    "crosses itself: the sides from " + sides_text(i, j, n) + " meet",
                    "an outline that does not touch itself");
  }
}

}  // namespace

panel::Polygon read_rectangle(TableReader& reader, double smallest_mm) {
  const Eigen::Vector2d centre = reader.point("centre_mm", kPosition);
  const Eigen::Vector2d size = reader.point("size_mm", {smallest_mm, kLargestSide_mm});
  const double angle_rad = reader.number_or("angle_deg", kAngle, 0.0);
  return panel::rectangle(centre, size, angle_rad);
}

panel::Polygon read_outline(TableReader& reader) {
  panel::Polygon outline = reader.points("outline_mm", kPosition);
  const Eigen::Index last = outline.rows() - 1;
  if (last >= 3 && outline.row(0) == outline.row(last)) outline.conservativeResize(last, 2);
  if (outline.rows() > kPointLimit)
    reader.fail("outline_mm",
                "has " + std::to_string(outline.rows()) + " points",
                "3 to " + std::to_string(kPointLimit));
  check_simple(reader, outline);
  const double area_m2 = std::abs(panel::polygon_area(outline));
  if (area_m2 < kSmallestArea_m2)
    reader.fail("outline_mm",
                "encloses " + plain_number(area_m2 * 1e6) + " mm2",
                "at least 25 mm2 (are the points in metres?)");
  return outline;
}

panel::Polygon read_circle(TableReader& reader) {
  const Eigen::Vector2d centre = reader.point("centre_mm", kPosition);
  const double diameter_m = reader.number("diameter_mm", {1.0, kLargestSide_mm});
  // Around the circle, so that no part of it is left uncovered.
  const double radius_m = 0.5 * diameter_m / std::cos(base::kPi / kCircleSides);
  panel::Polygon circle(kCircleSides, 2);
  for (int i = 0; i < kCircleSides; ++i) {
    const double angle = base::kTwoPi * i / kCircleSides;
    circle.row(i) = centre + radius_m * Eigen::Vector2d(std::cos(angle), std::sin(angle));
  }
  return circle;
}

}  // namespace calmplate::job
