// SPDX-License-Identifier: GPL-3.0-or-later
// What the pictures show, measured on their pixels. Places are shares of the page.
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "picture/colour_scale.hpp"
#include "picture/draw_program.hpp"
#include "picture/page.hpp"
#include "picture/sample_results.hpp"

namespace calmplate::picture {
namespace {

using nlohmann::json;
using sample::mean_lightness;

RgbaImage drawn(const std::string& name,
                const sample::SampleOptions& options = {40, 26},
                const std::function<void(json&)>& change = nullptr) {
  const sample::TemporaryFolder folder("pictures");
  json results = sample::write_sample(folder.path(), options);
  if (change) {
    change(results);
    sample::write_json(folder.path(), results);
  }
  const auto run =
      sample::run_draw_program(folder.path(), "'" + folder.path().string() + "' --only " + name);
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  return sample::read_png(folder.path() / "pictures" / (name + ".png"));
}

struct Mean {
  double r = 0.0;
  double g = 0.0;
  double b = 0.0;
};

/// Mean colour of a small square about a place.
Mean colour_at(const RgbaImage& image, double x, double y) {
  Mean mean;
  const int ci = int(x * image.width);
  const int cj = int(y * image.height);
  for (int j = cj - 3; j <= cj + 3; ++j) {
    for (int i = ci - 3; i <= ci + 3; ++i) {
      const std::size_t k = 4 * (std::size_t(j) * std::size_t(image.width) + std::size_t(i));
      mean.r += image.bytes[k] / (49.0 * 255.0);
      mean.g += image.bytes[k + 1] / (49.0 * 255.0);
      mean.b += image.bytes[k + 2] / (49.0 * 255.0);
    }
  }
  return mean;
}

double count_of(const RgbaImage& image, const Colour& colour) {
  double count = 0.0;
  for (std::size_t k = 0; k + 3 < image.bytes.size(); k += 4) {
    const bool same = std::abs(image.bytes[k] / 255.0 - colour.r) < 0.01 &&
                      std::abs(image.bytes[k + 1] / 255.0 - colour.g) < 0.01 &&
                      std::abs(image.bytes[k + 2] / 255.0 - colour.b) < 0.01;
    if (same) count += 1.0;
  }
  return count;
}

}  // namespace

// Source: derived. A field of 10 dB in the left half and 0 dB in the right gives the scale's pale
// end (lightness 94 less half a band) on the left and its dark end (24) on the right.
TEST_CASE("benefit map: high values are pale, low values dark, where they belong",
          "[picture][derived]") {
  sample::SampleOptions options{40, 26};
  options.left_half_high = true;
  const RgbaImage image = drawn("benefit_map", options);
  CHECK(mean_lightness(image, 0.12, 0.30, 0.17, 0.40) > 85.0);
  CHECK(mean_lightness(image, 0.60, 0.55, 0.70, 0.65) < 32.0);
  CHECK(mean_lightness(image, 0.02, 0.45, 0.04, 0.60) > 99.0);  // the margin stays white
}

// Source: [derived] from 140 to 160 dB the scale's lightness runs from 24 to 94, so 150 dB is 59,
// in the map of a layout that has no other level as well.
TEST_CASE("velocity maps: bare and layouts share one scale", "[picture][derived]") {
  sample::SampleOptions options{40, 26};
  options.with_velocity = true;
  const RgbaImage bare = drawn("velocity_bare", options);
  const RgbaImage full = drawn("velocity_full", options);
  CHECK(bare.width < kPageWidthPx);
  CHECK(bare.width == full.width);
  CHECK(bare.height == full.height);
  CHECK(mean_lightness(bare, 0.15, 0.40, 0.30, 0.55) == Approx(94.0).margin(2.0));
  CHECK(mean_lightness(bare, 0.60, 0.40, 0.70, 0.55) == Approx(24.0).margin(2.0));
  CHECK(mean_lightness(full, 0.15, 0.40, 0.30, 0.55) == Approx(59.0).margin(2.0));
  CHECK(mean_lightness(full, 0.60, 0.40, 0.70, 0.55) == Approx(59.0).margin(2.0));
}

TEST_CASE("benefit map: places where no piece fits are grey", "[picture]") {
  const RgbaImage image = drawn("benefit_map");
  const Mean rim = colour_at(image, 0.25, 0.28);
  CHECK(rim.r == Approx(0.90).margin(0.01));
  CHECK(rim.b == Approx(0.90).margin(0.01));
}

// Source: derived. The second invented shape is sin(2 pi s) sin(pi t): outwards (orange) in the
// left half, inwards (blue) in the right.
TEST_CASE("modes: the two halves of a shape have opposite colours", "[picture][derived]") {
  const RgbaImage image = drawn("modes_bare");
  const Mean left = colour_at(image, 0.386, 0.67);
  const Mean right = colour_at(image, 0.513, 0.67);
  CHECK(left.r > left.b + 0.3);
  CHECK(right.b > right.r + 0.2);
}

TEST_CASE("layout: a piece is coloured where it lies and nowhere else", "[picture]") {
  const RgbaImage bare = drawn("layout_bare");
  const RgbaImage partial = drawn("layout_partial");
  // The middle of piece 1's right half, and a place between the pieces.
  const Mean before = colour_at(bare, 0.30, 0.45);
  const Mean after = colour_at(partial, 0.30, 0.45);
  CHECK(before.r - before.b == Approx(0.0).margin(0.01));
  CHECK(after.r - after.b > 0.15);
  CHECK(colour_at(partial, 0.13, 0.60).b == Approx(colour_at(bare, 0.13, 0.60).b).margin(0.005));
}

TEST_CASE("working map: sheet is coloured, the skin without sheet is grey", "[picture]") {
  const RgbaImage image = drawn("working_partial");
  CHECK(mean_lightness(image, 0.20, 0.36, 0.26, 0.40) < 50.0);
  const Mean skin = colour_at(image, 0.10, 0.50);
  CHECK(skin.r == Approx(0.90).margin(0.01));
  CHECK(skin.g == Approx(0.90).margin(0.01));
}

// Source: derived. Bars of one width: the coloured areas of two layouts are as the sums of their
// reductions. Tolerance: outlines of bars and the keys' swatches.
TEST_CASE("third octaves: bar areas are as the reductions", "[picture][derived]") {
  const auto change = [](json& results) {
    for (std::size_t layout : {1U, 2U, 3U}) {
      for (json& band : results["layouts"][layout]["third_octaves"]) {
        band["reduction_db"] = layout == 1U ? 4.0 : 12.0;
      }
    }
  };
  const RgbaImage image = drawn("reduction_third_octaves", {40, 26}, change);
  const double low = count_of(image, layout_stroke(1).colour);
  const double high = count_of(image, layout_stroke(2).colour);
  CHECK(low > 10000.0);
  CHECK(high / low == Approx(3.0).epsilon(0.06));
}

TEST_CASE("response: the band is shaded and every layout has its line", "[picture]") {
  const RgbaImage image = drawn("response");
  const Mean in_band = colour_at(image, 0.38, 0.80);
  const Mean beyond = colour_at(image, 0.85, 0.80);
  CHECK(in_band.g == Approx(0.925).margin(0.01));
  CHECK(beyond.g == Approx(1.0).margin(0.005));
  for (std::size_t k = 1; k < 4; ++k) {
    CAPTURE(k);
    CHECK(count_of(image, layout_stroke(k).colour) > 2000.0);
  }
}

// Source: derived. With levels of 0 and 20 dB at the ends of the scale, 15 dB lies at three
// quarters of the chart's height (from 56.8 to 181 mm of 210) and 5 dB at one quarter.
TEST_CASE("response: a curve lies at its level", "[picture][derived]") {
  const auto flat_curves = [](json& results) {
    for (auto& [name, curve] : results["curves"]["level_db"].items()) {
      for (json& level : curve) level = name == "bare" ? 15.0 : 5.0;
      curve[0] = name == "bare" ? 20.0 : 0.0;
    }
  };
  const RgbaImage image = drawn("response", {40, 26}, flat_curves);
  const double upper = (56.8 + 0.75 * 124.2) / 210.0;
  const double lower = (56.8 + 0.25 * 124.2) / 210.0;
  CHECK(mean_lightness(image, 0.40, upper - 0.005, 0.60, upper + 0.005) < 80.0);
  CHECK(mean_lightness(image, 0.40, lower - 0.005, 0.60, lower + 0.005) < 80.0);
  CHECK(mean_lightness(image, 0.40, upper + 0.01, 0.60, upper + 0.05) > 90.0);
  CHECK(mean_lightness(image, 0.40, lower + 0.01, 0.60, lower + 0.05) > 90.0);
}

TEST_CASE("skin in space: treated views carry the sheet's colour, the bare one none", "[picture]") {
  const RgbaImage image = drawn("panel_3d");
  const Mean bare = colour_at(image, 0.28, 0.62);
  const Mean full = colour_at(image, 0.28, 0.33);
  CHECK(std::abs(bare.r - bare.b) < 0.02);
  CHECK(bare.r < 0.9);
  CHECK(full.r - full.b > 0.1);
}

}  // namespace calmplate::picture
