// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sound_json.hpp"

#include <cmath>

#include "base/units.hpp"
#include "report/sound_text.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json curve(const Eigen::VectorXd& values, double factor = 1.0) {
  Json out = Json::array();
  for (const double v : values) out.push_back(number(factor * v));
  return out;
}

Json rattle_json(const study::RattleResult& r, double crest) {
  Json spans = Json::array();
  for (const study::RattleSpan& s : r.spans)
    spans.push_back({{"low_hz", s.low_hz},
                     {"high_hz", s.high_hz},
                     {"worst_hz", s.worst_hz},
                     {"over_dB", s.over_db}});
  const auto margin = [&](double peak) { return number(2.0 * base::to_db(r.limit_m_s2 / peak)); };
  return {{"name", r.name},
          {"limit_m_s2", r.limit_m_s2},
          {"sweep_peak_m_s2", r.sweep_m_s2},
          {"sweep_hz", r.sweep_hz},
          {"sweep_margin_dB", margin(r.sweep_m_s2)},
          {"pink_noise_peak_m_s2", r.pink_m_s2},
          {"pink_noise_margin_dB", margin(r.pink_m_s2)},
          {"crest", crest},
          {"rattles", spans}};
}

}  // namespace

void add_sound(const study::LayoutResult& layout, Json& out) {
  Json modes = Json::array(), sound = Json::array(), rattles = Json::array();
  for (const study::DoorModeResult& m : layout.door_modes)
    modes.push_back({{"freq_hz", m.freq_hz},
                     {"loss_factor", m.loss_factor},
                     {"skin_share", m.skin_share},
                     {"cone_share", m.cone_share},
                     {"air_share", m.air_share},
                     {"like_mode", m.like == 0 ? Json(nullptr) : Json(m.like)}});
  for (const study::SoundBand& s : layout.sound)
    sound.push_back({{"nominal_hz", s.band.nominal_hz},
                     {"low_hz", s.band.low_hz},
                     {"high_hz", s.band.high_hz},
                     {"skin_power_dB", number(s.skin_power_db)},
                     {"woofer_power_dB", number(s.woofer_power_db)},
                     {"skin_level_dB", number(s.skin_level_db)},
                     {"woofer_level_dB", number(s.woofer_level_db)},
                     {"skin_under_woofer_dB", number(s.woofer_power_db - s.skin_power_db)}});
  for (const study::RattleResult& r : layout.rattles)
    rattles.push_back(rattle_json(r, study::kCrest));
  out["door_modes"] = modes;
  out["sound"] = sound;
  out["skin_level_dB"] = curve(layout.skin_level_db);
  out["rattles"] = rattles;
}

Json woofer_json(const study::Results& results) {
  if (!results.woofer) return nullptr;
  const study::WooferResult& w = *results.woofer;
  return {{"voltage_V", w.voltage_v},
          {"nominal_power_W", w.nominal_power_w},
          {"nominal_ohm", w.nominal_ohm},
          {"band_is_own", w.band_is_own},
          {"xmax_mm", w.xmax_m > 0.0 ? Json(base::to_mm(w.xmax_m)) : Json(nullptr)},
          {"travel_mm", base::to_mm(w.travel_m)},
          {"travel_hz", w.travel_hz},
          {"sentence", sound_sentence(results)},
          {"travel_curve_mm", curve(w.travel_curve_m, 1e3)},
          {"level_dB", curve(w.level_db)},
          {"frame_force_N", curve(w.frame_force_n)},
          {"skin_force_N", curve(w.skin_force_n)}};
}

}  // namespace calmplate::report
