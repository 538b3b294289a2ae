// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/sample_woofer.hpp"

#include <cmath>
#include <string>
#include <vector>

namespace calmplate::sample {
namespace {

using nlohmann::json;

json sound_of(double quieter_db) {
  json bands = json::array();
  for (const double f : {40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0}) {
    const double woofer = 108.0 - 300.0 / f;
    const double skin = 112.0 - 14.0 * std::abs(std::log2(f / 100.0)) - quieter_db;
    bands.push_back({{"nominal_hz", f},
                     {"low_hz", f / 1.122},
                     {"high_hz", f * 1.122},
                     {"skin_power_dB", skin},
                     {"woofer_power_dB", woofer},
                     {"skin_level_dB", skin - 8.0},
                     {"woofer_level_dB", woofer - 8.0},
                     {"skin_under_woofer_dB", woofer - skin}});
  }
  return bands;
}

/// A mode in the door like each one in free air, the first split in three.
json door_modes_of(const json& layout) {
  const auto mode = [](double freq, double skin, double cone, double air, json like) {
    return json{{"freq_hz", freq},
                {"loss_factor", 0.03},
                {"skin_share", skin},
                {"cone_share", cone},
                {"air_share", air},
                {"like_mode", std::move(like)}};
  };
  const double first = layout.at("modes")[0].at("freq_hz");
  json modes = json::array({mode(0.6 * first, 0.2, 0.1, 0.7, 1),
                            mode(1.1 * first, 0.1, 0.8, 0.1, 1),
                            mode(1.3 * first, 0.9, 0.0, 0.1, 1),
                            mode(1.4 * first, 0.3, 0.0, 0.7, nullptr)});
  for (std::size_t k = 1; k < layout.at("modes").size(); ++k) {
    const double freq = layout.at("modes")[k].at("freq_hz");
    modes.push_back(mode(0.99 * freq, 0.95, 0.01, 0.04, k + 1));
  }
  return modes;
}

json curve_of(const json& freq_hz, double (*value)(double)) {
  json out = json::array();
  for (const json& f : freq_hz) out.push_back(value(f.get<double>()));
  return out;
}

}  // namespace

json rattle_json(const std::string& name) {
  json spans = json::array();
  spans.push_back({{"low_hz", 80}, {"high_hz", 120}, {"worst_hz", 100}, {"over_dB", 14.2}});
  spans.push_back({{"low_hz", 160}, {"high_hz", 180}, {"worst_hz", 170}, {"over_dB", 1.3}});
  return {{"name", name},
          {"limit_m_s2", 20},
          {"sweep_peak_m_s2", 102.6},
          {"sweep_hz", 100},
          {"sweep_margin_dB", -14.2},
          {"pink_noise_peak_m_s2", 80.0},
          {"pink_noise_margin_dB", -12.0},
          {"crest", 4},
          {"rattles", spans}};
}

void add_woofer(json& results) {
  const json freq = results.at("curves").at("freq_hz");
  results["drive"] = {{"kind", "woofer"},
                      {"text", "woofer at 10 V rms (25 W into 4 ohm)"},
                      {"at_mm", {300.0, 200.0}},
                      {"voltage_V", 10}};
  results["woofer"] = {
      {"voltage_V", 10},
      {"nominal_power_W", 25},
      {"nominal_ohm", 4},
      {"band_is_own", true},
      {"xmax_mm", 5},
      {"travel_mm", 4.0},
      {"travel_hz", 60},
      {"sentence", "The bare skin sings 7 dB over the woofer at 100 Hz."},
      {"travel_curve_mm",
       curve_of(freq, [](double f) { return 4.0 / (1.0 + std::pow((f - 60.0) / 60.0, 2)); })},
      {"level_dB", curve_of(freq, [](double f) { return 100.0 - 300.0 / f; })},
      {"frame_force_N", curve_of(freq, [](double f) { return 0.05 * f; })},
      {"skin_force_N", curve_of(freq, [](double f) { return 4000.0 / f; })}};
  double quieter = 0.0;
  for (json& layout : results["layouts"]) {
    layout["sound"] = sound_of(quieter);
    json level = json::array();
    for (const json& f : freq) {
      level.push_back(104.0 - 12.0 * std::abs(std::log2(f.get<double>() / 100.0)) - quieter);
    }
    layout["skin_level_dB"] = level;
    layout["rattles"] = json::array({rattle_json("wiring clip"), rattle_json("latch rod")});
    layout["door_modes"] = door_modes_of(layout);
    quieter += 4.0;
  }
}

}  // namespace calmplate::sample
