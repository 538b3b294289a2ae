// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "picture/canvas.hpp"
#include "picture/result_folder.hpp"
#include "picture/sheet_colours.hpp"

namespace calmplate::picture {

/// The corner of a piece's rim nearest to the lower left: where its x + y is least.
Point lower_left_corner(const Piece& piece);

/// The list of a layout's pieces, its sums, and how the rim is held, downwards from `top_left` in a
/// column 90 mm wide.
void draw_layout_table(Canvas& canvas,
                       const Point& top_left,
                       const Results& results,
                       const Layout& layout,
                       const SheetColours& colours);

}  // namespace calmplate::picture
