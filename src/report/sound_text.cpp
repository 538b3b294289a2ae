// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sound_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "drive/woofer_response.hpp"
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
  Rows rows = {{"skin under woofer, dB at Hz"}, {"(woofer, dB at 1 m)"}};
  for (const study::SoundBand& s : results.layouts.front().sound) {
    rows[0].push_back(fixed(s.band.nominal_hz, s.band.nominal_hz < 40.0 ? 1 : 0));
    rows[1].push_back(fixed(s.woofer_level_db, 0));
  }
  for (const study::LayoutResult& l : results.layouts) {
    rows.push_back({l.name});
    for (const study::SoundBand& s : l.sound) rows.back().push_back(fixed(under(s), 0));
  }
  return text_table(rows);
}

std::string rattle_table(const study::Results& results) {
  Rows rows = {{"point", "layout", "limit", "sweep", "at", "margin", "noise", "margin"},
               {"", "", "m/s2", "m/s2", "Hz", "dB", "m/s2", "dB"}};
  for (std::size_t p = 0; p < results.layouts.front().rattles.size(); ++p)
    for (const study::LayoutResult& l : results.layouts) {
      const study::RattleResult& r = l.rattles[p];
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
                      margin(r.pink_m_s2)});
    }
  return text_table(rows);
}

/// "71 to 76, 86 to 110 Hz", or "nowhere"
std::string spans_text(const std::vector<study::RattleSpan>& spans) {
  if (spans.empty()) return "nowhere";
  std::string out;
  for (const study::RattleSpan& s : spans) {
    const std::string low = fixed(s.low_hz, 0), high = fixed(s.high_hz, 0);
    out += (out.empty() ? "at " : ", ") + low + (high == low ? "" : "-" + high);
  }
  return out + " Hz";
}

/// Where each point rattles in the sweep, a paragraph a point.
std::string rattle_spans(const study::Results& results) {
  std::string out;
  for (std::size_t p = 0; p < results.layouts.front().rattles.size(); ++p) {
    std::string line = "In the sweep \"" + results.layouts.front().rattles[p].name + "\" rattles";
    for (const study::LayoutResult& l : results.layouts)
      line += (&l == &results.layouts.front() ? ": bare " : "; \"" + l.name + "\" ") +
              spans_text(l.rattles[p].spans);
    out += wrapped(line + ".", kWidth, "");
  }
  return out;
}

std::string slope_text(const char* word, const std::optional<drive::FilterSlope>& slope) {
  if (!slope) return "";
  return std::string(", ") + word + " " + fixed(slope->freq_hz, 0) + " Hz " +
         std::to_string(6 * slope->order) + " dB/octave";
}

/// Where the woofer plays and whether the job takes that as its band.
std::string band_text(const job::Job& job, const drive::WooferBand& own) {
  std::string out = "Plays within 10 dB of its loudest from " + fixed(own.low_hz, 0) + " to " +
                    fixed(own.high_hz, 0) + " Hz, loudest at " + fixed(own.peak_hz, 0) + " Hz";
  if (own.open_high)
    out += " (and beyond " + fixed(own.high_hz, 0) +
           " Hz, where the coil's inductance would count; give a low-pass)";
  if (job.drive.kind != drive::Kind::woofer) return out + ".";
  return out + (job.band_given ? "; the job gives its band itself." : "; that is the job's band.");
}

/// How the woofer reaches the skin.
std::string path_text(const job::Job& job) {
  if (job.drive.kind != drive::Kind::woofer)
    return "[drive] names something else, so the woofer does not shake the skin here.";
  const bool ring = job.woofer->mounting == drive::Mounting::skin;
  if (!job.cavity.wanted) return "It shakes the skin through its ring of screws alone.";
  return ring ? "It shakes the skin through the air behind it and through its ring of screws."
              : "It shakes the skin through the air behind it.";
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
  const auto level = [](double db) { return std::abs(db) < 0.5; };
  const auto words = [&](double db) {
    return level(db) ? "as loud" : fixed(std::abs(db), 0) + (db < 0.0 ? " dB over" : " dB under");
  };
  std::string out = "The bare skin sings " + words(under(*worst)) +
                    (level(under(*worst)) ? " as the woofer at " : " the woofer at ") +
                    fixed(worst->band.nominal_hz, 0) + " Hz, where it is loudest against it";
  for (std::size_t i = 1; i < results.layouts.size(); ++i)
    out += (i == 1 ? "; with \"" : ", with \"") + results.layouts[i].name + "\" " +
           words(under(results.layouts[i].sound[at]));
  return out + " (sound power of the skin's outer face against that of the cone's front).";
}

