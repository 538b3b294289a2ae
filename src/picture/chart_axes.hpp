// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "picture/canvas.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {

/// The frame of a chart: where a value lies on the page.
struct ChartFrame {
  Point low;            ///< lower left corner, mm on the page
  Point high;           ///< upper right corner
  double bottom = 0.0;  ///< value at the lower edge
  double top = 1.0;     ///< value at the upper edge

  double y_of(double value) const {
    return low.y + (value - bottom) / (top - bottom) * (high.y - low.y);
  }
};

/// Level lines with their values at the left, and the quantity with its unit standing beside them.
void draw_value_axis(Canvas& canvas,
                     const ChartFrame& chart,
                     const Ticks& ticks,
                     const std::string& heading);

}  // namespace calmplate::picture
