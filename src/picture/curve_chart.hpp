// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "picture/canvas.hpp"

namespace calmplate::picture {

/// One axis of a chart of curves: values between two ends, evenly spaced or by their logarithm.
struct Axis {
  double low = 0.0;
  double high = 1.0;
  bool logarithmic = false;
  std::vector<double> ticks;  ///< ascending, within [low, high]

  /// 0 at `low`, 1 at `high`; NaN for what a logarithm cannot show.
  double share(double value) const;
};

/// Axes with round ends that hold all finite values; a scale of logarithms passes over what is not
/// above 0. Without any value from 0 to 1 (1 to 10 by logarithms).
/// @param most  about the most ticks that shall stand
Axis even_axis(const std::vector<double>& values, int most);
Axis log_axis(const std::vector<double>& values);

/// The frame of a chart of curves, mm on the page.
struct CurveChart {
  Point low;
  Point high;
  Axis x;
  Axis y;

  Point at(double x_value, double y_value) const;
};

/// Level lines with values at the left and the quantity with its unit standing `away_mm` beside it.
void draw_left_axis(Canvas& canvas,
                    const CurveChart& chart,
                    const std::string& heading,
                    double away_mm = 15.0);

/// Upright lines with values below and the quantity with its unit under them.
void draw_bottom_axis(Canvas& canvas, const CurveChart& chart, const std::string& heading);

/// A value at a tick: short, powers of ten beyond 0.001 and 10000 with a raised exponent.
void draw_tick_value(Canvas& canvas, const Point& at, double value, const Type& type);

/// A curve through points; one that is not finite, or that a logarithm cannot show, leaves a gap.
/// A point between two gaps is drawn as a dot.
/// @param x,y  [n_point]
void draw_curve(Canvas& canvas,
                const CurveChart& chart,
                const std::vector<double>& x,
                const std::vector<double>& y,
                const Stroke& stroke);

/// What stands at the right-hand end of a curve.
struct EndLabel {
  Point at;  ///< end of the curve, mm on the page
  std::string words;
  Stroke stroke;  ///< of the curve
};

/// The labels beside the chart's right edge, moved up or down so that none runs into another, each
/// joined to its curve by a thin line.
void draw_end_labels(Canvas& canvas,
                     const CurveChart& chart,
                     std::vector<EndLabel> labels,
                     double size_pt = 9.5);

/// The last finite point of a curve on the page; none: false.
bool curve_end(const CurveChart& chart,
               const std::vector<double>& x,
               const std::vector<double>& y,
               Point& end);

/// How the curve of one temperature of several is drawn, coldest first: from dark blue to light
/// red, each with a dash of its own, so that a grey print tells them apart.
Stroke temperature_stroke(std::size_t number, std::size_t count);
/// Number of dashes that temperature_stroke has.
constexpr std::size_t kTemperatureStrokes = 8;

}  // namespace calmplate::picture
