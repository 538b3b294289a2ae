// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "picture/canvas.hpp"

namespace calmplate::picture {

/// A standing scale of colours.
struct ScaleBar {
  Point low;  ///< lower left corner, mm on the page
  double width_mm = 6.0;
  double height_mm = 70.0;
  double from = 0.0;  ///< value at the lower end
  double to = 1.0;    ///< value at the upper end, above `from`
  std::vector<double> ticks;
  std::vector<std::string> labels;  ///< one a tick
  std::string heading;              ///< quantity and unit, set above the bar
  double heading_width_mm = 50.0;
};

void draw_scale_bar(Canvas& canvas,
                    const ScaleBar& bar,
                    const std::function<Colour(double)>& colour_of);

/// The colour of the band between two levels in which a value lies: that of the band's middle.
/// @param levels  ascending, two or more
Colour band_colour(const std::vector<double>& levels, double value);

}  // namespace calmplate::picture
