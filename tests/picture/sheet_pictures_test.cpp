// SPDX-License-Identifier: GPL-3.0-or-later
// What the pictures of a sheet and the charts over temperature show, measured on their pixels.
// Places are mm on the page of 297 x 210 mm, from its lower left corner.
#include "picture/sheet_pictures.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <set>

#include "picture/draw_program.hpp"
#include "picture/sample_results.hpp"
#include "picture/sample_sheet.hpp"

namespace calmplate::picture {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using sample::mean_lightness;

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  if (!fs::exists(folder)) return names;
  for (const auto& entry : fs::directory_iterator(folder)) {
    names.insert(entry.path().filename().string());
  }
  return names;
}

/// Draws a sheet after `change`; all its pictures, or the one named.
std::set<std::string> draw_sheet(const fs::path& folder,
                                 const std::function<void(json&)>& change = nullptr,
                                 const std::string& only = "") {
  json sheet = sample::sheet_json();
  if (change) change(sheet);
  sample::write_sheet(folder, sheet);
  const auto run = sample::run_draw_program(
      folder, "'" + folder.string() + "'" + (only.empty() ? "" : " --only " + only));
  CAPTURE(run.err);
  CHECK(run.err.empty());
  REQUIRE(run.status == 0);
  return names_in(folder / "pictures");
}

RgbaImage sheet_picture(const std::string& name, const std::function<void(json&)>& change) {
  const sample::TemporaryFolder folder("sheet-pictures");
  draw_sheet(folder.path(), change, name);
  return sample::read_png(folder.path() / "pictures" / (name + ".png"));
}

/// A chart of the results with invented figures over temperature.
RgbaImage result_picture(const std::string& name, const std::function<void(json&)>& change) {
  const sample::TemporaryFolder folder("temperature-pictures");
  json results = sample::write_sample(folder.path(), {12, 8});
  sample::add_temperature(results);
  if (change) change(results);
  sample::write_json(folder.path(), results);
  const auto run =
      sample::run_draw_program(folder.path(), "'" + folder.path().string() + "' --only " + name);
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  return sample::read_png(folder.path() / "pictures" / (name + ".png"));
}

double lightness_about(const RgbaImage& image, double x_mm, double y_mm, double half_mm = 0.5) {
  return mean_lightness(image,
                        (x_mm - half_mm) / kPageWidthMm,
                        (y_mm - half_mm) / kPageHeightMm,
                        (x_mm + half_mm) / kPageWidthMm,
                        (y_mm + half_mm) / kPageHeightMm);
}

/// Share of the pixels about a place whose colour is the one wanted.
double share_of(
    const RgbaImage& image, double x_mm, double y_mm, const Colour& colour, double half_mm = 0.5) {
  int same = 0, all = 0;
  for (int j = int((y_mm - half_mm) * kPxPerMm); j <= int((y_mm + half_mm) * kPxPerMm); ++j) {
    for (int i = int((x_mm - half_mm) * kPxPerMm); i <= int((x_mm + half_mm) * kPxPerMm); ++i) {
      const std::size_t k = 4 * (std::size_t(j) * std::size_t(image.width) + std::size_t(i));
      ++all;
      if (std::abs(image.bytes[k] / 255.0 - colour.r) < 0.02 &&
          std::abs(image.bytes[k + 1] / 255.0 - colour.g) < 0.02 &&
          std::abs(image.bytes[k + 2] / 255.0 - colour.b) < 0.02) {
        ++same;
      }
    }
  }
  return double(same) / all;
}

void set_all(json& list, double value) {
  for (json& item : list) item = value;
}

}  // namespace

