// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sound_json.hpp"

#include <cmath>

#include "base/units.hpp"
#include "drive/woofer_response.hpp"
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

Json tap_json(const study::TapInput& tap) {
  return {{"at_mm", {base::to_mm(tap.at.x()), base::to_mm(tap.at.y())}},
          {"impulse_N_s", tap.impulse_ns},
          {"contact_ms", 1e3 * tap.contact_s},
          {"distance_m", 1.0},
          {"up_to_Hz", tap.up_to_hz}};
}

void add_sound(const study::LayoutResult& layout, Json& out) {
  Json tap = Json::array();
  for (const study::TapTone& t : layout.tap)
    tap.push_back({{"freq_Hz", t.freq_hz},
                   {"decay_per_s", t.decay_per_s},
                   {"amplitude_Pa", t.amplitude_pa},
                   {"phase_rad", t.phase_rad}});
  out["tap"] = tap;
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

Json woofer_set_json(const job::Job& job, const panel::Panel& panel) {
  if (!job.woofer) return nullptr;
  const drive::Woofer w = drive::make_woofer(*job.woofer);
  const std::optional<drive::Box> box = drive::make_box(job.cavity, panel.area_m2);
  const drive::WooferBand own = drive::woofer_band(w, job.filter, box);
  const double volts = drive::amplifier_voltage(job.amplifier, w);
  const double ohm = w.nominal_ohm.value_or(w.re_ohm);
  Json out = {{"count", w.count},
              {"fs_hz", w.fs_hz},
              {"Qms", w.qms},
              {"Qes", w.qes},
              {"Qts", w.qts},
              {"Re_ohm", w.re_ohm},
              {"Bl_Tm", w.bl_tm},
              {"Mms_g", 1e3 * w.mms_kg},
              {"Cms_mm_per_N", 1e3 * w.cms_m_n},
              {"Rms_kg_s", w.rms_ns_m},
              {"Sd_cm2", 1e4 * w.sd_m2},
              {"Vas_l", 1e3 * w.vas_m3},
              {"Xmax_mm", w.xmax_m ? Json(base::to_mm(*w.xmax_m)) : Json(nullptr)},
              {"voltage_V", volts},
              {"nominal_power_W", volts * volts / ohm},
              {"nominal_ohm", ohm},
              {"shut_box", nullptr},
              {"own_band",
               {{"low_hz", own.low_hz},
                {"high_hz", own.high_hz},
                {"peak_hz", own.peak_hz},
                {"goes_on_above", own.open_high}}},
              {"drives_skin", job.drive.kind == drive::Kind::woofer}};
  if (box) {
    const drive::BoxResonance shut = drive::box_resonance(w, box->volume_m3);
    out["shut_box"] = {
        {"volume_l", 1e3 * box->volume_m3}, {"resonance_hz", shut.fc_hz}, {"Qtc", shut.qtc}};
  }
  return out;
}

}  // namespace calmplate::report
