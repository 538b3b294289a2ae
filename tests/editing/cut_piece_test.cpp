// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/cut_piece.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "editing/laid.hpp"

using namespace calmplate;
using editing::cut_piece;

namespace {

job::WrittenPiece rectangle(double x, double y, double w, double h, double angle_deg = 0.0) {
  job::WrittenPiece out;
  out.sheets = {"butyl"};
  out.centre_mm = {x, y};
  out.size_mm = {w, h};
  out.angle_deg = angle_deg;
  return out;
}

double area_mm2(const job::WrittenPiece& piece) {
  return 1e6 * std::abs(panel::polygon_area(editing::corners_of(piece)));
}

}  // namespace

// Source: [derived] 300 mm cut 100 mm from the left: 100 and 200 mm, with their middles.
TEST_CASE("A square cut gives two rectangles that meet at the cut", "[editing][derived]") {
  const auto cut = cut_piece(rectangle(250, 200, 300, 100), {0.1999, 0.1}, {0.2001, 0.3});
  REQUIRE(cut.parts.size() == 2);
  CHECK(cut.parts[0].shape == job::Shape::rectangle);
  CHECK(cut.parts[0].centre_mm == Eigen::Vector2d(300, 200));
  CHECK(cut.parts[0].size_mm == Eigen::Vector2d(200, 100));
  CHECK(cut.parts[1].centre_mm == Eigen::Vector2d(150, 200));
  CHECK(cut.parts[1].size_mm == Eigen::Vector2d(100, 100));
}

// Source: [derived] nothing is lost: the areas add up and the parts share none. 1 um of rounding
// over cuts of up to 0.4 m leaves 0.5 mm2, twice; the job allows overlaps of 1 mm2.
TEST_CASE("The parts of any cut make up the piece and do not overlap", "[editing][derived]") {
  std::mt19937 random(5);
  const auto any = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() % 10001) / 10000.0;
  };
  int cut_ones = 0;
  for (int i = 0; i < 400; ++i) {
    job::WrittenPiece piece = rectangle(any(100, 500),
                                        any(100, 300),
                                        any(20, 400),
                                        any(20, 300),
                                        any(0, 1) < 0.5 ? 0.0 : any(-90, 90));
    if (i % 3 == 0) {  // a polygon that is not convex
      piece.shape = job::Shape::polygon;
      piece.outline_mm.resize(5, 2);
      piece.outline_mm << 100, 100, 400, 100, 400, 300, 250, any(120, 290), 100, 300;
    }
    const Eigen::Vector2d a(any(0.1, 0.5), any(0.1, 0.3)), b(any(0.1, 0.5), any(0.1, 0.3));
    const auto cut = cut_piece(piece, a, b);
    if (!cut.refusal.empty()) {
      CHECK(cut.parts.empty());
      CHECK(cut.refusal.find('\n') == std::string::npos);
      continue;
    }
    ++cut_ones;
    REQUIRE(cut.parts.size() == 2);
    const double first = area_mm2(cut.parts[0]), second = area_mm2(cut.parts[1]);
    CHECK(first + second == Approx(area_mm2(piece)).margin(1.0));
    CHECK(first >= second - 1.0);
    CHECK(1e6 * panel::overlap_area(editing::corners_of(cut.parts[0]),
                                    editing::corners_of(cut.parts[1])) <
          1.0);
  }
  CHECK(cut_ones > 200);
}

// Source: [derived] a U cut across its legs falls into three.
TEST_CASE("A line beside a piece or through two of its legs is refused", "[editing][derived]") {
  CHECK(cut_piece(rectangle(250, 200, 300, 100), {0.5, 0.0}, {0.5, 1.0}).refusal ==
        "the line does not cross the piece");
  CHECK(cut_piece(rectangle(250, 200, 300, 100), {0.2, 0.2}, {0.2, 0.2}).refusal ==
        "the line has no length");
  job::WrittenPiece u = rectangle(0, 0, 0, 0);
  u.shape = job::Shape::polygon;
  u.outline_mm.resize(8, 2);
  u.outline_mm << 0, 0, 300, 0, 300, 200, 200, 200, 200, 100, 100, 100, 100, 200, 0, 200;
  CHECK(cut_piece(u, {0.0, 0.15}, {0.3, 0.151}).refusal ==
        "the line cuts the piece in more than two parts");
  CHECK(cut_piece(u, {0.0, 0.05}, {0.3, 0.051}).parts.size() == 2);
}
