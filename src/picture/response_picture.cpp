// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "picture/canvas.hpp"
#include "picture/chart_axes.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kLegendRowMm = 6.4;

double x_of(const ChartFrame& chart, double low_hz, double high_hz, double freq_hz) {
  const double share = std::log(freq_hz / low_hz) / std::log(high_hz / low_hz);
  return chart.low.x + share * (chart.high.x - chart.low.x);
}

Ticks level_ticks(const Results& results) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const Layout& layout : results.layouts) {
    for (const double level : layout.level_db) {
      if (!std::isfinite(level)) continue;
      low = std::min(low, level);
      high = std::max(high, level);
    }
  }
  if (low > high) return round_ticks(0.0, 1.0, 2);
  return round_ticks(low, high, 9);
}

void draw_frequency_axis(Canvas& canvas, const ChartFrame& chart, double low_hz, double high_hz) {
  const Type type{10.0, false, kBlack, Across::middle, Upright::top, 0.0};
  double last = -1e9;
  for (const double centre : third_octave_centres(low_hz, high_hz)) {
    const double x = x_of(chart, low_hz, high_hz, centre);
    canvas.line({{x, chart.low.y}, {x, chart.high.y}}, {0.18, grey(0.72), {}});
    canvas.line({{x, chart.low.y}, {x, chart.low.y - 1.2}}, {0.3, kBlack, {}});
    if (x - last < 10.0) continue;
    canvas.text({x, chart.low.y - 1.8}, third_octave_name(centre), type);
    last = x;
  }
  const Type heading{10.0, true, kBlack, Across::middle, Upright::top, 0.0};
  canvas.text({0.5 * (chart.low.x + chart.high.x), chart.low.y - 7.0},
              "Frequency, Hz (ticks at one-third octaves)",
              heading);
}

/// The curve without the points that have no level.
std::vector<std::vector<Point>> pieces_of(const std::vector<Point>& points) {
  std::vector<std::vector<Point>> pieces(1);
  for (const Point& p : points) {
    if (std::isfinite(p.y)) {
      pieces.back().push_back(p);
    } else if (!pieces.back().empty()) {
      pieces.emplace_back();
    }
  }
  return pieces;
}

void draw_legend(Canvas& canvas, const Results& results, double top) {
  const double column = 0.5 * (kContentHigh.x - kContentLow.x - 8.0);
  for (std::size_t k = 0; k < results.layouts.size(); ++k) {
    const Layout& layout = results.layouts[k];
    const double x = kContentLow.x + 8.0 + (k % 2 == 0 ? 0.0 : column);
    const double y = top - kLegendRowMm * double(k / 2);
    canvas.line({{x, y}, {x + 18.0, y}}, layout_stroke(k));
    std::string figures = ": ";
    if (layout.pieces.empty()) {
      figures += number(layout.band_level_db, 1) + " dB over the band";
    } else {
      figures += reduction_text(layout.band_reduction_db) + ", " + number(100.0 * layout.share, 0) +
                 " % of the skin, " + number(layout.mass_kg, 2) + " kg";
    }
    const Type type{10.0, layout.pieces.empty(), kBlack, Across::left, Upright::middle, 0.0};
    const double room = column - 24.0 - canvas.text_size(figures, type).first;
    canvas.text({x + 20.0, y}, canvas.fitted(layout.name, type, room) + figures, type);
  }
}

}  // namespace

RgbaImage draw_response(RenderWindow& window, const Results& results) {
  const Ticks ticks = level_ticks(results);
  const double rows = std::ceil(0.5 * double(results.layouts.size()));
  ChartFrame chart;
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 15.0 + kLegendRowMm * rows};
  chart.high = {kContentHigh.x - 2.0, kContentHigh.y - 6.0};
  chart.bottom = ticks.at.front();
  chart.top = ticks.at.back();
  const double low_hz = results.freq_hz.empty() ? results.band_low_hz : results.freq_hz.front();
  const double high_hz = std::max(
      results.freq_hz.empty() ? results.band_high_hz : results.freq_hz.back(), 1.01 * low_hz);
  const std::string caption =
      "How loud the skin is over frequency, bare and with each layout. A peak is a mode that "
      "rings; "
      "sheet lowers and rounds the peaks. Drive: " +
      results.drive_text + ".";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Bare skin against the layouts", caption);
    const auto x = [&](double freq_hz) {
      return x_of(chart, low_hz, high_hz, std::clamp(freq_hz, low_hz, high_hz));
    };
    const double left = x(results.band_low_hz);
    const double right = x(results.band_high_hz);
    canvas.rectangle({left, chart.low.y}, {right, chart.high.y}, grey(0.925));
    draw_value_axis(canvas, chart, ticks, "Level, " + results.level_unit);
    draw_frequency_axis(canvas, chart, low_hz, high_hz);
    for (std::size_t k = results.layouts.size(); k-- > 0;) {
      std::vector<Point> points;
      for (std::size_t i = 0; i < results.freq_hz.size(); ++i) {
        points.push_back({x(results.freq_hz[i]), chart.y_of(results.layouts[k].level_db[i])});
      }
      for (const auto& piece : pieces_of(points)) canvas.line(piece, layout_stroke(k));
    }
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    const Type type{9.5, false, kBlack, Across::middle, Upright::bottom, 0.0};
    canvas.text({0.5 * (left + right), chart.high.y + 1.0},
                "shaded: the band " + band_text(results) + " of the figures below",
                type);
    draw_legend(canvas, results, kContentLow.y - 3.0 + kLegendRowMm * rows);
  });
}

}  // namespace calmplate::picture
