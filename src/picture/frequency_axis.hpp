// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "picture/curve_chart.hpp"
#include "picture/result_folder.hpp"

namespace calmplate::picture {

/// Frequencies by their logarithm, ticks at the one-third octaves in [low_hz, high_hz].
Axis frequency_axis(double low_hz, double high_hz);

/// The same over all frequencies of the results' curves; over the band if there are no curves.
Axis frequency_axis(const Results& results);

/// Upright lines at the ticks and, unless `values` is false, their names below with the heading
/// under them. A name that would run into the one before it is left out.
void draw_frequency_axis(Canvas& canvas, const CurveChart& chart, bool values = true);

/// The band of the figures as a grey ground. Draw it before the axes.
void shade_band(Canvas& canvas, const CurveChart& chart, const Results& results);

/// "shaded: the band 40 to 250 Hz ..." over the middle of the shaded part.
void draw_band_words(Canvas& canvas,
                     const CurveChart& chart,
                     const Results& results,
                     const std::string& words);

/// One line of a chart's key.
struct KeyLine {
  Stroke stroke;
  std::string name;     ///< cut with dots where it does not fit
  std::string figures;  ///< set behind the name, never cut
  bool bold = false;
};
constexpr double kKeyRowMm = 6.4;

/// The lines of a chart's key in two columns over the page's width, downwards from `top`.
void draw_key(Canvas& canvas, const std::vector<KeyLine>& lines, double top);

}  // namespace calmplate::picture
