// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/layout_table.hpp"

#include <algorithm>
#include <cmath>

#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kWidthMm = 90.0;
constexpr double kRowMm = 5.2;
constexpr std::size_t kMostRim = 8;
constexpr double kLowestMm = 38.0;  ///< the ruler stands below
const Type kWords{8.5, false, kBlack, Across::left, Upright::middle, 0.0};
const Type kStrong{8.5, true, kBlack, Across::left, Upright::middle, 0.0};

/// Right ends (left ends for text) of the columns from the table's left edge, mm.
constexpr double kSheetX = 8.0;
constexpr double kSizeX = 50.0;
constexpr double kCornerX = 68.5;
constexpr double kAreaX = 80.5;
constexpr double kMassX = 90.0;

Type right_aligned(const Type& type) {
  Type out = type;
  out.across = Across::right;
  return out;
}

std::string size_text(const Piece& piece) {
  if (!piece.size_mm) return "shape";
  return number(piece.size_mm->x, 0) + " x " + number(piece.size_mm->y, 0);
}

std::string corner_text(const Piece& piece) {
  if (!piece.size_mm) return "-";
  const Point corner = lower_left_corner(piece);
  return number(corner.x, 0) + ", " + number(corner.y, 0);
}

void draw_header(Canvas& canvas, double x, double y) {
  const Type right = right_aligned(kStrong);
  canvas.text({x, y}, "No.", kStrong);
  canvas.text({x + kSheetX, y}, "Sheet", kStrong);
  canvas.text({x + kSizeX, y}, "Size, mm", right);
  canvas.text({x + kCornerX, y}, "Corner", right);
  canvas.text({x + kAreaX, y}, "m²", right);
  canvas.text({x + kMassX, y}, "kg", right);
  canvas.line({{x, y - 2.8}, {x + kWidthMm, y - 2.8}}, {0.35, kBlack, {}});
}

void draw_piece(
    Canvas& canvas, double x, double y, const Piece& piece, const SheetColours& colours) {
  canvas.rectangle({x, y - 2.1}, {x + 6.5, y + 2.1}, colours.fill(piece.sheet));
  canvas.frame({x, y - 2.1}, {x + 6.5, y + 2.1}, {0.2, kBlack, {}});
  const Type middle{8.5, true, kBlack, Across::middle, Upright::middle, 0.0};
  canvas.text({x + 3.25, y}, std::to_string(piece.number), middle);
  const std::string face = piece.face == "inner" ? "" : " (" + piece.face + " face)";
  canvas.text(
      {x + kSheetX, y}, canvas.fitted(piece.sheet + face, kWords, kSizeX - kSheetX - 19.0), kWords);
  const Type right = right_aligned(kWords);
  canvas.text({x + kSizeX, y}, size_text(piece), right);
  canvas.text({x + kCornerX, y}, corner_text(piece), right);
  canvas.text({x + kAreaX, y}, number(piece.area_m2, 3), right);
  canvas.text({x + kMassX, y}, number(piece.mass_kg, 2), right);
}

double draw_sums(Canvas& canvas, double x, double y, const Layout& layout) {
  canvas.line({{x, y + 2.6}, {x + kWidthMm, y + 2.6}}, {0.35, kBlack, {}});
  const Type right = right_aligned(kStrong);
  const std::string words = "All: " + number(100.0 * layout.share, 0) + " % of the skin, " +
                            reduction_text(layout.band_reduction_db);
  canvas.text({x, y}, canvas.fitted(words, kStrong, kCornerX - 1.0), kStrong);
  canvas.text({x + kAreaX, y}, number(layout.area_m2, 3), right);
  canvas.text({x + kMassX, y}, number(layout.mass_kg, 2), right);
  return y - kRowMm - 3.0;
}

/// The full name behind each colour; the table's own column may have cut it.
double draw_sheets(
    Canvas& canvas, double x, double y, const Layout& layout, const SheetColours& colours) {
  for (const std::string& name : colours.names()) {
    const bool used = std::any_of(layout.pieces.begin(),
                                  layout.pieces.end(),
                                  [&](const Piece& piece) { return piece.sheet == name; });
    if (!used) continue;
    canvas.rectangle({x, y - 1.8}, {x + 6.5, y + 1.8}, colours.fill(name));
    canvas.frame({x, y - 1.8}, {x + 6.5, y + 1.8}, {0.2, kBlack, {}});
    canvas.text({x + kSheetX, y}, canvas.fitted(name, kWords, kWidthMm - kSheetX), kWords);
    y -= kRowMm;
  }
  return y - 3.0;
}

void draw_rim_list(Canvas& canvas, double x, double y, const PanelSheet& panel) {
  canvas.text({x, y}, "How the rim is held", kStrong);
  canvas.line({{x, y - 2.8}, {x + kWidthMm, y - 2.8}}, {0.35, kBlack, {}});
  const std::size_t shown = std::min(panel.rim.size(), kMostRim);
  for (std::size_t k = 0; k < shown; ++k) {
    y -= kRowMm;
    canvas.text({x, y}, canvas.fitted(panel.rim[k].name, kWords, 26.0), kWords);
    canvas.text({x + 28.0, y}, canvas.fitted(panel.rim[k].hold, kWords, 40.0), kWords);
    canvas.text(
        {x + kWidthMm, y}, number(panel.rim[k].length_mm, 0) + " mm", right_aligned(kWords));
  }
  if (shown < panel.rim.size()) {
    canvas.text(
        {x, y - kRowMm}, "and " + std::to_string(panel.rim.size() - shown) + " more", kWords);
  }
}

}  // namespace

Point lower_left_corner(const Piece& piece) {
  const Outline& rim = piece.outlines_mm.front();
  return *std::min_element(
      rim.begin(), rim.end(), [](const Point& a, const Point& b) { return a.x + a.y < b.x + b.y; });
}

double draw_piece_rows(Canvas& canvas,
                       const Point& top_left,
                       const Layout& layout,
                       std::size_t first,
                       std::size_t most,
                       const SheetColours& colours) {
  double y = top_left.y - 3.0;
  if (first >= layout.pieces.size()) return y;
  draw_header(canvas, top_left.x, y);
  y -= 0.6;
  for (std::size_t k = first; k < layout.pieces.size() && k < first + most; ++k) {
    y -= kRowMm;
    draw_piece(canvas, top_left.x, y, layout.pieces[k], colours);
  }
  return y;
}

void draw_layout_table(Canvas& canvas,
                       const Point& top_left,
                       const Results& results,
                       const Layout& layout,
                       const SheetColours& colours) {
  const double x = top_left.x;
  double y = top_left.y - 3.0;
  if (!layout.pieces.empty()) {
    const bool all = layout.pieces.size() <= kRowsBesideDrawing;
    const std::size_t shown = all ? layout.pieces.size() : kRowsBesideDrawing - 1;
    y = draw_piece_rows(canvas, top_left, layout, 0, shown, colours);
    if (!all) {
      y -= kRowMm;
      canvas.text({x + kSheetX, y},
                  "and " + std::to_string(layout.pieces.size() - shown) + " more on the next page",
                  kWords);
    }
    y = draw_sums(canvas, x, y - kRowMm - 0.4, layout);
    y = draw_sheets(canvas, x, y, layout, colours);
  }
  const std::size_t rows = std::min(results.panel.rim.size(), kMostRim) + 2;
  if (y - 2.0 - kRowMm * double(rows) > kLowestMm) {
    draw_rim_list(canvas, x, y - 2.0, results.panel);
  }
}

}  // namespace calmplate::picture
