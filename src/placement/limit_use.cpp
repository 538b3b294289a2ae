// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/limit_use.hpp"

#include <algorithm>

namespace calmplate::placement {

void LimitUse::add(const Spot& spot, const sheet::Sheet& sheet) {
  const double stock = sheet.stock_width_m * sheet.stock_length_m;
  area_m2 += spot.area_m2;
  mass_kg += spot.area_m2 * sheet.mass_per_area();
  if (stock > 0.0) {
    cost += spot.area_m2 * sheet.price_per_sheet / stock;
    sheets += spot.area_m2 / stock;
  }
  ++pieces;
}

double LimitUse::share_of(const SearchLimits& limits) const {
  return std::max({area_m2 / limits.area_m2,
                   mass_kg / limits.mass_kg,
                   cost / limits.cost,
                   sheets / limits.sheets});
}

bool LimitUse::within(const SearchLimits& limits) const {
  constexpr double kRounding = 1.0 + 1e-9;
  return pieces <= limits.pieces && area_m2 <= limits.area_m2 * kRounding &&
         mass_kg <= limits.mass_kg * kRounding && cost <= limits.cost * kRounding &&
         sheets <= limits.sheets * kRounding;
}

}  // namespace calmplate::placement
