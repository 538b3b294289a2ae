// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/layout_table.hpp"
#include "picture/map_labels.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/rim_names.hpp"
#include "picture/sheet_colours.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kTableX = 194.0;
constexpr double kDiscMm = 3.3;
constexpr double kSizes[3] = {10.5, 9.5, 8.0};  ///< pt, of numbers with one, two, three digits

Point between(const Point& a, const Point& b, double s) {
  return {a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)};
}

double distance(const Point& a, const Point& b) { return std::hypot(b.x - a.x, b.y - a.y); }

/// A dimension line along the edge a-b, moved into the piece towards `inside`.
void draw_dimension(
    Canvas& canvas, Point a, Point b, const Point& inside, double length_mm, double away) {
  const double page = distance(a, b);
  if (a.x > b.x + 1e-6 || (std::abs(a.x - b.x) <= 1e-6 && a.y > b.y)) std::swap(a, b);
  const double ux = (b.x - a.x) / page;
  const double uy = (b.y - a.y) / page;
  const Point middle = between(a, b, 0.5);
  const double side = (inside.x - middle.x) * -uy + (inside.y - middle.y) * ux > 0.0 ? 1.0 : -1.0;
  const Point shift{-uy * side * away, ux * side * away};
  const Point from{a.x + shift.x + 0.6 * ux, a.y + shift.y + 0.6 * uy};
  const Point to{b.x + shift.x - 0.6 * ux, b.y + shift.y - 0.6 * uy};
  canvas.line({from, to}, {0.22, kBlack, {}});
  canvas.arrow_head(from, -ux, -uy, 2.0, kBlack);
  canvas.arrow_head(to, ux, uy, 2.0, kBlack);
  Type type{8.5, false, kBlack, Across::middle, Upright::middle, 0.0};
  type.turn_deg = std::atan2(uy, ux) * 57.29577951308232;
  canvas.boxed_text({middle.x + shift.x, middle.y + shift.y}, number(length_mm, 0), type);
}

/// Width along the lower edge and height along the left edge, where there is room for them.
void draw_dimensions(Canvas& canvas, const FlatView& view, const Piece& piece) {
  if (!piece.size_mm || piece.outlines_mm.size() != 1) return;
  Outline page = view.to_page(piece.outlines_mm[0]);
  if (page.size() == 5) page.pop_back();
  if (page.size() != 4) return;
  const Point centre = between(page[0], page[2], 0.5);
  const double sides[2] = {distance(page[0], page[1]), distance(page[1], page[2])};
  for (std::size_t k = 0; k < 2; ++k) {
    if (sides[k] < 15.0 || sides[1 - k] < 17.0) continue;
    // Of the two edges of this length the one further down or to the left.
    const Point m = between(page[k], page[k + 1], 0.5);
    const Point n = between(page[k + 2], page[(k + 3) % 4], 0.5);
    const bool first = m.x + m.y < n.x + n.y;
    const Point& a = first ? page[k] : page[k + 2];
    const Point& b = first ? page[k + 1] : page[(k + 3) % 4];
    draw_dimension(canvas, a, b, centre, sides[k] / view.scale(), 3.4);
  }
}

/// A place inside the outlines with room around it: the middle of the longest level chord, chords
/// near the middle of the height preferred.
Point roomy_point(const Outlines& page) {
  double low = 1e300;
  double high = -1e300;
  for (const Point& p : page.front()) {
    low = std::min(low, p.y);
    high = std::max(high, p.y);
  }
  Point best{page.front().front()};
  double best_room = -1.0;
  constexpr int kChords = 41;
  for (int k = 1; k < kChords; ++k) {
    const double share = double(k) / kChords;
    const double y = low + share * (high - low);
    for (const auto& [from, to] : inside_spans(page, y)) {
      const double room = (to - from) * (1.0 - std::abs(2.0 * share - 1.0));
      if (room <= best_room + 1e-9) continue;
      best_room = room;
      best = {0.5 * (from + to), y};
    }
  }
  return best;
}

