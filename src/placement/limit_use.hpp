// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "placement/search_request.hpp"

namespace calmplate::placement {

/// What the pieces of a layout use of the search's limits.
struct LimitUse {
  double area_m2 = 0.0, mass_kg = 0.0, cost = 0.0, sheets = 0.0;
  int pieces = 0;

  void add(const Spot& spot, const sheet::Sheet& sheet);
  /// The largest share of a limit, the number of pieces aside; 0 if nothing is limited.
  double share_of(const SearchLimits& limits) const;
  bool within(const SearchLimits& limits) const;  ///< to rounding
};

}  // namespace calmplate::placement
