// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/frequency_axis.hpp"

#include <algorithm>
#include <utility>

#include "picture/page.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kNameRoomMm = 10.0;

/// Ends of the band on the page, within the chart.
std::pair<double, double> band_ends(const CurveChart& chart, const Results& results) {
  const auto x = [&](double freq_hz) {
    return chart.at(std::clamp(freq_hz, chart.x.low, chart.x.high), chart.y.low).x;
  };
  return {x(results.band_low_hz), x(results.band_high_hz)};
}

}  // namespace

Axis frequency_axis(double low_hz, double high_hz) {
  Axis axis;
  axis.low = low_hz;
  axis.high = std::max(high_hz, 1.01 * low_hz);
  axis.logarithmic = true;
  axis.ticks = third_octave_centres(axis.low, axis.high);
  return axis;
}

Axis frequency_axis(const Results& results) {
  if (results.freq_hz.empty()) return frequency_axis(results.band_low_hz, results.band_high_hz);
  return frequency_axis(results.freq_hz.front(), results.freq_hz.back());
}

void draw_frequency_axis(Canvas& canvas, const CurveChart& chart, bool values) {
  const Type type{10.0, false, kBlack, Across::middle, Upright::top, 0.0};
  double last = -1e9;
  for (const double centre : chart.x.ticks) {
    const double x = chart.at(centre, chart.y.low).x;
    canvas.line({{x, chart.low.y}, {x, chart.high.y}}, {0.18, grey(0.72), {}});
    if (!values) continue;
    canvas.line({{x, chart.low.y}, {x, chart.low.y - 1.2}}, {0.3, kBlack, {}});
    if (x - last < kNameRoomMm) continue;
    canvas.text({x, chart.low.y - 1.8}, third_octave_name(centre), type);
    last = x;
  }
  if (!values) return;
  const Type heading{10.0, true, kBlack, Across::middle, Upright::top, 0.0};
  canvas.text({0.5 * (chart.low.x + chart.high.x), chart.low.y - 7.0},
              "Frequency, Hz (ticks at one-third octaves)",
              heading);
}

void shade_band(Canvas& canvas, const CurveChart& chart, const Results& results) {
  const auto [left, right] = band_ends(chart, results);
  canvas.rectangle({left, chart.low.y}, {right, chart.high.y}, grey(0.925));
}

void draw_band_words(Canvas& canvas,
                     const CurveChart& chart,
                     const Results& results,
                     const std::string& words) {
  const auto [left, right] = band_ends(chart, results);
  const Type type{9.5, false, kBlack, Across::middle, Upright::bottom, 0.0};
  canvas.text({0.5 * (left + right), chart.high.y + 1.0}, words, type);
}

void draw_key(Canvas& canvas, const std::vector<KeyLine>& lines, double top) {
  const double column = 0.5 * (kContentHigh.x - kContentLow.x - 8.0);
  for (std::size_t k = 0; k < lines.size(); ++k) {
    const double x = kContentLow.x + 8.0 + (k % 2 == 0 ? 0.0 : column);
    const double y = top - kKeyRowMm * double(k / 2);
    canvas.line({{x, y}, {x + 18.0, y}}, lines[k].stroke);
    const Type type{10.0, lines[k].bold, kBlack, Across::left, Upright::middle, 0.0};
    const double room = column - 24.0 - canvas.text_size(lines[k].figures, type).first;
    canvas.text({x + 20.0, y}, canvas.fitted(lines[k].name, type, room) + lines[k].figures, type);
  }
}

}  // namespace calmplate::picture
