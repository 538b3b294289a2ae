// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/sample_sheet.hpp"

#include <cmath>
#include <complex>
#include <fstream>
#include <string>
#include <vector>

namespace calmplate::sample {
namespace {

using nlohmann::json;
constexpr double kPi = 3.14159265358979323846;

/// An invented rubbery modulus in MPa over reduced frequency.
std::complex<double> modulus(double reduced_hz) {
  const std::complex<double> z =
      std::pow(std::complex<double>(0.0, 2.0 * kPi * reduced_hz * 6.4e-8), 0.5);
  return (0.1 + 300.0 * z) / (1.0 + z);
}

double shift(double celsius) {
  return std::pow(10.0, -8.83 * (celsius - 20.0) / (175.4 + celsius));
}

double loss(const std::complex<double>& g) { return g.imag() / g.real(); }

json modulus_json() {
  json freq = json::array(), curves = json::array();
  for (int k = 0; k <= 40; ++k) freq.push_back(std::pow(10.0, 1.0 + k / 20.0));
  for (const double t : {-10.0, 0.0, 20.0, 40.0, 60.0}) {
    json curve = {
        {"temperature_C", t}, {"modulus_MPa", json::array()}, {"loss_factor", json::array()}};
    for (const json& f : freq) {
      const auto g = modulus(f.get<double>() * shift(t));
      curve["modulus_MPa"].push_back(g.real());
      curve["loss_factor"].push_back(loss(g));
    }
    curves.push_back(curve);
  }
  return {{"name", "shear modulus"},
          {"constant", false},
          {"range_text", nullptr},
          {"freq_hz", freq},
          {"curves", curves}};
}

json reduced_json() {
  json out = {{"shift_text", "Shift over temperature: WLF, C1 = 8.83, C2 = 195.4 K, from 20 °C."},
              {"reference_temperature_C", 20},
              {"reduced_freq_hz", json::array()},
              {"modulus_MPa", json::array()},
              {"loss_factor", json::array()},
              {"isotherms", json::array()}};
  for (int k = 0; k <= 90; ++k) {
    const double f = std::pow(10.0, -1.0 + 7.0 * k / 90.0);
    out["reduced_freq_hz"].push_back(f);
    out["modulus_MPa"].push_back(modulus(f).real());
    out["loss_factor"].push_back(loss(modulus(f)));
  }
  for (int t = -20; t <= 80; t += 10) {
    out["isotherms"].push_back({{"temperature_C", t}, {"shift_factor", shift(t)}});
  }
  out["example"] = {{"temperature_C", 20},
                    {"freq_hz", 200},
                    {"shift_factor", 1.0},
                    {"modulus_MPa", modulus(200.0).real()},
                    {"loss_factor", loss(modulus(200.0))}};
  return out;
}

json bars_json() {
  json temperatures = json::array(), bars = json::array();
  for (int t = -20; t <= 80; ++t) temperatures.push_back(t);
  for (const double thickness : {0.8, 1.0}) {
    json bar = {{"thickness_mm", thickness}, {"loss_factor", json::array()}};
    const double top = 0.33 * 0.8 / thickness;
    for (const json& t : temperatures) {
      const double x = (t.get<double>() - 9.0) / 28.0;
      bar["loss_factor"].push_back(top / (1.0 + x * x));
    }
    bar["peak"] = {{"temperature_C", 9}, {"loss_factor", top}, {"inside_range", true}};
    bars.push_back(bar);
  }
  return {
      {"freq_hz", 200}, {"material", "steel"}, {"temperatures_C", temperatures}, {"bars", bars}};
}

}  // namespace

json sheet_json() {
  return {{"schema", "calmplate-sheet"},
          {"schema_version", 1},
          {"name", "invented butyl 2"},
          {"what", "butyl core of 2 mm under 0.1 mm of aluminium"},
          {"kind", "constrained"},
          {"thickness_mm", 2.1},
          {"mass_kg_m2", 3.67},
          {"price_per_m2", 24.0},
          {"currency", "EUR"},
          {"modulus", modulus_json()},
          {"reduced_frequency", reduced_json()},
          {"coated_bars", bars_json()}};
}

void write_sheet(const std::filesystem::path& folder, const json& sheet) {
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "sheet.json") << sheet.dump(1) << "\n";
}

void add_temperature(json& results) {
  struct Shape {
    const char* name;
    const char* kind;
    double mass_kg, cost, top_db, best_c, width_c;
  };
  const std::vector<Shape> shapes = {{"butyl 2 mm", "constrained", 0.52, 3.40, 8.3, 12.0, 34.0},
                                     {"butyl 3 mm", "constrained", 0.76, 5.10, 9.4, 16.0, 33.0},
                                     {"bitumen 2 mm", "free layer", 0.47, 1.20, 3.9, 18.0, 20.0},
                                     {"heavy layer", "mass", 0.71, 2.00, 0.8, 20.0, 900.0}};
  json temperatures = json::array(), sheets = json::array();
  for (int t = -20; t <= 80; t += 10) temperatures.push_back(t);
  const auto db = [](const Shape& s, double t) {
    const double x = (t - s.best_c) / s.width_c;
    return s.top_db / (1.0 + x * x);
  };
  for (const Shape& shape : shapes) {
    json sheet = {{"name", shape.name},
                  {"kind", shape.kind},
                  {"mass_kg", shape.mass_kg},
                  {"cost", shape.cost},
                  {"reduction_dB", json::array()},
                  {"dB_per_kg", json::array()},
                  {"dB_per_currency", json::array()}};
    for (const json& t : temperatures) {
      const double value = db(shape, t.get<double>());
      sheet["reduction_dB"].push_back(value);
      sheet["dB_per_kg"].push_back(value / shape.mass_kg);
      sheet["dB_per_currency"].push_back(value / shape.cost);
    }
    sheets.push_back(sheet);
  }
  results["job"]["currency"] = "EUR";
  results["job"]["temperature_C"] = 20;
  results["sheet_comparison"] = {
      {"layout", "partial"},
      {"temperatures_C", temperatures},
      {"tell_apart_dB", 1.0},
      {"sentence",
       "On the layout \"partial\" butyl 3 mm is calmest from -20 to 80 °C; below 10 °C butyl 2 mm "
       "cannot be told apart from it and is lighter."},
      {"sheets", sheets}};
  for (json& layout : results["layouts"]) {
    json rows = json::array();
    const double top = layout["band_reduction_db"];
    for (const json& t : temperatures) {
      const double x = (t.get<double>() - 14.0) / 34.0;
      const double value = top / (1.0 + x * x);
      rows.push_back(
          {{"temperature_C", t}, {"band_level_dB", 131.4 - value}, {"reduction_dB", value}});
    }
    layout["temperature"] = rows;
  }
}

}  // namespace calmplate::sample
