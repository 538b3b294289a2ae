// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "picture/canvas.hpp"
#include "picture/door_pictures.hpp"
#include "picture/frequency_axis.hpp"
#include "picture/page.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

/// ": loudest 118.2 dB at 89.0 Hz" for the band's part of a curve.
std::string loudest(const Results& results, const std::vector<double>& level_db) {
  double best = -std::numeric_limits<double>::infinity();
  double at_hz = 0.0;
  for (std::size_t i = 0; i < level_db.size(); ++i) {
    const double f = results.freq_hz[i];
    if (f < results.band_low_hz || f > results.band_high_hz) continue;
    if (!(level_db[i] > best)) continue;
    best = level_db[i];
    at_hz = f;
  }
  if (!std::isfinite(best)) return ": no level";
  return ": loudest " + number(best, 0) + " dB, at " + number(at_hz, 0) + " Hz";
}

Axis level_axis(const Results& results) {
  std::vector<double> all = results.woofer->level_db;
  for (const Layout& layout : results.layouts) {
    all.insert(all.end(), layout.skin_level_db.begin(), layout.skin_level_db.end());
  }
  return even_axis(all, 9);
}

std::vector<KeyLine> key_of(const Results& results) {
  const WooferPlay& woofer = *results.woofer;
  std::vector<KeyLine> lines{
      {woofer_stroke(), "the woofer's own", loudest(results, woofer.level_db), true}};
  for (std::size_t k = 0; k < results.layouts.size(); ++k) {
    const Layout& layout = results.layouts[k];
    if (layout.skin_level_db.empty()) continue;
    lines.push_back({layout_stroke(k),
                     "skin, " + layout.name,
                     loudest(results, layout.skin_level_db),
                     layout.pieces.empty()});
  }
  return lines;
}

}  // namespace

bool has_skin_level(const Results& results) {
  return results.woofer && !results.freq_hz.empty() &&
         std::any_of(results.layouts.begin(), results.layouts.end(), [](const Layout& layout) {
           return !layout.skin_level_db.empty();
         });
}

RgbaImage draw_skin_level(RenderWindow& window, const Results& results) {
  const std::vector<KeyLine> key = key_of(results);
  const double rows = std::ceil(0.5 * double(key.size()));
  CurveChart chart;
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 15.0 + kKeyRowMm * rows};
  chart.high = {kContentHigh.x - 2.0, kContentHigh.y - 6.0};
  chart.x = frequency_axis(results);
  chart.y = level_axis(results);
  const std::string caption =
      "How loud the skin alone is 1 m in front of its middle, and the woofer alone 1 m in front of "
      "its cone in the bare door. " +
      std::string(kSoundAssumptions);
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Sound level at 1 m: skin and woofer", caption);
    shade_band(canvas, chart, results);
    draw_left_axis(canvas, chart, "Level at 1 m, dB re 20 µPa");
    draw_frequency_axis(canvas, chart);
    draw_curve(canvas, chart, results.freq_hz, results.woofer->level_db, woofer_stroke());
    for (std::size_t k = results.layouts.size(); k-- > 0;) {
      draw_curve(
          canvas, chart, results.freq_hz, results.layouts[k].skin_level_db, layout_stroke(k));
    }
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    draw_band_words(canvas,
                    chart,
                    results,
                    "shaded: the band " + band_text(results) + " of the figures below; tones of " +
                        number(results.woofer->voltage_v, 1) + " V rms, " +
                        number(results.woofer->nominal_power_w, 0) + " W into " +
                        plain_number(results.woofer->nominal_ohm) + " ohm");
    draw_key(canvas, key, kContentLow.y - 3.0 + kKeyRowMm * rows);
  });
}

}  // namespace calmplate::picture
