// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/page.hpp"

#include <algorithm>
#include <cmath>

#include "picture/ticks.hpp"

namespace calmplate::picture {

namespace {

/// One line of figures, or two if they are too long for it: the second begins with the last of the
/// sentences, which two blanks part from one another.
void draw_footer(Canvas& canvas, const std::string& words, double width) {
  const Type small{8.5, false, grey(0.3), Across::left, Upright::bottom, 0.0};
  const std::size_t part = words.rfind("  ");
  if (part == std::string::npos || canvas.text_size(words, small).first <= width) {
    canvas.text({kContentLow.x, 8.0}, canvas.fitted(words, small, width), small);
    return;
  }
  canvas.text({kContentLow.x, 10.0}, canvas.fitted(words.substr(0, part), small, width), small);
  canvas.text({kContentLow.x, 10.0 - line_height_mm(small.size_pt)},
              canvas.fitted(words.substr(part + 2), small, width),
              small);
}

}  // namespace

void draw_page_frame(Canvas& canvas, const PageWords& words) {
  const double width = kContentHigh.x - kContentLow.x;
  const Type heading{18.0, true, kBlack, Across::left, Upright::top, 0.0};
  canvas.text({kContentLow.x, 203.0}, canvas.fitted(words.title, heading, width), heading);
  const Type second{10.0, false, grey(0.25), Across::left, Upright::top, 0.0};
  canvas.text({kContentLow.x, 194.5}, canvas.fitted(words.second, second, width), second);
  canvas.line({{kContentLow.x, 189.0}, {kContentHigh.x, 189.0}}, {0.35, grey(0.4), {}});
  canvas.line({{kContentLow.x, 26.5}, {kContentHigh.x, 26.5}}, {0.35, grey(0.4), {}});
  const Type plain{11.0, false, kBlack, Across::left, Upright::top, 0.0};
  canvas.text_block({kContentLow.x, 24.0}, words.caption, plain, width, 2);
  draw_footer(canvas, words.footer, width - 32.0);
  const Type maker{8.5, false, grey(0.3), Across::right, Upright::bottom, 0.0};
  canvas.text({kContentHigh.x, 8.0}, std::string("calmplate ") + CALMPLATE_VERSION, maker);
}

void draw_page_frame(Canvas& canvas,
                     const Results& results,
                     const std::string& title,
                     const std::string& caption) {
  std::string job = results.title;
  if (!results.note.empty()) job += "  (" + results.note + ")";
  const PanelSheet& panel = results.panel;
  const std::string footer =
      "Skin " + number(panel.width_mm, 0) + " x " + number(panel.height_mm, 0) + " mm flat, " +
      three_digits(panel.area_m2) + " m², " + number(panel.thickness_mm, 2) +
      " mm thick.  Band: " + band_text(results) + ".  Drive: " + results.drive_text + ".";
  draw_page_frame(canvas, {title, job, caption, footer});
}

Stroke layout_stroke(std::size_t number) {
  static const std::vector<Stroke> strokes = {
      {0.45, grey(0.0), {}},
      {0.75, from_lch(46.0, 55.0, 275.0), {}},
      {0.75, from_lch(68.0, 65.0, 65.0), {4.0, 1.4}},
      {0.75, from_lch(30.0, 30.0, 160.0), {1.6, 1.0}},
      {0.75, from_lch(56.0, 55.0, 350.0), {5.0, 1.2, 1.2, 1.2}},
      {1.10, from_lch(78.0, 32.0, 235.0), {}},
      {0.45, from_lch(40.0, 45.0, 40.0), {2.5, 1.0}},
  };
  if (number == 0) return strokes[0];
  Stroke stroke = strokes[1 + (number - 1) % (strokes.size() - 1)];
  if (number >= strokes.size()) stroke.dash_mm = {8.0, 1.2, 1.2, 1.2, 1.2, 1.2};
  return stroke;
}

std::vector<const Layout*> treated_layouts(const Results& results) {
  std::vector<const Layout*> treated;
  for (const Layout& layout : results.layouts) {
    if (!layout.pieces.empty()) treated.push_back(&layout);
  }
  return treated;
}

std::string reduction_text(double reduction_db) {
  if (!std::isfinite(reduction_db)) return "no level";
  const bool higher = number(reduction_db, 1)[0] == '-';
  return number(std::abs(reduction_db), 1) + (higher ? " dB higher" : " dB lower");
}

std::string band_text(const Results& results) {
  return plain_number(results.band_low_hz) + " to " + plain_number(results.band_high_hz) + " Hz";
}

}  // namespace calmplate::picture
