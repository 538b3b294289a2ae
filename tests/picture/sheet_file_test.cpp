// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/sheet_file.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "base/input_error.hpp"
#include "picture/draw_program.hpp"
#include "picture/sample_sheet.hpp"

namespace calmplate::picture {
namespace {

using nlohmann::json;

SheetFile read_after(const std::function<void(json&)>& change) {
  const sample::TemporaryFolder folder("sheet-file");
  json sheet = sample::sheet_json();
  change(sheet);
  sample::write_sheet(folder.path(), sheet);
  return read_sheet_file(folder.path() / "sheet.json");
}

std::string message_after(const std::function<void(json&)>& spoil) {
  try {
    read_after(spoil);
  } catch (const base::InputError& error) {
    const std::string words = error.what();
    return words.substr(words.find("sheet.json"));
  }
  return "read";
}

}  // namespace

TEST_CASE("a sheet is read as written", "[picture]") {
  const SheetFile sheet =
      read_after([](json& j) { j["modulus"]["curves"][1]["modulus_MPa"][2] = nullptr; });
  CHECK(sheet.name == "invented butyl 2");
  CHECK(sheet.price_per_m2 == 24.0);
  CHECK(sheet.modulus_name == "shear modulus");
  CHECK_FALSE(sheet.constant);
  REQUIRE(sheet.curves.size() == 5);
  CHECK(sheet.curves[0].temperature_c == -10.0);
  CHECK(sheet.curves[4].loss_factor.size() == sheet.freq_hz.size());
  CHECK(std::isnan(sheet.curves[1].modulus_mpa[2]));
  REQUIRE(sheet.reduced.has_value());
  CHECK(sheet.reduced->isotherms.size() == 11);
  CHECK(sheet.reduced->example_hz == 200.0);
  REQUIRE(sheet.bars.has_value());
  CHECK(sheet.bars->bars.at(1).thickness_mm == 1.0);
  CHECK(sheet.bars->bars.at(1).peak_c == 9.0);
}

TEST_CASE("a sheet without modulus, price and thickness is read too", "[picture]") {
  const SheetFile sheet = read_after([](json& j) {
    j["modulus"] = j["reduced_frequency"] = j["coated_bars"] = nullptr;
    j["price_per_m2"] = j["thickness_mm"] = nullptr;
  });
  CHECK(sheet.curves.empty());
  CHECK_FALSE(sheet.reduced.has_value());
  CHECK_FALSE(sheet.bars.has_value());
  CHECK(std::isnan(sheet.price_per_m2));
  CHECK(std::isnan(sheet.thickness_mm));
}

TEST_CASE("a fault in sheet.json is told with its key and what is allowed", "[picture]") {
  CHECK(message_after([](json& j) { j["schema"] = "calmplate-results"; }) ==
        "sheet.json: is not a sheet of calmplate; allowed: \"schema\": \"calmplate-sheet\"");
  CHECK(message_after([](json& j) { j["schema_version"] = 2; }) ==
        "sheet.json: schema_version: is 2; allowed: 1");
  CHECK(message_after([](json& j) { j.erase("mass_kg_m2"); }) ==
        "sheet.json: mass_kg_m2: is missing");
  CHECK(message_after([](json& j) { j["modulus"]["freq_hz"][3] = 1.0; }) ==
        "sheet.json: modulus.freq_hz: does not rise; allowed: rising numbers");
  CHECK(message_after([](json& j) { j["modulus"]["curves"][2]["loss_factor"].erase(0); }) ==
        "sheet.json: modulus.curves[2].loss_factor: has 40 numbers; allowed: 41");
  CHECK(message_after([](json& j) { j["modulus"]["constant"] = 1; }) ==
        "sheet.json: modulus.constant: is neither true nor false; allowed: true or false");
  CHECK(
      message_after([](json& j) { j["reduced_frequency"]["isotherms"][0]["shift_factor"] = 0; }) ==
      "sheet.json: reduced_frequency.isotherms[0].shift_factor: is not above 0; allowed: above 0");
  CHECK(message_after([](json& j) { j["coated_bars"]["temperatures_C"] = json::array(); }) ==
        "sheet.json: coated_bars.temperatures_C: is empty; allowed: at least one number");
}

}  // namespace calmplate::picture
