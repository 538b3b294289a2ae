// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/frequency_axis.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

Axis level_axis(const Results& results) {
  std::vector<double> all;
  for (const Layout& layout : results.layouts) {
    all.insert(all.end(), layout.level_db.begin(), layout.level_db.end());
  }
  return even_axis(all, 9);
}

std::vector<KeyLine> key_of(const Results& results) {
  std::vector<KeyLine> lines;
  for (std::size_t k = 0; k < results.layouts.size(); ++k) {
    const Layout& layout = results.layouts[k];
    const std::string figures = layout.pieces.empty()
                                    ? number(layout.band_level_db, 1) + " dB over the band"
                                    : reduction_text(layout.band_reduction_db) + ", " +
                                          number(100.0 * layout.share, 0) + " % of the skin, " +
                                          number(layout.mass_kg, 2) + " kg";
    lines.push_back({layout_stroke(k), layout.name, ": " + figures, layout.pieces.empty()});
  }
  return lines;
}

}  // namespace

RgbaImage draw_response(RenderWindow& window, const Results& results) {
  const double rows = std::ceil(0.5 * double(results.layouts.size()));
  CurveChart chart;
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 15.0 + kKeyRowMm * rows};
  chart.high = {kContentHigh.x - 2.0, kContentHigh.y - 6.0};
  chart.x = frequency_axis(results);
  chart.y = level_axis(results);
  const std::string caption =
      "How strongly the skin vibrates, bare and with each layout. A peak is a mode that rings; "
      "sheet lowers and rounds it. Drive: " +
      results.drive_text + ".";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Bare skin against the layouts", caption);
    shade_band(canvas, chart, results);
    draw_left_axis(canvas, chart, "Vibration, " + results.level_unit);
    draw_frequency_axis(canvas, chart);
    for (std::size_t k = results.layouts.size(); k-- > 0;) {
      draw_curve(canvas, chart, results.freq_hz, results.layouts[k].level_db, layout_stroke(k));
    }
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    draw_band_words(
        canvas, chart, results, "shaded: the band " + band_text(results) + " of the figures below");
    draw_key(canvas, key_of(results), kContentLow.y - 3.0 + kKeyRowMm * rows);
  });
}

}  // namespace calmplate::picture
