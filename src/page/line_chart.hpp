// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

namespace calmplate::page {

struct ChartAxis {
  std::string title;
  double low = 0.0, high = 1.0;
  bool logarithmic = false;
  std::vector<double> ticks;
};

/// An axis with round numbers at both ends. NaN values do not count.
ChartAxis even_axis(const std::string& title, const std::vector<double>& values, int most_ticks);
/// An axis of frequencies from low to high with the ticks that people know.
ChartAxis frequency_axis(const std::string& title, double low_hz, double high_hz);

struct ChartCurve {
  std::string name;  ///< set beside its end
  std::size_t style = 0;
  std::vector<double> x, y;
  bool dots = false;  ///< a dot at each point
};

struct ChartBand {
  double low = 0.0, high = 0.0;
  std::string words;
};

struct ChartMark {
  double x = 0.0, y = 0.0;
  std::string words;
};

struct LineChart {
  std::string id;
  std::string title;
  std::string description;
  ChartAxis x, y;
  std::vector<ChartCurve> curves;
  std::optional<ChartBand> band;  ///< shaded
  std::optional<ChartMark> mark;
};

/// Curves with their names beside their ends. Told apart without colour by dash and width.
std::string line_chart_svg(const LineChart& chart);

/// The same, with a key below it where a name had to be cut.
std::string line_chart_html(const LineChart& chart);

constexpr std::size_t kCurveStyles = 6;  ///< CSS classes c0 to c5; further curves begin again at c1

}  // namespace calmplate::page
