// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/door_figures.hpp"

namespace calmplate::picture {
namespace {

double frequency(const JsonReader& json) {
  const double value = json.number();
  if (!(value > 0.0)) json.fail("is not a frequency", "above 0");
  return value;
}

RattleSpan read_span(const JsonReader& json) {
  const RattleSpan span{
      frequency(json.at("low_hz")), frequency(json.at("high_hz")), json.at("over_dB").number()};
  if (span.high_hz < span.low_hz) json.at("high_hz").fail("is below low_hz", "at least low_hz");
  return span;
}

}  // namespace

std::vector<double> read_curve(const JsonReader& json, std::size_t n_freq) {
  std::vector<double> values = json.numbers_or_nan();
  if (values.size() != n_freq) {
    json.fail("has " + std::to_string(values.size()) + " numbers",
              std::to_string(n_freq) + ", one a frequency");
  }
  return values;
}

std::vector<SoundBand> read_sound(const JsonReader& json) {
  std::vector<SoundBand> bands;
  for (const JsonReader& item : json.items()) {
    bands.push_back({frequency(item.at("nominal_hz")),
                     item.at("skin_power_dB").number_or_nan(),
                     item.at("woofer_power_dB").number_or_nan(),
                     item.at("skin_under_woofer_dB").number_or_nan()});
    if (bands.size() > 1 && !(bands.back().nominal_hz > bands[bands.size() - 2].nominal_hz)) {
      item.at("nominal_hz").fail("does not rise", "rising frequencies");
    }
  }
  return bands;
}

std::vector<DoorMode> read_door_modes(const JsonReader& json, std::size_t modes_in_air) {
  std::vector<DoorMode> modes;
  for (const JsonReader& item : json.items()) {
    DoorMode mode;
    mode.freq_hz = frequency(item.at("freq_hz"));
    mode.loss_factor = item.at("loss_factor").number_or_nan();
    mode.skin_share = item.at("skin_share").number_at_least(0.0);
    mode.cone_share = item.at("cone_share").number_at_least(0.0);
    mode.air_share = item.at("air_share").number_at_least(0.0);
    if (item.has("like_mode")) {
      const int like = item.at("like_mode").whole_number();
      if (like < 1 || std::size_t(like) > modes_in_air) {
        item.at("like_mode")
            .fail("is no mode's number", "1 to " + std::to_string(modes_in_air) + ", or null");
      }
      mode.like = std::size_t(like);
    }
    modes.push_back(mode);
  }
  return modes;
}

std::vector<Rattle> read_rattles(const JsonReader& json) {
  std::vector<Rattle> rattles;
  for (const JsonReader& item : json.items()) {
    Rattle rattle;
    rattle.name = item.at("name").text();
    rattle.limit_m_s2 = item.at("limit_m_s2").number_at_least(0.0);
    rattle.sweep_m_s2 = item.at("sweep_peak_m_s2").number_or_nan();
    rattle.sweep_hz = item.at("sweep_hz").number_or_nan();
    rattle.sweep_margin_db = item.at("sweep_margin_dB").number_or_nan();
    rattle.noise_margin_db = item.at("pink_noise_margin_dB").number_or_nan();
    rattle.crest = item.at("crest").number_at_least(1.0);
    for (const JsonReader& span : item.at("rattles").items()) {
      rattle.spans.push_back(read_span(span));
    }
    rattles.push_back(rattle);
  }
  return rattles;
}

WooferPlay read_woofer(const JsonReader& json, std::size_t n_freq) {
  WooferPlay woofer;
  woofer.voltage_v = json.at("voltage_V").number_at_least(0.0);
  woofer.nominal_power_w = json.at("nominal_power_W").number_at_least(0.0);
  woofer.nominal_ohm = json.at("nominal_ohm").number_at_least(0.0);
  woofer.band_is_own = json.at("band_is_own").truth();
  if (json.has("xmax_mm")) woofer.xmax_mm = json.at("xmax_mm").number_at_least(0.0);
  woofer.travel_mm = json.at("travel_mm").number_at_least(0.0);
  woofer.travel_hz = frequency(json.at("travel_hz"));
  woofer.sentence = json.at("sentence").text();
  woofer.travel_curve_mm = read_curve(json.at("travel_curve_mm"), n_freq);
  woofer.level_db = read_curve(json.at("level_dB"), n_freq);
  woofer.frame_force_n = read_curve(json.at("frame_force_N"), n_freq);
  woofer.skin_force_n = read_curve(json.at("skin_force_N"), n_freq);
  return woofer;
}

}  // namespace calmplate::picture
