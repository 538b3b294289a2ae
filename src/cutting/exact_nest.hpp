// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "cutting/nest.hpp"

namespace calmplate::cutting {

/// The best of all straight-cut plans: fewest pieces of stock (of a roll: shortest length of one),
/// then most area on offcuts. Every subset of the items has its smallest boxes, those that straight
/// cuts can take apart and that no other box of the subset fits into; a box is two boxes of
/// complementary subsets side by side or one over the other.
/// @return nothing if there are more than kExactItems items or kExactOffcuts offcuts, or if the
/// items do
///         not fit (a roll: one roll)
/// Source: [derived] a plan of straight cuts is a tree of such boxes; bottom-up building as in Wang
/// 1983 (memory).
std::optional<Nesting> exact_nest(const NestProblem& problem);

constexpr int kExactOffcuts = 6;

}  // namespace calmplate::cutting
