// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/map_labels.hpp"
#include "picture/result_folder.hpp"

namespace calmplate::picture {

/// Sets the names of the rim parts inside the rim where there is room: at the middle of a part's
/// line if the results give one, else along the side that "bottom", "right", "top" and "left" are
/// named for, and in the holes "hole-1" (the largest) onwards. Other parts stand in the table only.
void draw_rim_names(Canvas& canvas,
                    const FlatView& view,
                    const PanelSheet& panel,
                    MapLabels& labels);

}  // namespace calmplate::picture
