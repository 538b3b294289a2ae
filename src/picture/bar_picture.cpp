// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "picture/canvas.hpp"
#include "picture/chart_axes.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kLegendRowMm = 6.4;

Colour fill_of(const Results& results, const Layout& layout) {
  return layout_stroke(std::size_t(&layout - results.layouts.data())).colour;
}

std::vector<double> centres_of(const std::vector<const Layout*>& layouts) {
  std::set<double> centres;
  for (const Layout* layout : layouts) {
    for (const Band& band : layout->third_octaves) centres.insert(band.centre_hz);
  }
  return {centres.begin(), centres.end()};
}

double reduction_at(const Layout& layout, double centre_hz) {
  for (const Band& band : layout.third_octaves) {
    if (band.centre_hz == centre_hz) return band.reduction_db;
  }
  return std::numeric_limits<double>::quiet_NaN();
}

Ticks reduction_ticks(const std::vector<const Layout*>& layouts) {
  double low = 0.0;
  double high = 1.0;
  for (const Layout* layout : layouts) {
    for (const Band& band : layout->third_octaves) {
      if (!std::isfinite(band.reduction_db)) continue;
      low = std::min(low, band.reduction_db);
      high = std::max(high, band.reduction_db);
    }
  }
  return round_ticks(low, 1.05 * high, 8);
}

void draw_bar(Canvas& canvas,
              const ChartFrame& chart,
              double x,
              double width,
              double value,
              const Colour& fill) {
  const double y0 = chart.y_of(0.0);
  const double y1 = chart.y_of(value);
  const Point low{x, std::min(y0, y1)};
  const Point high{x + width, std::max(y0, y1)};
  canvas.rectangle(low, high, fill);
  canvas.frame(low, high, {0.25, kBlack, {}});
  // As large and as fine as the bar is wide: numbers of neighbours must not run into one another.
  const struct {
    double size_pt;
    int decimals;
  } ways[] = {{8.0, 1}, {7.0, 1}, {7.0, 0}};
  for (const auto& way : ways) {
    if (way.decimals == 0 && std::abs(value) < 9.95) return;  // 0.3 dB is not none
    const Type type{
        way.size_pt, false, kBlack, Across::middle, value < 0.0 ? Upright::top : Upright::bottom};
    const std::string words = number(value, way.decimals);
    if (canvas.text_size(words, type).first > width - 0.3) continue;
    canvas.text({x + 0.5 * width, value < 0.0 ? low.y - 0.7 : high.y + 0.7}, words, type);
    return;
  }
}

void draw_legend(Canvas& canvas,
                 const Results& results,
                 const std::vector<const Layout*>& layouts) {
  const double column = (kContentHigh.x - kContentLow.x - 20.0) / 2.0;
  for (std::size_t k = 0; k < layouts.size(); ++k) {
    const double x = kContentLow.x + 20.0 + (k % 2 == 0 ? 0.0 : column);
    const double rows = std::ceil(0.5 * double(layouts.size()));
    const double y = kContentLow.y - 4.5 + kLegendRowMm * (rows - double(k / 2));
    canvas.rectangle({x, y - 2.0}, {x + 8.0, y + 2.0}, fill_of(results, *layouts[k]));
    canvas.frame({x, y - 2.0}, {x + 8.0, y + 2.0}, {0.25, kBlack, {}});
    const Type type{10.0, false, kBlack, Across::left, Upright::middle, 0.0};
    const std::string figures = ": " + reduction_text(layouts[k]->band_reduction_db) +
                                " over the band, " + number(layouts[k]->mass_kg, 2) + " kg";
    const double room = column - 14.0 - canvas.text_size(figures, type).first;
    canvas.text({x + 10.0, y}, canvas.fitted(layouts[k]->name, type, room) + figures, type);
  }
}

}  // namespace

RgbaImage draw_third_octaves(RenderWindow& window, const Results& results) {
  const std::vector<const Layout*> layouts = treated_layouts(results);
  const std::vector<double> centres = centres_of(layouts);
  const Ticks ticks = reduction_ticks(layouts);
  const double rows = std::ceil(0.5 * double(layouts.size()));
  ChartFrame chart;
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 14.0 + kLegendRowMm * rows};
  chart.high = {kContentHigh.x - 2.0, kContentHigh.y - 2.0};
  chart.bottom = ticks.at.front();
  chart.top = ticks.at.back();
  const std::string caption =
      "By how many dB each layout lowers the skin's level in each one-third octave, against the "
      "bare skin. A higher bar is a quieter door; a bar below zero is louder than bare.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Reduction in each one-third octave", caption);
    draw_value_axis(canvas, chart, ticks, "Lower than bare, dB");
    const double slot =
        (chart.high.x - chart.low.x) / double(std::max<std::size_t>(centres.size(), 1));
    const double bar = std::min(0.82 * slot / double(layouts.size()), 18.0);
    const Type type{10.0, false, kBlack, Across::middle, Upright::top, 0.0};
    double last = -1e9;
    for (std::size_t c = 0; c < centres.size(); ++c) {
      const double middle = chart.low.x + (double(c) + 0.5) * slot;
      for (std::size_t k = 0; k < layouts.size(); ++k) {
        const double value = reduction_at(*layouts[k], centres[c]);
        if (!std::isfinite(value)) continue;
        const double x = middle + (double(k) - 0.5 * double(layouts.size())) * bar;
        draw_bar(canvas, chart, x, bar, value, fill_of(results, *layouts[k]));
      }
      if (middle - last < 10.0) continue;
      canvas.text({middle, chart.low.y - 1.8}, third_octave_name(centres[c]), type);
      last = middle;
    }
    canvas.line({{chart.low.x, chart.y_of(0.0)}, {chart.high.x, chart.y_of(0.0)}},
                {0.5, kBlack, {}});
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    const Type heading{10.0, true, kBlack, Across::middle, Upright::top, 0.0};
    canvas.text({0.5 * (chart.low.x + chart.high.x), chart.low.y - 7.0},
                "One-third octave, centre frequency in Hz",
                heading);
    draw_legend(canvas, results, layouts);
  });
}

}  // namespace calmplate::picture
