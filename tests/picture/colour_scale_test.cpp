// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/colour_scale.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

namespace calmplate::picture {
namespace {

constexpr int kSteps = 200;

double largest_bend(const ColourScale& scale, double from, double to) {
  double largest = 0.0;
  const double h = (to - from) / kSteps;
  for (int k = 1; k < kSteps; ++k) {
    const Colour a = scale.at(from + (k - 1) * h);
    const Colour b = scale.at(from + k * h);
    const Colour c = scale.at(from + (k + 1) * h);
    for (const double bend : {a.r - 2 * b.r + c.r, a.g - 2 * b.g + c.g, a.b - 2 * b.b + c.b}) {
      largest = std::max(largest, std::abs(bend));
    }
  }
  return largest;
}

}  // namespace

// Source: derived. CIE lightness is a function of luminance alone: white is 100, black 0, and a
// grey of luminance 0.184 is 116 * cbrt(0.184) - 16 = 49.98.
TEST_CASE("lightness of white, black and a mid grey", "[picture][derived]") {
  CHECK(lightness(kWhite) == Approx(100.0).margin(1e-4));
  CHECK(lightness(kBlack) == Approx(0.0).margin(1e-9));
  const double linear = 0.184;
  const double encoded = 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055;
  CHECK(lightness(grey(encoded)) == Approx(116.0 * std::cbrt(linear) - 16.0).margin(1e-3));
}

// Source: derived. from_lch and lightness go opposite ways; a chroma out of reach is lowered
// without a change of lightness. Tolerance: the seven-digit matrices.
TEST_CASE("a colour made with a lightness has that lightness", "[picture][derived]") {
  const double wanted = GENERATE(5.0, 30.0, 55.0, 80.0, 97.0);
  const double hue = GENERATE(0.0, 60.0, 130.0, 200.0, 280.0, 340.0);
  const double chroma = GENERATE(0.0, 20.0, 200.0);
  CAPTURE(wanted, hue, chroma);
  const Colour colour = from_lch(wanted, chroma, hue);
  CHECK(lightness(colour) == Approx(wanted).margin(0.01));
  CHECK(std::min({colour.r, colour.g, colour.b}) >= 0.0);
  CHECK(std::max({colour.r, colour.g, colour.b}) <= 1.0);
}

// Source: derived from the scale's own formula, lightness = 24 + 70 t: even steps, so that equal
// differences of the field are equal differences in a grey print.
TEST_CASE("the sequential scale rises evenly in lightness", "[picture][derived]") {
  double before = -1.0;
  for (int k = 0; k <= kSteps; ++k) {
    const double t = double(k) / kSteps;
    const double now = lightness(ColourScale::sequential().at(t));
    CHECK(now > before);
    CHECK(now == Approx(24.0 + 70.0 * t).margin(0.1));
    before = now;
  }
}

// Source: derived. White is 98 here, so that paper and middle can be told apart at the rim; the
// arms end at 28 and 58.
TEST_CASE("the diverging scale is white in the middle and falls evenly to two ends that differ",
          "[picture][derived]") {
  const ColourScale& scale = ColourScale::diverging();
  for (int k = 0; k <= kSteps; ++k) {
    const double s = double(k) / kSteps;
    CHECK(lightness(scale.at(0.5 - 0.5 * s)) == Approx(98.0 - 70.0 * s).margin(0.1));
    CHECK(lightness(scale.at(0.5 + 0.5 * s)) == Approx(98.0 - 40.0 * s).margin(0.1));
  }
  CHECK(scale.at(0.0).b > scale.at(0.0).r);
  CHECK(scale.at(1.0).r > scale.at(1.0).b);
}

// Source: derived. Where a path leaves what the screen can show, its chroma is cut and the colours
// bend sharply: a false edge in the map. A sequential path with a chroma of 34 + 26 sin(pi t),
// which is cut, bends by 0.064 (tried); a smooth one by the order of the square of a step.
TEST_CASE("the scales have no false edge", "[picture][derived]") {
  CHECK(largest_bend(ColourScale::sequential(), 0.0, 1.0) < 0.003);
  CHECK(largest_bend(ColourScale::diverging(), 0.0, 0.495) < 0.003);
  CHECK(largest_bend(ColourScale::diverging(), 0.505, 1.0) < 0.003);
}

TEST_CASE("values beyond the scale take its ends", "[picture]") {
  const ColourScale& scale = ColourScale::sequential();
  CHECK(lightness(scale.at(-3.0)) == lightness(scale.at(0.0)));
  CHECK(lightness(scale.at(7.0)) == lightness(scale.at(1.0)));
  CHECK(lightness(scale.at(std::numeric_limits<double>::quiet_NaN())) == lightness(scale.at(0.0)));
}

}  // namespace calmplate::picture
