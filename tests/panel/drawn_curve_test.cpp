// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/drawn_curve.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/units.hpp"
#include "drawings.hpp"

using namespace calmplate;
using Eigen::Vector2d;
using panel::DrawnCurve;

namespace {

panel::ClosedLine rectangle(double radius) {
  panel::ClosedLine line = testing::drawn_rectangle(1.0, 0.6, 0.02).outline;
  line.radius_m.assign(4, radius);
  return line;
}

std::string refusal(const panel::ClosedLine& line) {
  try {
    DrawnCurve curve(line);
  } catch (const base::InputError& fault) {
    return fault.what();
  }
  return "it was taken";
}

/// Largest turn between two stretches that follow each other, degrees.
double largest_kink(const DrawnCurve& curve) {
  double worst = 0.0;
  const auto& s = curve.stretches();
  for (std::size_t i = 0; i < s.size(); ++i) {
    const Vector2d in = s[i].tangent(s[i].length()), out = s[(i + 1) % s.size()].tangent(0.0);
    worst = std::max(worst, std::abs(std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out))));
  }
  return worst * 180.0 / base::kPi;
}

}  // namespace

// Source: derived. Four quarter circles take (4 - pi) r^2 off a rectangle and shorten it by
// (8 - 2 pi) r.
TEST_CASE("rounded corners have their area and length", "[panel][derived]") {
  const double r = GENERATE(0.0, 0.05, 0.3);
  const DrawnCurve curve(rectangle(r));
  CHECK(std::abs(curve.area() - (0.6 - (4.0 - base::kPi) * r * r)) < 1e-12);
  CHECK(std::abs(curve.length() - (3.2 - (8.0 - base::kTwoPi) * r)) < 1e-12);
  CHECK(curve.corners().size() == (r == 0.0 ? 4U : 0U));
  if (r > 0.0) CHECK(largest_kink(curve) < 1e-9);
}

// Source: derived. A segment of sagitta s over a chord c: R = (c^2/4 + s^2) / 2s, angle 4
// atan(2s/c), area R^2 (angle - sin angle) / 2.
TEST_CASE("a bowed side is an arc with that sagitta, outwards or inwards", "[panel][derived]") {
  const double s = GENERATE(0.03, -0.03, 0.2);
  panel::ClosedLine line = rectangle(0.0);
  line.bow_m[1] = s;
  const DrawnCurve curve(line);
  const double radius = (0.09 + s * s) / (2.0 * std::abs(s)),
               angle = 4.0 * std::atan(std::abs(s) / 0.3);
  const double segment = 0.5 * radius * radius * (angle - std::sin(angle));
  CHECK(std::abs(curve.area() - (0.6 + (s > 0.0 ? segment : -segment))) < 1e-12);
  const Vector2d middle = curve.at(1.0 + 0.5 * radius * angle);
  CHECK((middle - Vector2d(1.0 + s, 0.3)).norm() < 1e-12);
}

// Source: derived. The rounding touches line and arc alike: no kink, at its radius from its centre.
TEST_CASE("a corner between a line and an arc, or two arcs, is rounded without a kink",
          "[panel][derived]") {
  panel::ClosedLine line = rectangle(0.06);
  line.bow_m = {0.02, -0.04, 0.05, 0.0};
  const DrawnCurve curve(line);
  CHECK(largest_kink(curve) < 1e-9);
  int rounded = 0;
  for (const panel::Stretch& s : curve.stretches()) {
    if (std::abs(s.radius_m - 0.06) > 1e-12) continue;
    ++rounded;
    CHECK(std::abs((s.to - s.centre).norm() - 0.06) < 1e-12);
  }
  CHECK(rounded == 4);
}

// Source: derived. A hollow corner is rounded on its other side and gains area.
TEST_CASE("a hollow corner is rounded too", "[panel][derived]") {
  panel::FlatPoints corners(6, 2);
  corners << 0.0, 0.0, 1.0, 0.0, 1.0, 0.3, 0.5, 0.3, 0.5, 0.6, 0.0, 0.6;
  panel::ClosedLine line = testing::closed_line(corners);
  line.radius_m[3] = 0.1;
  const DrawnCurve curve(line);
  CHECK(std::abs(curve.area() - (0.45 + (1.0 - base::kPi / 4.0) * 0.01)) < 1e-12);
}