TEST_CASE("a sheet gives its three pictures without a display", "[picture]") {
  const sample::TemporaryFolder folder("sheet-all");
  CHECK(draw_sheet(folder.path()) ==
        std::set<std::string>{"coated_bar.png", "modulus.png", "nomogram.png"});
  for (const char* name : {"coated_bar.png", "modulus.png", "nomogram.png"}) {
    CAPTURE(name);
    const RgbaImage image = sample::read_png(folder.path() / "pictures" / name);
    CHECK(image.width == kPageWidthPx);
    CHECK(image.height == kPageHeightPx);
    CHECK(sample::inked_share(image) > 0.02);
    CHECK(sample::inked_share(image) < 0.5);
  }
}

TEST_CASE("a modulus without a shift has no nomogram, a mass layer no picture at all",
          "[picture]") {
  const sample::TemporaryFolder folder("sheet-less");
  CHECK(draw_sheet(folder.path() / "a", [](json& j) { j["reduced_frequency"] = nullptr; }) ==
        std::set<std::string>{"coated_bar.png", "modulus.png"});
  CHECK(draw_sheet(folder.path() / "b", [](json& j) {
          j["modulus"] = j["reduced_frequency"] = nullptr;
        }).empty());
}

TEST_CASE("a folder of a sheet that cannot be used is refused in one line", "[picture]") {
  const sample::TemporaryFolder folder("sheet-bad");
  json sheet = sample::sheet_json();
  sheet["modulus"].erase("curves");
  sample::write_sheet(folder.path(), sheet);
  const auto run = sample::run_draw_program(folder.path(), "'" + folder.path().string() + "'");
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(sample::count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains("sheet.json: modulus.curves: is missing"));
  CHECK_FALSE(fs::exists(folder.path() / "pictures"));
}

// Source: derived. Moduli of 1 and 100 MPa make an axis from 1 to 100: 10 lies in its middle, the
// square root of 1000 at three quarters. Loss factors up to 0.8 make one from 0: 0.6 lies there
// too.
TEST_CASE("modulus: curves lie at their values, one style a temperature", "[picture][derived]") {
  const RgbaImage image = sheet_picture("modulus", [](json& j) {
    const double moduli[5] = {std::sqrt(1000.0), 10.0, 10.0, 10.0, 1.0};
    for (std::size_t k = 0; k < 5; ++k) {
      json& curve = j["modulus"]["curves"][k];
      set_all(curve["modulus_MPa"], moduli[k]);
      set_all(curve["loss_factor"], k == 0 ? 0.6 : 0.2);
    }
    j["modulus"]["curves"][0]["modulus_MPa"][0] = 100.0;
    j["modulus"]["curves"][0]["loss_factor"][0] = 0.8;
  });
  const double foot = kContentLow.y + 13.0;
  const double head = kContentHigh.y - 9.0;
  // The coldest curve is unbroken. The chart reaches from 32 to 130 mm across.
  const double upper = 0.25 * foot + 0.75 * head;
  CHECK(share_of(image, 80.0, upper, temperature_stroke(0, 5).colour, 0.2) > 0.5);
  CHECK(share_of(image, 80.0, 0.5 * (foot + head) + 6.0, temperature_stroke(0, 5).colour, 3.0) ==
        0.0);
  double middle = 0.0;
  for (int k = 0; k < 80; ++k) {
    middle = std::max(
        middle,
        share_of(image, 60.0 + 0.5 * k, 0.5 * (foot + head), temperature_stroke(3, 5).colour, 0.2));
  }
  CHECK(middle > 0.5);
  CHECK(share_of(image, 215.0, upper, temperature_stroke(0, 5).colour, 0.2) > 0.5);
}

