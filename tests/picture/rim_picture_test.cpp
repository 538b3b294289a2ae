// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of what check understood, measured on its pixels.
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "picture/canvas.hpp"
#include "picture/draw_program.hpp"

namespace calmplate::picture {
namespace {

using nlohmann::json;

/// check.json of a plate of 1000 x 600 mm with a hole of 200 x 100 mm in its middle.
json plate() {
  const json rim = {{0, 0}, {1000, 0}, {1000, 600}, {0, 600}};
  const json hole = {{400, 250}, {400, 350}, {600, 350}, {600, 250}};
  const auto part = [](const char* name, double length, const json& line) -> json {
    return {{"name", name}, {"hold", "clamped"}, {"length_mm", length}, {"line_mm", line}};
  };
  json parts = json::array();
  parts.push_back(part("bottom", 1000, {{0, 0}, {1000, 0}}));
  parts.push_back(part("right", 600, {{1000, 0}, {1000, 600}}));
  parts.push_back(part("top", 1000, {{1000, 600}, {0, 600}}));
  parts.push_back(part("left", 600, {{0, 600}, {0, 0}}));
  parts.push_back(
      part("hole-1", 600, {{400, 250}, {400, 350}, {600, 350}, {600, 250}, {400, 250}}));
  return {{"schema", "calmplate-check"},
          {"schema_version", 1},
          {"job", {{"title", "Plate"}, {"note", "invented"}}},
          {"panel",
           {{"size_flat_mm", {1000, 600}},
            {"area_m2", 0.58},
            {"thickness_mm", 0.8},
            {"outlines_mm", {rim, hole}},
            {"rim", parts},
            {"keep_outs", json::array()}}}};
}

sample::ProgramRun draw(const std::filesystem::path& folder, const json& check) {
  std::ofstream(folder / "check.json") << check.dump(1);
  return sample::run_draw_program(folder, "'" + folder.string() + "'");
}

/// Share of dark points along a line on the page from (x0, y0) to (x1, y1), mm.
double dark_share(const RgbaImage& image, double x0, double y0, double x1, double y1) {
  constexpr int kPoints = 400;
  int dark = 0;
  for (int k = 0; k < kPoints; ++k) {
    const double s = (k + 0.5) / kPoints;
    const auto i = std::size_t((x0 + s * (x1 - x0)) * kPxPerMm);
    const auto j = std::size_t((y0 + s * (y1 - y0)) * kPxPerMm);
    if (image.bytes[4 * (j * std::size_t(image.width) + i)] < 128) ++dark;
  }
  return double(dark) / kPoints;
}

}  // namespace

// Source: derived. The plate is drawn 163 mm wide: from 26 to 189 mm across the page and from 65.6
// to 163.4 mm up. Dashes: whole; 5.0 of 6.8 mm; 1.4 of 2.7 mm; 8.3 of 11.3 mm; the hole's line is
// broad and grey.
TEST_CASE("rim parts and holes have lines of their own", "[picture][derived]") {
  const sample::TemporaryFolder folder("rim");
  const sample::ProgramRun run = draw(folder.path(), plate());
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  CHECK(run.out == (folder.path() / "pictures" / "rim.png").string() + "\n");
  const RgbaImage image = sample::read_png(folder.path() / "pictures" / "rim.png");
  const double low = 65.6, high = 163.4, left = 26.0, right = 189.0;
  CHECK(dark_share(image, left + 20.0, low, right - 10.0, low) > 0.98);
  CHECK(std::abs(dark_share(image, right, low + 10.0, right, high - 10.0) - 0.735) < 0.06);
  CHECK(std::abs(dark_share(image, left + 10.0, high, right - 10.0, high) - 0.52) < 0.06);
  CHECK(std::abs(dark_share(image, left, low + 20.0, left, high - 10.0) - 0.735) < 0.06);
  // The hole's lower edge, 250 mm up.
  const double hole = low + 0.163 * 250.0;
  CHECK(sample::share_of(image, left + 0.163 * 450.0, hole, grey(0.55), 0.4) > 0.9);
  CHECK(dark_share(image, left + 0.163 * 420.0, hole, left + 0.163 * 580.0, hole) < 0.05);
  // Names stand inside: above the bottom, below the top.
  CHECK(dark_share(image, 98.0, low + 5.0, 117.0, low + 5.0) > 0.1);
  CHECK(dark_share(image, 98.0, high - 5.0, 117.0, high - 5.0) > 0.1);
  CHECK(dark_share(image, 60.0, low + 5.0, 90.0, low + 5.0) == 0.0);
}

TEST_CASE("a check file that cannot be drawn is named in one line", "[picture]") {
  const sample::TemporaryFolder folder("rim");
  const auto refusal = [&](const json& check) {
    const sample::ProgramRun run = draw(folder.path(), check);
    CHECK(run.status == 2);
    CHECK(sample::count_lines(run.err) == 1);
    CHECK_FALSE(std::filesystem::exists(folder.path() / "pictures"));
    return run.err;
  };
  json check = plate();
  check["schema"] = "calmplate-results";
  CHECK_THAT(refusal(check), Catch::Contains("is not what calmplate check writes"));
  check = plate();
  check["schema_version"] = 2;
  CHECK_THAT(refusal(check), Catch::Contains("schema_version: is 2"));
  check = plate();
  check["panel"].erase("rim");
  CHECK_THAT(refusal(check), Catch::Contains("rim"));
}

}  // namespace calmplate::picture
