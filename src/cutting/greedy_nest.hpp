// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cutting/nest.hpp"

namespace calmplate::cutting {

/// Which rest an item goes into: the one that is left with the least area, the least short side or
/// the least long side.
enum class RestChoice { area, short_side, long_side };

/// How the rest round an item is cut: along the longer or the shorter leftover, so that one large
/// rest stays, or always the same way.
enum class RestCut { longer, shorter, large_rest, x_first, y_first };

struct GreedyRules {
  RestChoice choice = RestChoice::area;
  RestCut cut = RestCut::large_rest;
};

/// Items one after the other, each into the best rest of an offcut if one holds it, else of stock
/// already begun, else of new stock.
/// @param order       numbers of items
/// @param roll_limit  of a roll only this length is used, and only one; 0: no limit
Nesting greedy_nest(const NestProblem& problem,
                    const std::vector<int>& order,
                    const GreedyRules& rules,
                    Length roll_limit);

/// Items in rows by falling height, rows by first fit on stock; offcuts are filled greedily before.
/// @param rows_along  rows run along the stock's length (of a roll they always run across it)
/// @param lying       items that may turn lie on their long side in the row if that fits, else
/// stand
Nesting row_nest(const NestProblem& problem, bool rows_along, bool lying);

/// Numbers of all items by a falling measure; equal ones in their order.
/// @param measure  0 area, 1 long side, 2 short side, 3 both sides, 4 width, 5 height
std::vector<int> falling_order(const NestProblem& problem, int measure);
constexpr int kOrders = 6;

}  // namespace calmplate::cutting
