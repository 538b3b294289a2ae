// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "cutting/cut_tree.hpp"

namespace calmplate::cutting {

/// A rectangle to be cut out.
struct NestItem {
  Length w = 0, h = 0;    ///< along the stock's length and across it, before turning
  bool may_turn = false;  ///< by 90 degrees
};

struct NestProblem {
  std::vector<NestItem> items;
  std::vector<Rect> offcuts;  ///< sizes of the rests on the shelf, one entry each
  Length stock_w = 0;         ///< along the stock's length; 0: there is no stock to buy
  Length stock_h = 0;
  bool roll = false;  ///< the stock's length is used up from one end
  Length gap = 0;     ///< lost at every cut
};

/// One piece of stock that is cut up.
struct NestedStock {
  int offcut = -1;  ///< index of the offcut; -1: bought stock
  CutTree tree;
};

struct Nesting {
  std::vector<NestedStock> stocks;  ///< offcuts that are used, in their order, then bought stock
  std::vector<int> left_out;        ///< items that fit nowhere
};

struct NestResult {
  Nesting nesting;
  int bought = 0;           ///< pieces of stock
  Length roll_used = 0;     ///< length taken off the last roll
  Length used_bound = 0;    ///< of one roll: no more than this would be used, see nest()
  double area_bound = 0.0;  ///< area of what was not cut from offcuts, in pieces of stock
  int fewest = 0;           ///< no cutting can do with fewer pieces of stock (as a lower bound)
  double most = 0.0;        ///< the method's promise: `bought` is below this, or 1 or 0
  bool proven = false;      ///< no straight-cut plan with these offcuts buys less
};

/// Nests items on stock by straight cuts from edge to edge ("guillotine" cuts), offcuts first:
/// nothing lies on bought stock that a rest of an offcut in the plan could still hold.
///
/// Several hundred plans are made and the best kept: fewest bought pieces of stock, then shortest
/// piece of roll, most area on offcuts, largest rest, fewest cuts. The plans are (1) rows by
/// falling height, filled first-fit, rows put on stock first-fit (Coffman, Garey, Johnson &
///     Tarjan 1980 for rows; Chung, Garey & Johnson 1982 for two steps);
/// (2) one item after the other into the best of the rests, each rest then cut in two, in 6 orders,
/// by 3
///     measures of "best" and 5 rules of cutting, and exchanges in the best order (free rectangles
///     as in Jylänki 2010);
/// (3) for up to kExactItems items on few offcuts, where (1) and (2) do not reach the lower bound,
/// every
///     straight-cut plan there is, as smallest boxes of all subsets (Wang 1983, bottom-up).
/// Roll length is settled by halving the span between the area's length and that of (1).
///
/// Promise from (1), for items of total area A (each with a gap added to both sides) that offcuts
/// do not take, on stock of area S (likewise): fewer than 4 A / S + 2 pieces, or one; on one roll
/// of height H no more than 2 A / H + the longest item. No method can promise less than 4 A / S:
/// items a little over half the stock both ways need one piece each.
///
/// Source: [derived] docs/cutting.md "Bound"; names of methods from memory.
/// @throws std::invalid_argument if an item or stock has no area
NestResult nest(const NestProblem& problem);

constexpr int kExactItems = 8;

/// True if the item fits a rectangle of this size, turned if it may.
bool fits(const NestItem& item, Length w, Length h);

}  // namespace calmplate::cutting