// Source: derived. The same line the other way round is the same curve.
TEST_CASE("the sense in which an outline is drawn does not matter", "[panel][derived]") {
  panel::ClosedLine line = rectangle(0.0);
  line.radius_m = {0.01, 0.02, 0.03, 0.04};
  line.bow_m = {0.005, 0.006, -0.007, 0.008};
  panel::ClosedLine back = line;
  back.corners = line.corners.colwise().reverse().eval();
  back.radius_m = {0.04, 0.03, 0.02, 0.01};
  back.bow_m = {-0.007, 0.006, 0.005, 0.008};
  const DrawnCurve one(line), two(back);
  CHECK(std::abs(one.area() - two.area()) < 1e-14);
  CHECK(std::abs(one.length() - two.length()) < 1e-14);
}

// Source: derived. Circle and slot by their own formulas.
TEST_CASE("a circle and a slot are curves without corners", "[panel][derived]") {
  const DrawnCurve round(panel::circle({0.3, 0.2}, 0.16));
  CHECK(std::abs(round.area() - base::kPi * 0.0064) < 1e-14);
  CHECK(std::abs(round.length() - base::kPi * 0.16) < 1e-14);
  CHECK(round.corners().empty());
  for (int k = 0; k < 20; ++k)
    CHECK(std::abs((round.at(round.length() * k / 20.0) - Vector2d(0.3, 0.2)).norm() - 0.08) <
          1e-14);
  const DrawnCurve slot(panel::slot({0.3, 0.2}, 0.1, 0.04, 0.7));
  CHECK(std::abs(slot.area() - (0.06 * 0.04 + base::kPi * 0.0004)) < 1e-14);
  CHECK(std::abs(slot.length() - (0.12 + base::kPi * 0.04)) < 1e-14);
  CHECK(slot.corners().empty());
}

// Source: [practice] common practice, no source: one line with place, fault and remedy.
TEST_CASE("a line that is no outline is refused in one line", "[panel][practice]") {
  const std::string head = "door.toml:5: panel.outline_mm: ";
  panel::ClosedLine line = rectangle(0.0);
  line.radius_m[2] = 0.7;
  CHECK(refusal(line) ==
        head +
            "the side from point 2 to 3 is 600 mm long, and the rounding of its corners needs "
            "700 mm; allowed: smaller corner radii");
  line = rectangle(0.31);
  CHECK(refusal(line) ==
        head +
            "the side from point 2 to 3 is 600 mm long, and the rounding of its corners needs "
            "620 mm; allowed: smaller corner radii");
  line = rectangle(0.0);
  line.bow_m[3] = 0.31;
  CHECK(refusal(line) == head +
                             "the side from point 4 to 1 bows by 310 mm over a length of 600 mm; "
                             "allowed: at most half the length, which makes a half circle");
  line = rectangle(0.0);
  line.corners.row(1) = line.corners.row(0);
  CHECK(refusal(line) == head + "has points 1 and 2 in the same place; allowed: each corner once");
  line = rectangle(0.0);
  line.corners.row(2).swap(line.corners.row(3));
  CHECK(refusal(line) == head +
                             "crosses itself near [500, 300] mm; allowed: an outline that does not "
                             "touch itself");
  line = rectangle(0.0);
  line.bow_m = {-0.35, 0.0, -0.35, 0.0};
  CHECK_THAT(refusal(line), Catch::StartsWith(head + "crosses itself near ["));
  line = rectangle(0.0);
  line.corners.row(3) << 0.5, 0.0;
  line.corners.row(2) << 0.7, 0.0;
  CHECK_THAT(refusal(line), Catch::StartsWith(head + "folds back on itself at point "));
  line.bow_m.pop_back();
  CHECK_THROWS_AS(DrawnCurve(line), std::invalid_argument);
}
