// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/line_chart.hpp"

#include <algorithm>
#include <cmath>

#include "page/format.hpp"
#include "page/svg.hpp"

namespace calmplate::page {
namespace {

constexpr double kWidth = 480.0, kHeight = 320.0;
constexpr double kLeft = 52.0, kRight = 350.0, kTop = 16.0, kBottom = 272.0;
constexpr double kLabelGap = 17.0;
constexpr std::size_t kLabelLetters = 13;

double place(const ChartAxis& axis, double value, double from, double to) {
  if (axis.logarithmic)
    return from + (to - from) * std::log(value / axis.low) / std::log(axis.high / axis.low);
  return from + (to - from) * (value - axis.low) / (axis.high - axis.low);
}

struct Frame {
  const LineChart* chart;
  double x(double value) const { return place(chart->x, value, kLeft, kRight); }
  double y(double value) const { return place(chart->y, value, kBottom, kTop); }
};

void draw_axes(SvgWriter& svg, const Frame& frame) {
  const LineChart& c = *frame.chart;
  for (const double tick : c.y.ticks) {
    svg.line(kLeft, frame.y(tick), kRight, frame.y(tick), "grid");
    svg.text(kLeft - 6.0, frame.y(tick) + 5.0, short_number(tick), "end", "tick");
  }
  double last = -1e9;
  for (const double tick : c.x.ticks) {
    const double x = frame.x(tick);
    svg.line(x, kBottom, x, kBottom + 5.0, "axis");
    const std::string words = short_number(tick);
    const double half = 4.3 * static_cast<double>(words.size());
    if (x - half < last + 4.0) continue;
    svg.text(x, kBottom + 20.0, words, "middle", "tick");
    last = x + half;
  }
  svg.line(kLeft, kBottom, kRight, kBottom, "axis");
  svg.text(0.5 * (kLeft + kRight), kHeight - 8.0, c.x.title, "middle", "title");
  svg.text(14.0, 0.5 * (kTop + kBottom), c.y.title, "middle", "title", -90.0);
}

std::size_t style_of(std::size_t number) {
  return number < kCurveStyles ? number : 1 + (number - 1) % (kCurveStyles - 1);
}

/// Names beside the curves' ends, moved apart where they would run into one another.
void draw_names(SvgWriter& svg, const Frame& frame) {
  struct Name {
    double wanted = 0.0, at = 0.0;
    const ChartCurve* curve = nullptr;
  };
  std::vector<Name> names;
  for (const ChartCurve& curve : frame.chart->curves) {
    double y = NAN;
    for (const double value : curve.y)
      if (std::isfinite(value)) y = frame.y(value);
    if (std::isfinite(y)) names.push_back({y, y, &curve});
  }
  std::stable_sort(
      names.begin(), names.end(), [](const Name& a, const Name& b) { return a.wanted < b.wanted; });
  for (std::size_t i = 0; i < names.size(); ++i)
    names[i].at = std::max(names[i].wanted, i == 0 ? kTop + 4.0 : names[i - 1].at + kLabelGap);
  for (std::size_t i = names.size(); i-- > 0;)
    names[i].at =
        std::min(names[i].at, i + 1 == names.size() ? kBottom : names[i + 1].at - kLabelGap);
  for (const Name& name : names) {
    const std::string style = std::to_string(style_of(name.curve->style));
    svg.path({{kRight + 1.0, name.wanted}, {kRight + 5.0, name.at}, {kRight + 19.0, name.at}},
             "key c" + style);
    svg.text(kRight + 23.0,
             name.at + 4.5,
             shortened(name.curve->name, kLabelLetters),
             "start",
             "name n" + style);
  }
}

}  // namespace

ChartAxis even_axis(const std::string& title, const std::vector<double>& values, int most_ticks) {
  double low = INFINITY, high = -INFINITY;
  for (const double v : values) {
    if (!std::isfinite(v)) continue;
    low = std::min(low, v);
    high = std::max(high, v);
  }
  if (low > high) low = 0.0, high = 1.0;
  if (high - low < 1e-9 * std::max(1.0, std::abs(high))) high = low + 1.0;
  ChartAxis axis{title, low, high, false, {}};
  double step = std::pow(10.0, std::floor(std::log10((high - low) / most_ticks)));
  for (const double factor : {2.0, 2.5, 2.0})
    if (std::ceil(high / step) - std::floor(low / step) > most_ticks) step *= factor;
  axis.low = step * std::floor(low / step + 1e-9);
  axis.high = step * std::ceil(high / step - 1e-9);
  const long count = std::lround((axis.high - axis.low) / step);
  for (long i = 0; i <= count; ++i) axis.ticks.push_back(axis.low + step * static_cast<double>(i));
  for (double& tick : axis.ticks)
    if (std::abs(tick) < 1e-9 * step) tick = 0.0;
  return axis;
}

ChartAxis frequency_axis(const std::string& title, double low_hz, double high_hz) {
  ChartAxis axis{title, low_hz, high_hz > low_hz ? high_hz : 2.0 * low_hz, true, {}};
  for (double decade = 1.0; decade < 1e5; decade *= 10.0)
    for (const double f : {1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 7.0})
      if (f * decade >= axis.low && f * decade <= axis.high) axis.ticks.push_back(f * decade);
  return axis;
}

std::string line_chart_svg(const LineChart& chart) {
  SvgWriter svg(chart.id, kWidth, kHeight, chart.title, chart.description);
  const Frame frame{&chart};
  if (chart.band) {
    const double from = std::max(kLeft, frame.x(chart.band->low));
    const double to = std::min(kRight, frame.x(chart.band->high));
    svg.rectangle(from, kTop, std::max(0.0, to - from), kBottom - kTop, "band");
    svg.text(0.5 * (from + to), kBottom - 8.0, chart.band->words, "middle", "bandname");
  }
  draw_axes(svg, frame);
  for (std::size_t k = chart.curves.size(); k-- > 0;) {
    const ChartCurve& curve = chart.curves[k];
    const std::string style = std::to_string(style_of(curve.style));
    std::vector<std::pair<double, double>> points;
    for (std::size_t i = 0; i < curve.x.size() && i < curve.y.size(); ++i)
      points.push_back({frame.x(curve.x[i]), frame.y(curve.y[i])});
    svg.path(points, "curve c" + style);
    if (curve.dots)
      for (const auto& p : points)
        if (std::isfinite(p.second)) svg.disc(p.first, p.second, 3.2, "dot d" + style);
  }
  if (chart.mark) {
    const double x = frame.x(chart.mark->x), y = frame.y(chart.mark->y);
    svg.line(x, y, x, kBottom, "mark");
    svg.disc(x, y, 6.0, "ring");
    svg.text(x + 8.0, y + 20.0, chart.mark->words, "start", "name n0");
  }
  draw_names(svg, frame);
  return svg.finished();
}

std::string line_chart_html(const LineChart& chart) {
  std::string key;
  bool cut = false;
  for (const ChartCurve& curve : chart.curves) {
    cut = cut || shortened(curve.name, kLabelLetters) != curve.name;
    key +=
        "<li><svg class=\"swatch\" viewBox=\"0 0 30 10\" aria-hidden=\"true\"><path class=\"key c" +
        std::to_string(style_of(curve.style)) + "\" d=\"M0 5L30 5\"/></svg> " +
        escaped(curve.name) + "</li>";
  }
  return line_chart_svg(chart) + (cut ? "<ul class=\"legend\">" + key + "</ul>" : "");
}

}  // namespace calmplate::page
