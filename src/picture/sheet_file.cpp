// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/sheet_file.hpp"

#include "picture/json_reader.hpp"

namespace calmplate::picture {
namespace {

/// Numbers that rise, the first above `above`.
std::vector<double> rising(const JsonReader& json, double above) {
  std::vector<double> values;
  for (const JsonReader& item : json.items()) values.push_back(item.number());
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (!(values[k] > (k == 0 ? above : values[k - 1])))
      json.fail("does not rise", "rising numbers");
  }
  if (values.empty()) json.fail("is empty", "at least one number");
  return values;
}

std::vector<double> as_many(const JsonReader& json, std::size_t count) {
  std::vector<double> values = json.numbers_or_nan();
  if (values.size() != count) {
    json.fail("has " + std::to_string(values.size()) + " numbers", std::to_string(count));
  }
  return values;
}

double above_zero(const JsonReader& json) {
  const double value = json.number();
  if (!(value > 0.0)) json.fail("is not above 0", "above 0");
  return value;
}

void read_modulus(const JsonReader& json, SheetFile& sheet) {
  sheet.modulus_name = json.at("name").text();
  if (json.has("range_text")) sheet.range_text = json.at("range_text").text();
  sheet.constant = json.at("constant").truth();
  sheet.freq_hz = rising(json.at("freq_hz"), 0.0);
  for (const JsonReader& item : json.at("curves").items()) {
    sheet.curves.push_back({item.at("temperature_C").number(),
                            as_many(item.at("modulus_MPa"), sheet.freq_hz.size()),
                            as_many(item.at("loss_factor"), sheet.freq_hz.size())});
  }
}

Isotherm read_isotherm(const JsonReader& json) {
  return {json.at("temperature_C").number(), above_zero(json.at("shift_factor"))};
}

ReducedFrequency read_reduced(const JsonReader& json) {
  ReducedFrequency reduced;
  reduced.shift_text = json.at("shift_text").text();
  reduced.reference_c = json.at("reference_temperature_C").number();
  reduced.reduced_hz = rising(json.at("reduced_freq_hz"), 0.0);
  reduced.modulus_mpa = as_many(json.at("modulus_MPa"), reduced.reduced_hz.size());
  reduced.loss_factor = as_many(json.at("loss_factor"), reduced.reduced_hz.size());
  for (const JsonReader& item : json.at("isotherms").items()) {
    reduced.isotherms.push_back(read_isotherm(item));
  }
  const JsonReader example = json.at("example");
  reduced.example_hz = above_zero(example.at("freq_hz"));
  reduced.example = read_isotherm(example);
  reduced.example_mpa = above_zero(example.at("modulus_MPa"));
  reduced.example_loss = above_zero(example.at("loss_factor"));
  return reduced;
}

CoatedBars read_bars(const JsonReader& json) {
  CoatedBars bars;
  bars.freq_hz = above_zero(json.at("freq_hz"));
  bars.material = json.at("material").text();
  bars.temperature_c = rising(json.at("temperatures_C"), -274.0);
  for (const JsonReader& item : json.at("bars").items()) {
    BarCurve bar;
    bar.thickness_mm = above_zero(item.at("thickness_mm"));
    bar.loss_factor = as_many(item.at("loss_factor"), bars.temperature_c.size());
    const JsonReader peak = item.at("peak");
    bar.peak_c = peak.at("temperature_C").number();
    bar.peak_loss = peak.at("loss_factor").number();
    bar.peak_inside = peak.at("inside_range").truth();
    bars.bars.push_back(bar);
  }
  return bars;
}

}  // namespace

SheetFile read_sheet_file(const std::filesystem::path& file) {
  const nlohmann::json whole = JsonReader::parse(file);
  const JsonReader json(whole, file.string());
  if (!json.has("schema") || json.at("schema").text() != "calmplate-sheet") {
    json.fail("is not a sheet of calmplate", "\"schema\": \"calmplate-sheet\"");
  }
  const int version = json.at("schema_version").whole_number();
  if (version != 1) json.at("schema_version").fail("is " + std::to_string(version), "1");
  SheetFile sheet;
  sheet.name = json.at("name").text();
  sheet.what = json.at("what").text();
  sheet.kind = json.at("kind").text();
  sheet.thickness_mm = json.at("thickness_mm").number_or_nan();
  sheet.mass_kg_m2 = json.at("mass_kg_m2").number_at_least(0.0);
  sheet.price_per_m2 = json.at("price_per_m2").number_or_nan();
  sheet.currency = json.at("currency").text();
  if (json.has("modulus")) read_modulus(json.at("modulus"), sheet);
  if (json.has("reduced_frequency")) sheet.reduced = read_reduced(json.at("reduced_frequency"));
  if (json.has("coated_bars")) sheet.bars = read_bars(json.at("coated_bars"));
  return sheet;
}

}  // namespace calmplate::picture
