// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/result_folder.hpp"

#include <cmath>

#include "picture/json_reader.hpp"

namespace calmplate::picture {
namespace {

PanelSheet read_panel(const JsonReader& json) {
  PanelSheet panel;
  const Point size = json.at("size_flat_mm").point();
  panel.width_mm = size.x;
  panel.height_mm = size.y;
  if (!(size.x > 0.0 && size.y > 0.0)) json.at("size_flat_mm").fail("is not a size", "above 0");
  panel.area_m2 = json.at("area_m2").number_at_least(0.0);
  panel.thickness_mm = json.at("thickness_mm").number_at_least(0.0);
  panel.outlines_mm = json.at("outlines_mm").outlines();
  for (const JsonReader& item : json.at("rim").items()) {
    RimPart part;
    part.name = item.at("name").text();
    part.hold = item.at("hold").text();
    part.length_mm = item.at("length_mm").number_at_least(0.0);
    if (item.has("line_mm")) part.line_mm = item.at("line_mm").points(2);
    panel.rim.push_back(part);
  }
  for (const JsonReader& item : json.at("keep_outs").items()) {
    panel.keep_outs.push_back({item.at("name").text(), item.at("outline_mm").points(3)});
  }
  return panel;
}

Piece read_piece(const JsonReader& json) {
  Piece piece;
  piece.number = json.at("number").whole_number();
  piece.sheet = json.at("sheet").text();
  piece.face = json.at("face").text();
  piece.outlines_mm = json.at("outlines_mm").outlines();
  if (json.has("size_mm")) piece.size_mm = json.at("size_mm").point();
  piece.area_m2 = json.at("area_m2").number_at_least(0.0);
  piece.mass_kg = json.at("mass_kg").number_at_least(0.0);
  return piece;
}

std::vector<AtTemperature> read_temperatures(const JsonReader& json) {
  std::vector<AtTemperature> rows;
  for (const JsonReader& item : json.items()) {
    rows.push_back({item.at("temperature_C").number(),
                    item.at("band_level_dB").number_or_nan(),
                    item.at("reduction_dB").number_or_nan()});
    if (rows.size() > 1 && !(rows.back().temperature_c > rows[rows.size() - 2].temperature_c)) {
      item.at("temperature_C").fail("does not rise", "rising temperatures");
    }
  }
  return rows;
}

Layout read_layout(const JsonReader& json) {
  Layout layout;
  layout.name = json.at("name").text();
  if (layout.name.empty()) json.at("name").fail("is empty", "a name");
  for (const JsonReader& item : json.at("pieces").items())
    layout.pieces.push_back(read_piece(item));
  layout.area_m2 = json.at("area_m2").number_at_least(0.0);
  layout.share = json.at("share").number_at_least(0.0);
  layout.mass_kg = json.at("mass_kg").number_at_least(0.0);
  layout.band_level_db = json.at("band_level_db").number_or_nan();
  layout.band_reduction_db = json.at("band_reduction_db").number_or_nan();
  for (const JsonReader& item : json.at("third_octaves").items()) {
    Band band;
    band.centre_hz = item.at("centre_hz").number();
    if (!(band.centre_hz > 0.0)) item.at("centre_hz").fail("is not a frequency", "above 0");
    band.level_db = item.at("level_db").number_or_nan();
    band.reduction_db = item.at("reduction_db").number_or_nan();
    layout.third_octaves.push_back(band);
  }
  for (const JsonReader& item : json.at("modes").items()) {
    layout.modes.push_back({item.at("freq_hz").number(),
                            item.at("loss_factor").number_or_nan(),
                            item.at("bending_share").number_or_nan(),
                            item.at("ring_time_s").number_or_nan()});
  }
  if (json.has("temperature")) layout.temperature = read_temperatures(json.at("temperature"));
  if (json.has("door_modes")) {
    layout.door_modes = read_door_modes(json.at("door_modes"), layout.modes.size());
  }
  if (json.has("sound")) layout.sound = read_sound(json.at("sound"));
  if (json.has("rattles")) layout.rattles = read_rattles(json.at("rattles"));
  if (json.has("working_map_field")) layout.working_field = json.at("working_map_field").text();
  return layout;
}

BenefitMap read_benefit(const JsonReader& json) {
  BenefitMap map;
  map.sheet = json.at("sheet").text();
  map.piece_mm = json.at("piece_mm").number_at_least(0.0);
  map.field = json.at("field").text();
  const JsonReader best = json.at("best");
  map.best_centre_mm = best.at("centre_mm").point();
  map.best_db = best.at("benefit_db").number();
  return map;
}

/// One number a temperature.
std::vector<double> over_temperature(const JsonReader& sheet, const char* key, std::size_t count) {
  const JsonReader list = sheet.at(key);
  std::vector<double> values = list.numbers_or_nan();
  if (values.size() != count) {
    list.fail("has " + std::to_string(values.size()) + " numbers",
              std::to_string(count) + ", one a temperature");
  }
  return values;
}

SheetComparison read_comparison(const JsonReader& json) {
  SheetComparison comparison;
  comparison.layout = json.at("layout").text();
  const JsonReader temperatures = json.at("temperatures_C");
  for (const JsonReader& item : temperatures.items()) {
    const double value = item.number();
    if (!comparison.temperature_c.empty() && !(value > comparison.temperature_c.back())) {
      temperatures.fail("does not rise", "rising temperatures");
    }
    comparison.temperature_c.push_back(value);
  }
  if (comparison.temperature_c.empty()) temperatures.fail("is empty", "at least one temperature");
  comparison.tell_apart_db = json.at("tell_apart_dB").number_at_least(0.0);
  comparison.sentence = json.at("sentence").text();
  const JsonReader sheets = json.at("sheets");
  for (const JsonReader& item : sheets.items()) {
    const std::size_t count = comparison.temperature_c.size();
    comparison.sheets.push_back({item.at("name").text(),
                                 item.at("kind").text(),
                                 item.at("mass_kg").number_at_least(0.0),
                                 item.at("cost").number_or_nan(),
                                 over_temperature(item, "reduction_dB", count),
                                 over_temperature(item, "dB_per_kg", count),
                                 over_temperature(item, "dB_per_currency", count)});
  }
  if (comparison.sheets.empty()) sheets.fail("is empty", "at least one sheet");
  return comparison;
}

void read_curves(const JsonReader& json, Results& results) {
  results.level_unit = json.at("unit").text();
  const JsonReader freq = json.at("freq_hz");
  for (const JsonReader& item : freq.items()) results.freq_hz.push_back(item.number());
  for (std::size_t k = 0; k < results.freq_hz.size(); ++k) {
    const double before = k == 0 ? 0.0 : results.freq_hz[k - 1];
    if (!(results.freq_hz[k] > before)) freq.fail("does not rise", "rising frequencies above 0");
  }
  for (Layout& layout : results.layouts) {
    layout.level_db = read_curve(json.at("level_db").at(layout.name), results.freq_hz.size());
  }
}

/// The curves of the woofer's sound: they lie over the frequencies of all curves.
void read_woofer_curves(const JsonReader& json, Results& results) {
  if (!json.has("woofer")) return;
  results.woofer = read_woofer(json.at("woofer"), results.freq_hz.size());
  const std::vector<JsonReader> layouts = json.at("layouts").items();
  for (std::size_t k = 0; k < layouts.size(); ++k) {
    if (!layouts[k].has("skin_level_dB")) continue;
    results.layouts[k].skin_level_db =
        read_curve(layouts[k].at("skin_level_dB"), results.freq_hz.size());
  }
}

void check_schema(const JsonReader& json, const std::string& schema, const std::string& wrong) {
  if (!json.has("schema") || json.at("schema").text() != schema) {
    json.fail(wrong, "\"schema\": \"" + schema + "\"");
  }
  const int version = json.at("schema_version").whole_number();
  if (version != 1) json.at("schema_version").fail("is " + std::to_string(version), "1");
}

}  // namespace

Results read_results(const std::filesystem::path& file) {
  const nlohmann::json whole = JsonReader::parse(file);
  const JsonReader json(whole, file.string());
  check_schema(json, "calmplate-results", "is not a calmplate result");
  Results results;
  results.title = json.at("job").at("title").text();
  if (json.at("job").has("note")) results.note = json.at("job").at("note").text();
  if (json.at("job").has("currency")) results.currency = json.at("job").at("currency").text();
  if (json.at("job").has("temperature_C")) {
    results.temperature_c = json.at("job").at("temperature_C").number();
  }
  results.panel = read_panel(json.at("panel"));
  const JsonReader band = json.at("band");
  results.band_low_hz = band.at("low_hz").number();
  results.band_high_hz = band.at("high_hz").number();
  if (!(results.band_low_hz > 0.0 && results.band_high_hz > results.band_low_hz)) {
    band.fail("is empty", "0 < low_hz < high_hz");
  }
  results.drive_text = json.at("drive").at("text").text();
  results.driven_by_woofer =
      json.at("drive").has("kind") && json.at("drive").at("kind").text() == "woofer";
  if (json.at("drive").has("at_mm")) results.drive_at_mm = json.at("drive").at("at_mm").point();
  const JsonReader layouts = json.at("layouts");
  for (const JsonReader& item : layouts.items()) results.layouts.push_back(read_layout(item));
  if (results.layouts.empty()) layouts.fail("is empty", "at least one layout");
  read_curves(json.at("curves"), results);
  read_woofer_curves(json, results);
  if (json.has("benefit_map")) results.benefit = read_benefit(json.at("benefit_map"));
  if (json.has("sheet_comparison")) {
    results.comparison = read_comparison(json.at("sheet_comparison"));
  }
  if (json.has("coverage_curve")) results.coverage = read_coverage(json.at("coverage_curve"));
  return results;
}

CheckFile read_check(const std::filesystem::path& file) {
  const nlohmann::json whole = JsonReader::parse(file);
  const JsonReader json(whole, file.string());
  check_schema(json, "calmplate-check", "is not what calmplate check writes");
  CheckFile check;
  check.title = json.at("job").at("title").text();
  if (json.at("job").has("note")) check.note = json.at("job").at("note").text();
  check.panel = read_panel(json.at("panel"));
  return check;
}

}  // namespace calmplate::picture
