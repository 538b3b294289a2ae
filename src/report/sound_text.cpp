// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sound_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr std::size_t kWidth = 96;

std::string woofer_words(const study::WooferResult& w, const drive::BandInput& band) {
  std::string out = "Woofer at " + fixed(w.voltage_v, 1) + " V rms, " +
                    fixed(w.nominal_power_w, 0) + " W into " + fixed(w.nominal_ohm, 1) + " ohm.";
  if (w.band_is_own)
    out += " The band of " + fixed(band.low_hz, 0) + " to " + fixed(band.high_hz, 0) +
           " Hz is where it plays within 10 dB of its loudest.";
  out += " In the bare door its cone travels " + fixed(base::to_mm(w.travel_m), 1) +
         " mm one way at most, at " + fixed(w.travel_hz, 0) + " Hz";
  if (w.xmax_m > 0.0)
    out += w.travel_m > w.xmax_m
               ? ": more than its Xmax of " + fixed(base::to_mm(w.xmax_m), 1) +
                     " mm, so that a steady tone of this level there is out of its reach"
               : ", within its Xmax of " + fixed(base::to_mm(w.xmax_m), 1) + " mm";
  return out + ".";
}

double under(const study::SoundBand& s) { return s.woofer_power_db - s.skin_power_db; }

std::string sound_table(const study::Results& results) {
  Rows rows = {{"skin under woofer, dB at Hz"}};
  for (const study::SoundBand& s : results.layouts.front().sound)
    rows[0].push_back(fixed(s.band.nominal_hz, s.band.nominal_hz < 40.0 ? 1 : 0));
  for (const study::LayoutResult& l : results.layouts) {
    rows.push_back({l.name});
    for (const study::SoundBand& s : l.sound) rows.back().push_back(fixed(under(s), 0));
  }
  return text_table(rows);
}

std::string rattle_table(const study::Results& results) {
  Rows rows = {{"point", "layout", "limit", "sweep", "at", "margin", "noise", "margin", "rattles"},
               {"", "", "m/s2", "m/s2", "Hz", "dB", "m/s2", "dB", "at Hz"}};
  for (std::size_t p = 0; p < results.layouts.front().rattles.size(); ++p)
    for (const study::LayoutResult& l : results.layouts) {
      const study::RattleResult& r = l.rattles[p];
      std::string spans;
      for (const study::RattleSpan& s : r.spans)
        spans += (spans.empty() ? "" : ", ") + fixed(s.low_hz, 0) +
                 (s.high_hz > s.low_hz ? "-" + fixed(s.high_hz, 0) : "");
      const auto margin = [&](double peak) {
        return fixed(2.0 * base::to_db(r.limit_m_s2 / peak), 1);
      };
      rows.push_back({&l == &results.layouts.front() ? r.name : "",
                      l.name,
                      fixed(r.limit_m_s2, 1),
                      fixed(r.sweep_m_s2, 1),
                      fixed(r.sweep_hz, 0),
                      margin(r.sweep_m_s2),
                      fixed(r.pink_m_s2, 1),
                      margin(r.pink_m_s2),
                      spans.empty() ? "-" : spans});
    }
  return text_table(rows);
}

/// What the shut-in air does to the lowest mode whose shape lives on.
std::string air_sentence(const study::LayoutResult& bare) {
  for (const study::DoorModeResult& m : bare.door_modes) {
    if (m.like == 0 || m.skin_share < 0.5) continue;
    const study::ModeResult& free = bare.modes[static_cast<std::size_t>(m.like - 1)];
    return "Shut in behind the skin, the air works as a spring where the skin moves all one way "
           "and as added mass where it does not: mode " +
           std::to_string(m.like) + " of the bare skin, at " + fixed(free.freq_hz, 1) +
           " Hz with free air on both faces, lies at " + fixed(m.freq_hz, 1) +
           " Hz in the door (loss factor " + fixed(free.loss_factor, 3) + " and " +
           fixed(m.loss_factor, 3) + ").";
  }
  return "";
}

}  // namespace

std::string sound_sentence(const study::Results& results) {
  const std::vector<study::SoundBand>& bare = results.layouts.front().sound;
  if (bare.empty()) return "";
  const auto worst = std::min_element(
      bare.begin(), bare.end(), [](const auto& a, const auto& b) { return under(a) < under(b); });
  const auto at = static_cast<std::size_t>(worst - bare.begin());
  const auto words = [](double db) {
    return fixed(std::abs(db), 0) + (db < 0.0 ? " dB over" : " dB under");
  };
  std::string out = "The bare skin sings " + words(under(*worst)) + " the woofer at " +
                    fixed(worst->band.nominal_hz, 0) + " Hz, where it is loudest against it";
  for (std::size_t i = 1; i < results.layouts.size(); ++i)
    out += (i == 1 ? "; with \"" : ", with \"") + results.layouts[i].name + "\" " +
           words(under(results.layouts[i].sound[at]));
  return out + " (sound power of the skin's outer face against that of the cone's front).";
}

std::string sound_text(const job::Job& job, const study::Results& results) {
  std::string out;
  const study::LayoutResult& bare = results.layouts.front();
  if (results.woofer) {
    out +=
        "Woofer and skin\n" + wrapped(woofer_words(*results.woofer, job.band), kWidth, "") + "\n";
    if (!bare.sound.empty())
      out += sound_table(results) + "\n" + wrapped(sound_sentence(results), kWidth, "") + "\n";
  }
  if (!bare.door_modes.empty() && !air_sentence(bare).empty())
    out += wrapped(air_sentence(bare), kWidth, "") + "\n";
  if (!bare.rattles.empty())
    out +=
        "Rattles: peak acceleration in a sine sweep, and in pink noise of the same rms with peaks "
        "of " +
        fixed(study::kCrest, 0) + " times rms\n" + rattle_table(results) + "\n";
  return out;
}

}  // namespace calmplate::report
