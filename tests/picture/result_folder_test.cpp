// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/result_folder.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <functional>

#include "base/input_error.hpp"
#include "picture/draw_program.hpp"
#include "picture/result_fields.hpp"
#include "picture/sample_results.hpp"
#include "picture/sample_sheet.hpp"
#include "picture/sample_woofer.hpp"

namespace calmplate::picture {
namespace {

using nlohmann::json;

/// The message that reading gives after `spoil` has been at work on the sample, or "read".
std::string message_after(const std::function<void(json&)>& spoil) {
  const sample::TemporaryFolder folder("result-folder");
  json results = sample::write_sample(folder.path(), {8, 6});
  spoil(results);
  sample::write_json(folder.path(), results);
  try {
    read_results(folder.path() / "results.json");
  } catch (const base::InputError& error) {
    const std::string words = error.what();
    return words.substr(words.find("results.json"));
  }
  return "read";
}

}  // namespace

TEST_CASE("results are read as written", "[picture]") {
  const sample::TemporaryFolder folder("result-folder");
  json json_results = sample::write_sample(folder.path(), {8, 6});
  json_results["curves"]["level_db"]["full"][3] = nullptr;
  sample::write_json(folder.path(), json_results);
  const Results results = read_results(folder.path() / "results.json");
  CHECK(results.title == "Estate front door, left");
  CHECK(results.panel.outlines_mm.size() == 2);
  CHECK(results.panel.rim.at(2).hold == "simply-supported");
  CHECK(results.panel.keep_outs.at(1).name == "drain");
  REQUIRE(results.layouts.size() == 4);
  CHECK(results.layouts[0].working_field.empty());
  CHECK(results.layouts[1].pieces.at(2).sheet == "butyl 3 mm with thick foil");
  CHECK(results.layouts[1].pieces.at(0).size_mm->x == 300.0);
  CHECK_FALSE(results.layouts[2].pieces.at(0).size_mm.has_value());
  CHECK(results.layouts[2].level_db.size() == results.freq_hz.size());
  CHECK(std::isnan(results.layouts[2].level_db[3]));
  REQUIRE(results.benefit.has_value());
  CHECK(results.benefit->best_centre_mm.y == 300.0);
  CHECK(results.drive_at_mm->x == 300.0);
}

TEST_CASE("what may be null is left out", "[picture]") {
  const sample::TemporaryFolder folder("result-folder");
  json json_results = sample::write_sample(folder.path(), {8, 6});
  json_results["benefit_map"] = nullptr;
  json_results["drive"]["at_mm"] = nullptr;
  sample::write_json(folder.path(), json_results);
  const Results results = read_results(folder.path() / "results.json");
  CHECK_FALSE(results.benefit.has_value());
  CHECK_FALSE(results.drive_at_mm.has_value());
}

TEST_CASE("a fault in results.json is told with its key and what is allowed", "[picture]") {
  CHECK(message_after([](json& j) { j["schema"] = "other"; }) ==
        "results.json: is not a calmplate result; allowed: \"schema\": \"calmplate-results\"");
  CHECK(message_after([](json& j) { j["schema_version"] = 2; }) ==
        "results.json: schema_version: is 2; allowed: 1");
  CHECK(message_after([](json& j) { j["panel"].erase("area_m2"); }) ==
        "results.json: panel.area_m2: is missing");
  CHECK(message_after([](json& j) { j["panel"]["thickness_mm"] = "thin"; }) ==
        "results.json: panel.thickness_mm: is not a number; allowed: a number");
  CHECK(message_after([](json& j) { j["layouts"][1]["pieces"][0]["mass_kg"] = -1; }) ==
        "results.json: layouts[1].pieces[0].mass_kg: is -1; allowed: at least 0.0");
  CHECK(message_after([](json& j) { j["panel"]["outlines_mm"][0] = json::array(); }) ==
        "results.json: panel.outlines_mm[0]: has 0 points; allowed: at least 3");
  CHECK(message_after([](json& j) { j["curves"]["level_db"]["full"].erase(0); }) ==
        "results.json: curves.level_db.full: has 900 numbers; allowed: 901, one a frequency");
  CHECK(message_after([](json& j) { j["curves"]["level_db"].erase("full"); }) ==
        "results.json: curves.level_db.full: is missing");
  CHECK(message_after([](json& j) { j["curves"]["freq_hz"][5] = 1.0; }) ==
        "results.json: curves.freq_hz: does not rise; allowed: rising frequencies above 0");
  CHECK(message_after([](json& j) { j["band"]["high_hz"] = 20; }) ==
        "results.json: band: is empty; allowed: 0 < low_hz < high_hz");
  CHECK(message_after([](json& j) { j["layouts"] = json::array(); }) ==
        "results.json: layouts: is empty; allowed: at least one layout");
  CHECK(message_after([](json& j) { j = json::array(); }) ==
        "results.json: is not a calmplate result; allowed: \"schema\": \"calmplate-results\"");
}

TEST_CASE("figures over temperature are read where they are, and left out where not", "[picture]") {
  const sample::TemporaryFolder folder("result-temperature");
  json json_results = sample::write_sample(folder.path(), {8, 6});
  const Results without = read_results(folder.path() / "results.json");
  CHECK_FALSE(without.comparison.has_value());
  CHECK(without.layouts[1].temperature.empty());
  CHECK_FALSE(without.temperature_c.has_value());
  sample::add_temperature(json_results);
  json_results["sheet_comparison"]["sheets"][2]["dB_per_currency"][0] = nullptr;
  sample::write_json(folder.path(), json_results);
  const Results results = read_results(folder.path() / "results.json");
  REQUIRE(results.comparison.has_value());
  CHECK(results.comparison->layout == "partial");
  CHECK(results.comparison->temperature_c.size() == 11);
  CHECK(results.comparison->tell_apart_db == 1.0);
  REQUIRE(results.comparison->sheets.size() == 4);
  CHECK(results.comparison->sheets[1].mass_kg == 0.76);
  CHECK(results.comparison->sheets[1].reduction_db.size() == 11);
  CHECK(std::isnan(results.comparison->sheets[2].db_per_currency[0]));
  CHECK(results.layouts[2].temperature.at(10).temperature_c == 80.0);
  CHECK(results.currency == "EUR");
  CHECK(*results.temperature_c == 20.0);
}

TEST_CASE("a fault in the figures over temperature is told with its key", "[picture]") {
  const auto message = [](const std::function<void(json&)>& spoil) {
    return message_after([&](json& j) {
      sample::add_temperature(j);
      spoil(j);
    });
  };
  CHECK(message([](json& j) { j["sheet_comparison"]["sheets"][0]["reduction_dB"].erase(0); }) ==
        "results.json: sheet_comparison.sheets[0].reduction_dB: has 10 numbers; allowed: 11, one a "
        "temperature");
  CHECK(
      message([](json& j) { j["sheet_comparison"]["temperatures_C"][3] = -50; }) ==
      "results.json: sheet_comparison.temperatures_C: does not rise; allowed: rising temperatures");
  CHECK(message([](json& j) { j["sheet_comparison"]["sheets"] = json::array(); }) ==
        "results.json: sheet_comparison.sheets: is empty; allowed: at least one sheet");
  CHECK(message([](json& j) { j["sheet_comparison"].erase("sentence"); }) ==
        "results.json: sheet_comparison.sentence: is missing");
  CHECK(message([](json& j) { j["layouts"][1]["temperature"][2]["temperature_C"] = -50; }) ==
        "results.json: layouts[1].temperature[2].temperature_C: does not rise; allowed: rising "
        "temperatures");
}

TEST_CASE("a woofer's figures are read where they are, and left out where not", "[picture]") {
  const sample::TemporaryFolder folder("result-woofer");
  json json_results = sample::write_sample(folder.path(), {8, 6});
  const Results without = read_results(folder.path() / "results.json");
  CHECK_FALSE(without.woofer.has_value());
  CHECK_FALSE(without.driven_by_woofer);
  CHECK(without.layouts[0].rattles.empty());
  sample::add_woofer(json_results);
  json_results["woofer"]["xmax_mm"] = nullptr;
  json_results["layouts"][1]["sound"][2]["skin_power_dB"] = nullptr;
  sample::write_json(folder.path(), json_results);
  const Results results = read_results(folder.path() / "results.json");
  REQUIRE(results.woofer.has_value());
  CHECK(results.driven_by_woofer);
  CHECK(results.woofer->voltage_v == 10.0);
  CHECK(results.woofer->nominal_power_w == 25.0);
  CHECK(results.woofer->nominal_ohm == 4.0);
  CHECK(results.woofer->band_is_own);
  CHECK_FALSE(results.woofer->xmax_mm.has_value());
  CHECK(results.woofer->travel_mm == 4.0);
  CHECK(results.woofer->travel_hz == 60.0);
  CHECK(results.woofer->travel_curve_mm.size() == 901);
  CHECK(results.woofer->frame_force_n[0] == Approx(1.5));
  CHECK(results.woofer->skin_force_n[0] == Approx(4000.0 / 30.0));
  CHECK(std::isnan(results.layouts[1].sound.at(2).skin_power_db));
  CHECK(results.layouts[0].sound.at(4).skin_under_db == Approx(-7.0));
  CHECK(results.layouts[3].skin_level_db.size() == 901);
  const Rattle& rattle = results.layouts[2].rattles.at(1);
  CHECK(rattle.name == "latch rod");
  CHECK(rattle.noise_margin_db == -12.0);
  CHECK(rattle.spans.at(1).high_hz == 180.0);
  CHECK(results.layouts[0].door_modes.at(1).cone_share == 0.8);
  CHECK(results.layouts[0].door_modes.at(2).like == 1);
  CHECK(results.layouts[0].door_modes.at(3).like == 0);
}

TEST_CASE("a fault in the woofer's figures is told with its key", "[picture]") {
  const auto message = [](const std::function<void(json&)>& spoil) {
    return message_after([&](json& j) {
      sample::add_woofer(j);
      spoil(j);
    });
  };
  CHECK(message([](json& j) { j["woofer"]["travel_curve_mm"].erase(0); }) ==
        "results.json: woofer.travel_curve_mm: has 900 numbers; allowed: 901, one a frequency");
  CHECK(message([](json& j) { j["woofer"].erase("sentence"); }) ==
        "results.json: woofer.sentence: is missing");
  CHECK(message([](json& j) { j["layouts"][1]["skin_level_dB"].erase(0); }) ==
        "results.json: layouts[1].skin_level_dB: has 900 numbers; allowed: 901, one a frequency");
  CHECK(message([](json& j) { j["layouts"][0]["sound"][3]["nominal_hz"] = 10; }) ==
        "results.json: layouts[0].sound[3].nominal_hz: does not rise; allowed: rising frequencies");
  CHECK(message([](json& j) { j["layouts"][0]["door_modes"][0]["like_mode"] = 9; }) ==
        "results.json: layouts[0].door_modes[0].like_mode: is no mode's number; allowed: 1 to 8, "
        "or null");
  CHECK(message([](json& j) { j["layouts"][0]["door_modes"][0]["freq_hz"] = 0; }) ==
        "results.json: layouts[0].door_modes[0].freq_hz: is not a frequency; allowed: above 0");
  CHECK(message([](json& j) { j["layouts"][0]["rattles"][0]["rattles"][0]["high_hz"] = 70; }) ==
        "results.json: layouts[0].rattles[0].rattles[0].high_hz: is below low_hz; allowed: at "
        "least low_hz");
}

TEST_CASE("fields are read with their names, points and triangles", "[picture]") {
  const sample::TemporaryFolder folder("result-fields");
  sample::write_sample(folder.path(), {8, 6});
  const ResultFields fields = read_fields(folder.path() / "panel.vtu");
  CHECK(fields.flat_mm.size() == 63);
  CHECK(fields.triangles.size() == 94);  // 2 x 8 x 6 less the one square of the hole
  CHECK(fields.point_field("mode_full_6").size() == 63);
  CHECK(fields.cell_field("working_best placed_W_per_m2").size() == 94);
  CHECK(fields.flat_mm.at(8).x == Approx(1000.0));
  CHECK(fields.has_point_field("benefit_dB"));
  CHECK_THROWS_WITH(fields.point_field("absent"),
                    Catch::Contains("panel.vtu: absent: is missing; allowed: a point array"));
}

}  // namespace calmplate::picture