void draw_number(Canvas& canvas, const Point& at, int piece) {
  canvas.disc(at, kDiscMm, kBlack);
  canvas.disc(at, kDiscMm - 0.4, kWhite);
  const std::string words = std::to_string(piece);
  const Type type{kSizes[std::min<std::size_t>(words.size(), 3) - 1],
                  true,
                  kBlack,
                  Across::middle,
                  Upright::middle};
  canvas.text(at, words, type);
}

void draw_pieces(Canvas& canvas,
                 const FlatView& view,
                 const Layout& layout,
                 const SheetColours& colours,
                 MapLabels& labels) {
  for (const Piece& piece : layout.pieces) {
    view.fill(canvas, piece.outlines_mm, colours.fill(piece.sheet));
  }
  for (const Piece& piece : layout.pieces) {
    for (const Outline& outline : piece.outlines_mm) {
      canvas.closed_line(view.to_page(outline), {0.45, kBlack, {}});
    }
    draw_dimensions(canvas, view, piece);
    if (piece.size_mm) canvas.disc(view.to_page(lower_left_corner(piece)), 1.0, kBlack);
    const Point at = roomy_point(view.to_page(piece.outlines_mm));
    labels.keep_free({at.x - kDiscMm, at.y - kDiscMm}, {at.x + kDiscMm, at.y + kDiscMm});
  }
}

}  // namespace

RgbaImage draw_layout(RenderWindow& window, const Results& results, const Layout& layout) {
  std::string caption;
  if (layout.pieces.empty()) {
    caption = "The bare skin: rim parts, holes and places to keep free.";
  } else {
    caption =
        "What to cut and where to lay it, seen from outside: working from the inside, left and "
        "right "
        "change places.";
    const bool any_dot = std::any_of(layout.pieces.begin(),
                                     layout.pieces.end(),
                                     [](const Piece& piece) { return piece.size_mm.has_value(); });
    if (any_dot)
      caption += " A piece's dot is the corner whose place from the datum the table gives.";
  }
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Layout " + layout.name, caption);
    const FlatView view(results.panel, kContentLow, {kTableX - 5.0, kContentHigh.y}, true);
    const SheetColours colours(results);
    MapLabels labels;
    view.fill(canvas, results.panel.outlines_mm, grey(0.965));
    draw_pieces(canvas, view, layout, colours, labels);
    view.draw_rim(canvas);
    view.draw_keep_outs(canvas);
    for (const KeepOut& zone : results.panel.keep_outs) {
      labels.keep_free_around(view.to_page(zone.outline_mm));
    }
    draw_rim_names(canvas, view, results.panel, labels);
    for (const Piece& piece : layout.pieces) {
      draw_number(canvas, roomy_point(view.to_page(piece.outlines_mm)), piece.number);
    }
    view.draw_tape(canvas);
    draw_layout_table(canvas, {kTableX, kContentHigh.y - 1.0}, results, layout, colours);
    draw_ruler(canvas, {kTableX, 31.5}, view.scale());
  });
}

RgbaImage draw_piece_list(RenderWindow& window, const Results& results, const Layout& layout) {
  constexpr std::size_t kColumns = 3;
  const std::size_t rows = (layout.pieces.size() + kColumns - 1) / kColumns;
  std::string caption =
      "All pieces of the layout: the corner of each is the dot on the layout's "
      "drawing, in mm right and up from the datum, seen from outside.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Pieces of layout " + layout.name, caption);
    const SheetColours colours(results);
    const std::size_t most = std::min(rows, kListRows);
    for (std::size_t k = 0; k < kColumns; ++k) {
      const Point at{kContentLow.x - 1.5 + 92.0 * double(k), kContentHigh.y - 1.0};
      draw_piece_rows(canvas, at, layout, k * most, most, colours);
    }
    if (layout.pieces.size() > kColumns * kListRows) {
      const Type type{9.0, true, kBlack, Across::left, Upright::bottom, 0.0};
      canvas.text({kContentLow.x, kContentLow.y - 1.0},
                  "and " + std::to_string(layout.pieces.size() - kColumns * kListRows) +
                      " more in results.json",
                  type);
    }
  });
}

}  // namespace calmplate::picture
