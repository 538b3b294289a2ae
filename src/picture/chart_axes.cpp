// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/chart_axes.hpp"

namespace calmplate::picture {

void draw_value_axis(Canvas& canvas,
                     const ChartFrame& chart,
                     const Ticks& ticks,
                     const std::string& heading) {
  const Type type{10.0, false, kBlack, Across::right, Upright::middle, 0.0};
  for (const double tick : ticks.at) {
    const double y = chart.y_of(tick);
    canvas.line({{chart.low.x, y}, {chart.high.x, y}}, {0.18, grey(0.72), {}});
    canvas.text({chart.low.x - 2.0, y}, tick_label(tick, ticks.step), type);
  }
  const Type upright{10.0, true, kBlack, Across::middle, Upright::middle, 90.0};
  canvas.text({chart.low.x - 15.0, 0.5 * (chart.low.y + chart.high.y)}, heading, upright);
}

}  // namespace calmplate::picture
