// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/sheet_pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kLegendRowMm = 6.4;

/// Bars are few: a line and a dash each.
Stroke bar_stroke(std::size_t number) { return layout_stroke(number + 1); }

std::string bar_words(const CoatedBars& bars, const BarCurve& bar) {
  std::string words = number(bar.thickness_mm, 1) + " mm " + bars.material + " bar: ";
  if (bars.temperature_c.size() > 1 &&
      std::all_of(bar.loss_factor.begin(), bar.loss_factor.end(), [&](double value) {
        return std::abs(value - bar.peak_loss) < 1e-9;
      })) {
    return words + number(bar.peak_loss, 3) + " at every temperature";
  }
  words += "highest " + number(bar.peak_loss, 3) + " at " + celsius(bar.peak_c);
  return bar.peak_inside ? words : words + " (end of the range)";
}

}  // namespace

RgbaImage draw_coated_bars(RenderWindow& window, const SheetFile& sheet) {
  const CoatedBars& bars = *sheet.bars;
  const double rows = std::ceil(0.5 * double(bars.bars.size()));
  CurveChart chart;
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 15.0 + kLegendRowMm * rows};
  chart.high = {kContentHigh.x - 20.0, kContentHigh.y - 6.0};
  chart.x = even_axis(bars.temperature_c, 12);
  std::vector<double> losses{0.0};
  for (const BarCurve& bar : bars.bars) {
    losses.insert(losses.end(), bar.loss_factor.begin(), bar.loss_factor.end());
  }
  chart.y = even_axis(losses, 9);
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(
        canvas,
        sheet_page(sheet,
                   "Loss factor of the covered bar over temperature",
                   "What a bar test would show at " + plain_number(bars.freq_hz) +
                       " Hz: a long bar covered from end to end on one face. A bare bar has almost "
                       "none. A door with pieces of sheet has less than the bar."));
    draw_left_axis(canvas, chart, "Composite loss factor, no unit");
    draw_bottom_axis(canvas, chart, "Temperature, °C");
    std::vector<EndLabel> labels;
    for (std::size_t k = 0; k < bars.bars.size(); ++k) {
      const BarCurve& bar = bars.bars[k];
      draw_curve(canvas, chart, bars.temperature_c, bar.loss_factor, bar_stroke(k));
      EndLabel label{{}, number(bar.thickness_mm, 1) + " mm", bar_stroke(k)};
      if (curve_end(chart, bars.temperature_c, bar.loss_factor, label.at)) labels.push_back(label);
      if (!bar.peak_inside) continue;
      const Point peak = chart.at(bar.peak_c, bar.peak_loss);
      canvas.line({peak, {peak.x, chart.low.y}}, {0.25, bar_stroke(k).colour, {1.0, 1.0}});
      canvas.disc(peak, 1.1, bar_stroke(k).colour);
    }
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    draw_end_labels(canvas, chart, labels);
    const double column = 0.5 * (kContentHigh.x - kContentLow.x - 20.0);
    for (std::size_t k = 0; k < bars.bars.size(); ++k) {
      const double x = kContentLow.x + 20.0 + (k % 2 == 0 ? 0.0 : column);
      const double y = kContentLow.y - 3.0 + kLegendRowMm * (rows - double(k / 2));
      canvas.line({{x, y}, {x + 18.0, y}}, bar_stroke(k));
      const Type type{10.0, false, kBlack, Across::left, Upright::middle, 0.0};
      canvas.text({x + 20.0, y}, bar_words(bars, bars.bars[k]), type);
    }
  });
}

}  // namespace calmplate::picture
