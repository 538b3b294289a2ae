// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "panel/panel.hpp"
#include "placement/search_request.hpp"

namespace calmplate::placement {

/// The spot of a piece with that centre, or nothing if it would hang over the rim, come nearer to
/// it than the margin, enter a keep-out or lie on what is there already.
std::optional<Spot> spot_at(const panel::Panel& panel,
                            const SearchRequest& request,
                            std::size_t sheet,
                            const Eigen::Vector2d& size_m,
                            double angle_rad,
                            const Eigen::Vector2d& centre);

/// All spots on the request's grid, in a fixed order. Pieces of equal sides are not turned.
std::vector<Spot> all_spots(const panel::Panel& panel, const SearchRequest& request);

/// True if two pieces overlap or lie nearer to each other than the gap.
bool in_the_way(const Spot& a, const Spot& b, double gap_m);

}  // namespace calmplate::placement
