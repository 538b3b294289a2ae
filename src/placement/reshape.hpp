// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "panel/panel.hpp"
#include "placement/search_request.hpp"

namespace calmplate::placement {

/// A spot with one of its sides moved outwards by `step_m` (inwards if below 0), each side in turn,
/// as far as the sheet allows other sizes than those listed and spot_at allows the place. Sides
/// stay above half a grid step.
std::vector<Spot> stretched(const panel::Panel& panel,
                            const SearchRequest& request,
                            const Spot& spot,
                            double step_m);

/// Two pieces that lie side by side as one, the gap between them closed: where that makes a
/// rectangle that the sheet allows.
std::optional<Spot> joined(const panel::Panel& panel,
                           const SearchRequest& request,
                           const Spot& a,
                           const Spot& b);

}  // namespace calmplate::placement
