// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/scale_bar.hpp"

#include <algorithm>
#include <cmath>

namespace calmplate::picture {

void draw_scale_bar(Canvas& canvas,
                    const ScaleBar& bar,
                    const std::function<Colour(double)>& colour_of) {
  const int i = int(std::lround(bar.low.x * kPxPerMm));
  const int j = int(std::lround(bar.low.y * kPxPerMm));
  const int width = int(std::lround(bar.width_mm * kPxPerMm));
  const int height = int(std::lround(bar.height_mm * kPxPerMm));
  PixelGrid values(width, height, 0.0);
  for (int row = 0; row < height; ++row) {
    for (int k = 0; k < width; ++k) {
      values.at(k, row) = bar.from + (row + 0.5) / height * (bar.to - bar.from);
    }
  }
  canvas.image(i, j, colour_field(values, PixelGrid(width, height, 1.0), colour_of));
  const Point high{bar.low.x + bar.width_mm, bar.low.y + bar.height_mm};
  canvas.frame(bar.low, high, {0.3, kBlack, {}});
  const Type type{9.5, false, kBlack, Across::left, Upright::middle, 0.0};
  for (std::size_t k = 0; k < bar.ticks.size() && k < bar.labels.size(); ++k) {
    const double share = (bar.ticks[k] - bar.from) / (bar.to - bar.from);
    const double y = bar.low.y + share * bar.height_mm;
    canvas.line({{high.x, y}, {high.x + 1.2, y}}, {0.3, kBlack, {}});
    canvas.text({high.x + 2.0, y}, bar.labels[k], type);
  }
  const Type heading{9.5, true, kBlack, Across::left, Upright::top, 0.0};
  const auto rows = canvas.wrapped(bar.heading, heading, bar.heading_width_mm, 4);
  const double top = high.y + 2.5 + line_height_mm(heading.size_pt) * double(rows.size());
  canvas.text_block({bar.low.x, top}, bar.heading, heading, bar.heading_width_mm, 4);
}

Colour band_colour(const std::vector<double>& levels, double value) {
  const auto above = std::upper_bound(levels.begin(), levels.end(), value);
  const auto bands = std::ptrdiff_t(levels.size()) - 1;
  const auto band =
      std::clamp(std::ptrdiff_t(above - levels.begin()) - 1, std::ptrdiff_t(0), bands - 1);
  return ColourScale::sequential().at((double(band) + 0.5) / double(bands));
}

}  // namespace calmplate::picture
