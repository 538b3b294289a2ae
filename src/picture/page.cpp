// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/page.hpp"

#include <algorithm>

#include "picture/ticks.hpp"

namespace calmplate::picture {

void draw_page_frame(Canvas& canvas,
                     const Results& results,
                     const std::string& title,
                     const std::string& caption) {
  const double width = kContentHigh.x - kContentLow.x;
  const Type heading{18.0, true, kBlack, Across::left, Upright::top, 0.0};
  canvas.text({kContentLow.x, 203.0}, canvas.fitted(title, heading, width), heading);
  std::string job = results.title;
  if (!results.note.empty()) job += "  (" + results.note + ")";
  const Type second{10.0, false, grey(0.25), Across::left, Upright::top, 0.0};
  canvas.text({kContentLow.x, 194.5}, canvas.fitted(job, second, width), second);
  canvas.line({{kContentLow.x, 189.0}, {kContentHigh.x, 189.0}}, {0.35, grey(0.4), {}});
  canvas.line({{kContentLow.x, 26.5}, {kContentHigh.x, 26.5}}, {0.35, grey(0.4), {}});
  const Type words{11.0, false, kBlack, Across::left, Upright::top, 0.0};
  canvas.text_block({kContentLow.x, 24.0}, caption, words, width, 2);
  const PanelSheet& panel = results.panel;
  const std::string footer =
      "Skin " + number(panel.width_mm, 0) + " x " + number(panel.height_mm, 0) + " mm flat, " +
      three_digits(panel.area_m2) + " m², " + number(panel.thickness_mm, 2) +
      " mm thick.  Drive: " + results.drive_text + ".  Band: " + band_text(results) + ".";
  const Type small{8.5, false, grey(0.3), Across::left, Upright::bottom, 0.0};
  canvas.text({kContentLow.x, 8.0}, canvas.fitted(footer, small, width - 40.0), small);
  const Type maker{8.5, false, grey(0.3), Across::right, Upright::bottom, 0.0};
  canvas.text({kContentHigh.x, 8.0}, std::string("calmplate ") + CALMPLATE_VERSION, maker);
}

Stroke chart_stroke(std::size_t number) {
  static const std::vector<Stroke> strokes = {
      {0.45, grey(0.0), {}},
      {0.75, from_lch(48.0, 60.0, 275.0), {}},
      {0.75, from_lch(58.0, 70.0, 55.0), {4.0, 1.4}},
      {0.75, from_lch(36.0, 45.0, 160.0), {1.6, 1.0}},
      {0.75, from_lch(40.0, 50.0, 340.0), {5.0, 1.2, 1.2, 1.2}},
      {1.10, from_lch(72.0, 40.0, 235.0), {}},
      {0.45, from_lch(45.0, 55.0, 30.0), {2.5, 1.0}},
  };
  return strokes[number % strokes.size()];
}

Colour area_fill(std::size_t number, std::size_t count) {
  const double share = count < 2 ? 0.45 : 0.85 - 0.65 * double(number) / double(count - 1);
  return ColourScale::sequential().at(share);
}

std::vector<const Layout*> treated_layouts(const Results& results) {
  std::vector<const Layout*> treated;
  for (const Layout& layout : results.layouts) {
    if (!layout.pieces.empty()) treated.push_back(&layout);
  }
  return treated;
}

std::string band_text(const Results& results) {
  return three_digits(results.band_low_hz) + " to " + three_digits(results.band_high_hz) + " Hz";
}

std::string as_file_name(const std::string& words) {
  std::string name = words;
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  };
  std::replace_if(
      name.begin(), name.end(), [&](char c) { return !plain(c); }, '_');
  return name;
}

}  // namespace calmplate::picture
