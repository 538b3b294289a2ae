// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/curve_chart.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

const Stroke kLevelLine{0.18, grey(0.72), {}};
const Stroke kFineLine{0.12, grey(0.85), {}};

/// The values at which a scale of logarithms has fine lines: 1 to 9 times each power of ten.
std::vector<double> fine_values(const Axis& axis) {
  std::vector<double> values;
  if (!axis.logarithmic) return values;
  const int first = int(std::floor(std::log10(axis.low) - 1e-9));
  const int last = int(std::ceil(std::log10(axis.high) + 1e-9));
  for (int n = first; n <= last; ++n) {
    for (int k = 1; k <= 9; ++k) {
      const double value = k * std::pow(10.0, n);
      if (value > axis.low * (1.0 + 1e-9) && value < axis.high * (1.0 - 1e-9)) {
        values.push_back(value);
      }
    }
  }
  return values;
}

std::vector<double> shown(const std::vector<double>& values, bool above_zero) {
  std::vector<double> out;
  for (const double value : values) {
    if (std::isfinite(value) && (!above_zero || value > 0.0)) out.push_back(value);
  }
  return out;
}

double tick_step(const Axis& axis) {
  return axis.ticks.size() > 1 ? axis.ticks[1] - axis.ticks[0] : 1.0;
}

void draw_value(Canvas& canvas, const Axis& axis, const Point& at, double value, const Type& type) {
  if (axis.logarithmic) {
    draw_tick_value(canvas, at, value, type);
  } else {
    canvas.text(at, tick_label(value, tick_step(axis)), type);
  }
}

}  // namespace

double Axis::share(double value) const {
  if (!logarithmic) return (value - low) / (high - low);
  if (!(value > 0.0)) return std::numeric_limits<double>::quiet_NaN();
  return std::log(value / low) / std::log(high / low);
}

Axis even_axis(const std::vector<double>& values, int most) {
  const std::vector<double> real = shown(values, false);
  Axis axis;
  const auto ends = std::minmax_element(real.begin(), real.end());
  axis.ticks = real.empty() ? round_ticks(0.0, 1.0, most).at
                            : round_ticks(*ends.first, *ends.second, most).at;
  axis.low = axis.ticks.front();
  axis.high = axis.ticks.back();
  return axis;
}

Axis log_axis(const std::vector<double>& values) {
  const std::vector<double> real = shown(values, true);
  Axis axis;
  axis.logarithmic = true;
  const auto ends = std::minmax_element(real.begin(), real.end());
  axis.ticks = real.empty() ? log_ticks(1.0, 10.0) : log_ticks(*ends.first, *ends.second);
  axis.low = axis.ticks.front();
  axis.high = axis.ticks.back();
  return axis;
}

Point CurveChart::at(double x_value, double y_value) const {
  return {low.x + x.share(x_value) * (high.x - low.x), low.y + y.share(y_value) * (high.y - low.y)};
}

void draw_left_axis(Canvas& canvas,
                    const CurveChart& chart,
                    const std::string& heading,
                    double away_mm) {
  for (const double value : fine_values(chart.y)) {
    const double y = chart.at(chart.x.low, value).y;
    canvas.line({{chart.low.x, y}, {chart.high.x, y}}, kFineLine);
  }
  const Type type{10.0, false, kBlack, Across::right, Upright::middle, 0.0};
  for (const double tick : chart.y.ticks) {
    const double y = chart.at(chart.x.low, tick).y;
    canvas.line({{chart.low.x, y}, {chart.high.x, y}}, kLevelLine);
    draw_value(canvas, chart.y, {chart.low.x - 2.0, y}, tick, type);
  }
  const Type upright{10.0, true, kBlack, Across::middle, Upright::middle, 90.0};
  canvas.text({chart.low.x - away_mm, 0.5 * (chart.low.y + chart.high.y)}, heading, upright);
}

void draw_bottom_axis(Canvas& canvas, const CurveChart& chart, const std::string& heading) {
  for (const double value : fine_values(chart.x)) {
    const double x = chart.at(value, chart.y.low).x;
    canvas.line({{x, chart.low.y}, {x, chart.high.y}}, kFineLine);
  }
  const Type type{10.0, false, kBlack, Across::middle, Upright::top, 0.0};
  for (const double tick : chart.x.ticks) {
    const double x = chart.at(tick, chart.y.low).x;
    canvas.line({{x, chart.low.y}, {x, chart.high.y}}, kLevelLine);
    canvas.line({{x, chart.low.y}, {x, chart.low.y - 1.2}}, {0.3, kBlack, {}});
    draw_value(canvas, chart.x, {x, chart.low.y - 1.8}, tick, type);
  }
  const Type strong{10.0, true, kBlack, Across::middle, Upright::top, 0.0};
  canvas.text({0.5 * (chart.low.x + chart.high.x), chart.low.y - 7.5}, heading, strong);
}

