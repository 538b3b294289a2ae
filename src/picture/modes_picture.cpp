// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/scale_bar.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr std::size_t kMost = 6;
constexpr double kColumnX = 260.0;

std::string shape_field(const Layout& layout, std::size_t mode) {
  return "mode_" + layout.name + "_" + std::to_string(mode + 1);
}

Colour shape_colour(double displacement) {
  return ColourScale::diverging().at(0.5 + 0.5 * displacement);
}

struct Cell {
  Point low;
  Point high;
};

/// Three beside one another, two rows; fewer modes fill fewer and larger cells.
Cell cell_of(std::size_t mode, std::size_t count) {
  const std::size_t columns = count == 1 ? 1 : count <= 4 ? 2 : 3;
  const std::size_t rows = (count + columns - 1) / columns;
  const double width = (kColumnX - 4.0 - kContentLow.x) / double(columns);
  const double height = (kContentHigh.y - kContentLow.y) / double(rows);
  const Point low{kContentLow.x + width * double(mode % columns),
                  kContentHigh.y - height * double(mode / columns + 1)};
  return {low, {low.x + width - 4.0, low.y + height - 2.0}};
}

void draw_one(Canvas& canvas,
              const Results& results,
              const ResultFields& fields,
              const Layout& layout,
              std::size_t mode,
              const Cell& cell) {
  const std::vector<double>& shape = fields.point_field(shape_field(layout, mode));
  const FlatView view(
      results.panel, {cell.low.x, cell.low.y + 1.0}, {cell.high.x, cell.high.y - 13.0}, false);
  view.fill_field(canvas, fields, shape, true, {results.panel.outlines_mm}, shape_colour);
  for (const Isoline& line : view.isolines_on_page(fields, shape, {0.0})) {
    canvas.line(line.points, {0.35, kBlack, {1.6, 0.9}});
  }
  for (const Piece& piece : layout.pieces) {
    for (const Outline& outline : piece.outlines_mm) {
      canvas.closed_line(view.to_page(outline), {0.2, grey(0.35), {}});
    }
  }
  view.draw_rim(canvas, 0.4);
  const Mode& m = layout.modes[mode];
  const Type heading{12.0, true, kBlack, Across::left, Upright::top, 0.0};
  const Type words{9.0, false, kBlack, Across::left, Upright::top, 0.0};
  canvas.text({view.low().x, view.high().y + 12.0},
              std::to_string(mode + 1) + ":  " + number(m.freq_hz, 1) + " Hz",
              heading);
  canvas.text({view.low().x, view.high().y + 6.0},
              "loss " + three_digits(m.loss_factor) + "   rings " + three_digits(m.ring_time_s) +
                  " s   bending " + number(100.0 * m.bending_share, 0) + " %",
              words);
}

void draw_column(Canvas& canvas) {
  ScaleBar bar;
  bar.low = {kColumnX, 70.0};
  bar.height_mm = 70.0;
  bar.from = -1.0;
  bar.to = 1.0;
  bar.ticks = {-1.0, -0.5, 0.0, 0.5, 1.0};
  bar.labels = {"-1 in", "-0.5", "0 still", "0.5", "1 out"};
  bar.heading = "Motion, share of largest";
  bar.heading_width_mm = 23.0;
  draw_scale_bar(canvas, bar, shape_colour);
  canvas.line({{kColumnX, 60.0}, {kColumnX + 12.0, 60.0}}, {0.35, kBlack, {1.6, 0.9}});
  const Type small{9.0, false, kBlack, Across::left, Upright::top, 0.0};
  canvas.text_block({kColumnX, 58.0}, "line that stays still", small, 23.0);
}

}  // namespace

std::size_t drawable_modes(const ResultFields& fields, const Layout& layout) {
  std::size_t count = 0;
  while (count < std::min(kMost, layout.modes.size()) &&
         fields.has_point_field(shape_field(layout, count))) {
    ++count;
  }
  return count;
}

RgbaImage draw_modes(RenderWindow& window,
                     const Results& results,
                     const ResultFields& fields,
                     const Layout& layout) {
  const std::size_t count = drawable_modes(fields, layout);
  const std::string caption =
      "Each picture is one way in which the skin rings by itself, seen from outside: blue and "
      "orange parts move against each other. A high loss and a short ring time mean a dead sound; "
      "sheet can act on the bending part only.";
  return window.draw_page([&](Canvas& canvas) {
    // Where air is shut in or a woofer plays, the modes in the door have a picture of their own.
    const std::string where = layout.door_modes.empty() ? "" : " in free air";
    draw_page_frame(
        canvas, results, "How the skin moves" + where + ": layout " + layout.name, caption);
    for (std::size_t k = 0; k < count; ++k) {
      draw_one(canvas, results, fields, layout, k, cell_of(k, count));
    }
    draw_column(canvas);
  });
}

}  // namespace calmplate::picture