std::string woofer_text(const job::Job& job, const panel::Panel& panel) {
  if (!job.woofer) return "";
  const drive::Woofer w = drive::make_woofer(*job.woofer);
  const std::optional<drive::Box> box = drive::make_box(job.cavity, panel.area_m2);
  std::string out = w.count == 2 ? "Woofer (two, as one that moves like both)\n" : "Woofer\n";
  const auto cell = [](const char* name, double value, int digits, const char* unit) {
    return std::string(name) + " " + fixed(value, digits) + unit;
  };
  out += text_table({{cell("fs", w.fs_hz, 1, " Hz"),
                      cell("Qms", w.qms, 2, ""),
                      cell("Qes", w.qes, 3, ""),
                      cell("Qts", w.qts, 3, ""),
                      cell("Re", w.re_ohm, 2, " ohm"),
                      cell("Bl", w.bl_tm, 2, " T m")},
                     {cell("Mms", 1e3 * w.mms_kg, 1, " g"),
                      cell("Cms", 1e3 * w.cms_m_n, 3, " mm/N"),
                      cell("Rms", w.rms_ns_m, 2, " kg/s"),
                      cell("Sd", 1e4 * w.sd_m2, 0, " cm2"),
                      cell("Vas", 1e3 * w.vas_m3, 1, " l"),
                      w.xmax_m ? cell("Xmax", base::to_mm(*w.xmax_m), 1, " mm") : "Xmax -"}});
  const double volts = drive::amplifier_voltage(job.amplifier, w);
  const double ohm = w.nominal_ohm.value_or(w.re_ohm);
  std::string words = cell("At", volts, 1, " V rms") + cell(",", volts * volts / ohm, 0, " W") +
                      cell(" into", ohm, 1, " ohm") +
                      slope_text("high-pass", job.filter.high_pass) +
                      slope_text("low-pass", job.filter.low_pass) + ". ";
  if (box) {
    const drive::BoxResonance shut = drive::box_resonance(w, box->volume_m3);
    words += "Shut tight behind a skin that stands still, the " +
             cell("air of", 1e3 * box->volume_m3, 0, " l") + " would put its resonance at " +
             cell("", shut.fc_hz, 1, " Hz,").substr(1) + cell(" Qtc", shut.qtc, 2, ". ");
  }
  words += band_text(job, drive::woofer_band(w, job.filter, box)) + " " + path_text(job);
  return out + wrapped(words, kWidth, "  ");
}

std::string sound_text(const job::Job& job, const study::Results& results) {
  std::string out;
  const study::LayoutResult& bare = results.layouts.front();
  if (results.woofer) {
    out +=
        "Woofer and skin\n" + wrapped(woofer_words(*results.woofer, job.band), kWidth, "") + "\n";
    if (!bare.sound.empty())
      out += sound_table(results) + "\n" + wrapped(sound_sentence(results), kWidth, "") +
             wrapped(
                 "Skin and cone are each taken in a large wall with open air in front of it: no "
                 "cabin, nothing of the car around the door. The coil's inductance is left out.",
                 kWidth,
                 "") +
             "\n";
  }
  if (!bare.door_modes.empty() && !air_sentence(bare).empty())
    out += wrapped(air_sentence(bare), kWidth, "") + "\n";
  if (!bare.rattles.empty())
    out +=
        "Rattles: peak acceleration in a sine sweep, and in pink noise of the same rms with peaks "
        "of " +
        fixed(study::kCrest, 0) + " times rms\n" + rattle_table(results) + rattle_spans(results) +
        "\n";
  return out;
}

}  // namespace calmplate::report