void draw_tick_value(Canvas& canvas, const Point& at, double value, const Type& type) {
  const double power = std::log10(value);
  const int whole = int(std::lround(power));
  if (std::abs(power - whole) > 1e-9 || (whole >= -3 && whole <= 4)) {
    canvas.text(at, value < 1000.0 ? plain_number(value) : number(value, 0), type);
    return;
  }
  Type base = type;
  base.across = Across::left;
  Type raised = base;
  raised.size_pt = 0.7 * type.size_pt;
  const std::string exponent = std::to_string(whole);
  const double first = canvas.text_size("10", base).first + 0.4;
  const double width = first + canvas.text_size(exponent, raised).first;
  const double x = type.across == Across::left     ? at.x
                   : type.across == Across::middle ? at.x - 0.5 * width
                                                   : at.x - width;
  canvas.text({x, at.y}, "10", base);
  const double up = 0.12 * type.size_pt;
  canvas.text(
      {x + first, type.upright == Upright::top ? at.y + 0.5 * up : at.y + up}, exponent, raised);
}

void draw_curve(Canvas& canvas,
                const CurveChart& chart,
                const std::vector<double>& x,
                const std::vector<double>& y,
                const Stroke& stroke) {
  std::vector<Point> piece;
  const auto finish = [&] {
    if (piece.size() == 1) canvas.disc(piece.front(), stroke.width_mm, stroke.colour);
    canvas.line(piece, stroke);
    piece.clear();
  };
  for (std::size_t k = 0; k < x.size() && k < y.size(); ++k) {
    const Point p = chart.at(x[k], y[k]);
    if (std::isfinite(p.x) && std::isfinite(p.y)) {
      piece.push_back(p);
    } else {
      finish();
    }
  }
  finish();
}

bool curve_end(const CurveChart& chart,
               const std::vector<double>& x,
               const std::vector<double>& y,
               Point& end) {
  for (std::size_t k = std::min(x.size(), y.size()); k-- > 0;) {
    const Point p = chart.at(x[k], y[k]);
    if (!std::isfinite(p.x) || !std::isfinite(p.y)) continue;
    end = p;
    return true;
  }
  return false;
}

void draw_end_labels(Canvas& canvas,
                     const CurveChart& chart,
                     std::vector<EndLabel> labels,
                     double size_pt) {
  std::stable_sort(labels.begin(), labels.end(), [](const EndLabel& a, const EndLabel& b) {
    return a.at.y < b.at.y;
  });
  std::vector<double> wanted;
  for (const EndLabel& label : labels) wanted.push_back(label.at.y);
  const double gap = line_height_mm(size_pt);
  const std::vector<double> y = spread(wanted, gap, chart.low.y + 1.0, chart.high.y - 1.0);
  const Type type{size_pt, true, kBlack, Across::left, Upright::middle, 0.0};
  for (std::size_t k = 0; k < labels.size(); ++k) {
    const double x = chart.high.x + 4.5;
    canvas.line({labels[k].at, {chart.high.x + 0.8, labels[k].at.y}, {x, y[k]}},
                {0.25, labels[k].stroke.colour, {}});
    canvas.text({x + 0.8, y[k]}, labels[k].words, type);
  }
}

Stroke temperature_stroke(std::size_t number, std::size_t count) {
  static const std::vector<std::vector<double>> dashes = {{},
                                                          {5.0, 1.3},
                                                          {1.3, 1.0},
                                                          {6.0, 1.2, 1.2, 1.2},
                                                          {2.8, 1.2},
                                                          {6.0, 1.2, 1.2, 1.2, 1.2, 1.2},
                                                          {9.0, 1.6},
                                                          {3.0, 1.0, 0.9, 1.0}};
  static_assert(kTemperatureStrokes == 8, "one dash each");
  const double t = count > 1 ? double(number) / double(count - 1) : 0.5;
  return {0.75, from_lch(28.0 + 34.0 * t, 60.0, 275.0 + 120.0 * t), dashes[number % 8]};
}

}  // namespace calmplate::picture