// Source: derived. The nomogram's worked reading: the green point on the slanting line lies at the
// reduced frequency f a_T across and at f upwards. Here across are 7 decades from 0.1 Hz, upwards
// 4 from 1 Hz; with f = 100 Hz and a_T = 10 that is 4 / 7 and 2 / 4 of the chart.
TEST_CASE("nomogram: a frequency meets its slanting line at the reduced frequency",
          "[picture][derived]") {
  const RgbaImage image = sheet_picture("nomogram", [](json& j) {
    j["reduced_frequency"]["example"]["freq_hz"] = 100.0;
    j["reduced_frequency"]["example"]["shift_factor"] = 10.0;
    j["reduced_frequency"]["isotherms"] =
        json::array({{{"temperature_C", 0}, {"shift_factor", 10.0}}});
  });
  const double left = kContentLow.x + 45.0, right = kContentHigh.x - 19.0;
  const double foot = kContentLow.y + 14.0, head = kContentHigh.y - 13.0;
  const Colour green = from_lch(45.0, 55.0, 145.0);
  const Colour blue = from_lch(45.0, 45.0, 275.0);
  const auto x_at = [&](double decades) { return left + decades / 7.0 * (right - left); };
  const auto y_at = [&](double decades) { return foot + decades / 4.0 * (head - foot); };
  CHECK(share_of(image, x_at(4.0), y_at(2.0), green, 0.4) > 0.9);
  CHECK(share_of(image, x_at(4.0) + 4.0, y_at(2.0) + 4.0, green, 1.0) == 0.0);
  // The line of that temperature: one decade of frequency further on in both directions.
  CHECK(share_of(image, x_at(5.0), y_at(3.0), blue, 0.3) > 0.2);
  CHECK(share_of(image, x_at(3.0), y_at(3.0), blue, 1.0) == 0.0);
  // It begins at the chart's foot, not beneath it.
  CHECK(share_of(image, x_at(2.1), y_at(0.1), blue, 0.5) > 0.05);
  CHECK(share_of(image, x_at(1.85), y_at(-0.15), blue, 1.0) == 0.0);
}

// Source: derived. Bars with 0.375 and 0.25 on an axis from 0 to 0.5; the peak's mark lies at 30 C,
// half way from -20 to 80 C.
TEST_CASE("coated bar: curves lie at their loss factors and the peak is marked",
          "[picture][derived]") {
  const RgbaImage image = sheet_picture("coated_bar", [](json& j) {
    for (std::size_t k = 0; k < 2; ++k) {
      json& bar = j["coated_bars"]["bars"][k];
      set_all(bar["loss_factor"], k == 0 ? 0.375 : 0.25);
      bar["peak"] = {{"temperature_C", 30}, {"loss_factor", 0.25}, {"inside_range", true}};
    }
    j["coated_bars"]["bars"][0]["loss_factor"][0] = 0.5;
  });
  const double left = kContentLow.x + 20.0, right = kContentHigh.x - 20.0;
  const double foot = kContentLow.y + 15.0 + 6.4, head = kContentHigh.y - 6.0;
  const Colour thin = layout_stroke(1).colour, thick = layout_stroke(2).colour;
  CHECK(share_of(image, left + 20.0, 0.25 * foot + 0.75 * head, thin, 0.2) > 0.5);
  CHECK(share_of(image, 0.5 * (left + right), 0.5 * (foot + head), thick, 0.5) > 0.9);
  CHECK(share_of(image, left + 20.0, 0.1 * foot + 0.9 * head, thin, 2.0) == 0.0);
}

// Source: derived. Sheets at 7, 2, 6.5 and 2 dB, the first reaching 8 dB at the last temperature:
// the axis runs from 0 to 8 dB, the band of 1 dB below the best at the left from 6 to 7 dB.
TEST_CASE("sheets over temperature: the band below the best is grey, the rest white",
          "[picture][derived]") {
  const auto change = [](json& j) {
    const double levels[4] = {7.0, 2.0, 6.5, 2.0};
    for (std::size_t k = 0; k < 4; ++k) {
      set_all(j["sheet_comparison"]["sheets"][k]["reduction_dB"], levels[k]);
    }
    j["sheet_comparison"]["sheets"][0]["reduction_dB"][10] = 8.0;
  };
  const RgbaImage image = result_picture("temperature", change);
  const double left = kContentLow.x + 20.0;
  const double foot = kContentLow.y + 24.0 + 5.0 * 4.0, head = kContentHigh.y - 6.0;
  const auto y_at = [&](double db) { return foot + db / 8.0 * (head - foot); };
  const Colour band = grey(0.885);
  const double between = left + 5.0 / 100.0 * (kContentHigh.x - 12.0 - left);
  CHECK(share_of(image, between, y_at(6.25), band, 0.5) > 0.95);
  CHECK(share_of(image, between, y_at(6.75), band, 0.5) > 0.95);
  CHECK(lightness_about(image, between, y_at(5.5)) > 99.0);
  CHECK(share_of(image, between, y_at(7.0), layout_stroke(1).colour, 0.2) > 0.5);
  // Sheets 2 and 4 lie on one another; 4, the later one, lies beneath.
  CHECK(lightness_about(image, between, y_at(2.0), 0.3) < 90.0);
}

