// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "picture/canvas.hpp"
#include "picture/result_folder.hpp"
#include "picture/sheet_colours.hpp"

namespace calmplate::picture {

/// The corner of a piece's rim nearest to the lower left: where its x + y is least.
Point lower_left_corner(const Piece& piece);

/// Rows of pieces from number `first` on (counted from 0), at most `most`, under a heading,
/// downwards from `top_left` in a column 90 mm wide. @return y of the last row's middle
double draw_piece_rows(Canvas& canvas,
                       const Point& top_left,
                       const Layout& layout,
                       std::size_t first,
                       std::size_t most,
                       const SheetColours& colours);

/// Most rows in a column over the whole height of a page.
constexpr std::size_t kListRows = 28;

/// The list of a layout's pieces (at most kRowsBesideDrawing of them), its sums, the sheets, and
/// how the rim is held where there is room left, downwards from `top_left` in a column 90 mm wide.
void draw_layout_table(Canvas& canvas,
                       const Point& top_left,
                       const Results& results,
                       const Layout& layout,
                       const SheetColours& colours);

}  // namespace calmplate::picture