TEST_CASE("sheets at a single temperature are points on a band", "[picture]") {
  const auto change = [](json& j) {
    json& comparison = j["sheet_comparison"];
    comparison["temperatures_C"] = json::array({20});
    for (json& sheet : comparison["sheets"]) {
      for (const char* key : {"reduction_dB", "dB_per_kg", "dB_per_currency"}) {
        sheet[key] = json::array({sheet[key][4]});
      }
    }
    comparison["sheets"][0]["reduction_dB"] = json::array({8.0});
    comparison["sheets"][1]["reduction_dB"] = json::array({4.0});
    comparison["sheets"][3]["reduction_dB"] = json::array({nullptr});
  };
  const RgbaImage image = result_picture("temperature", change);
  const double left = kContentLow.x + 20.0, right = kContentHigh.x - 12.0;
  const double foot = kContentLow.y + 24.0 + 5.0 * 4.0, head = kContentHigh.y - 6.0;
  const auto y_at = [&](double db) { return foot + db / 8.0 * (head - foot); };
  CHECK(share_of(image, 0.5 * (left + right), y_at(4.0), layout_stroke(2).colour, 0.3) > 0.9);
  CHECK(share_of(image, left + 30.0, y_at(7.5), grey(0.885), 0.5) > 0.95);
}

TEST_CASE("layouts over temperature keep the line that they have in every chart", "[picture]") {
  const auto change = [](json& j) {
    for (std::size_t k = 0; k < 4; ++k) {
      for (json& row : j["layouts"][k]["temperature"]) row["reduction_dB"] = 5.0 * double(k);
    }
  };
  const RgbaImage image = result_picture("layouts_temperature", change);
  const double left = kContentLow.x + 20.0, right = kContentHigh.x - 12.0;
  const double foot = kContentLow.y + 24.0 + 5.0 * 3.0, head = kContentHigh.y - 6.0;
  for (std::size_t k = 1; k < 4; ++k) {
    CAPTURE(k);
    const double y = foot + 5.0 * double(k) / 16.0 * (head - foot);
    // At 30 C, in the middle, stands a point.
    CHECK(share_of(image, 0.5 * (left + right), y, layout_stroke(k).colour, 0.3) > 0.9);
  }
}

TEST_CASE("without figures over temperature there are no such pictures", "[picture]") {
  const sample::TemporaryFolder folder("no-temperature");
  json results = sample::write_sample(folder.path(), {12, 8});
  const std::string wanted = "'" + folder.path().string() + "' --only ";
  CHECK(sample::run_draw_program(folder.path(), wanted + "temperature").status == 2);
  CHECK(sample::run_draw_program(folder.path(), wanted + "layouts_temperature").status == 2);
  // One temperature alone is no curve.
  sample::add_temperature(results);
  for (json& layout : results["layouts"]) {
    layout["temperature"] = json::array({layout["temperature"][0]});
  }
  results["sheet_comparison"] = nullptr;
  sample::write_json(folder.path(), results);
  CHECK(sample::run_draw_program(folder.path(), wanted + "temperature").status == 2);
  CHECK(sample::run_draw_program(folder.path(), wanted + "layouts_temperature").status == 2);
}

}  // namespace calmplate::picture
