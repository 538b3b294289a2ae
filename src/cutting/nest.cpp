// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/nest.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "cutting/exact_nest.hpp"
#include "cutting/greedy_nest.hpp"

namespace calmplate::cutting {
namespace {

constexpr int kExchanges = 200;
constexpr int kHalvings = 24;

int bought_in(const Nesting& nesting) {
  return static_cast<int>(std::count_if(nesting.stocks.begin(),
                                        nesting.stocks.end(),
                                        [](const NestedStock& s) { return s.offcut < 0; }));
}

/// The smaller of two in dictionary order is the better plan.
using Score = std::array<Length, 6>;

Score score_of(const NestProblem& problem, const Nesting& nesting) {
  Length reach = 0, on_offcuts = 0, rest = 0;
  int cuts = 0;
  for (const NestedStock& s : nesting.stocks) {
    if (s.offcut < 0 && problem.roll) reach = s.tree.reach();
    if (s.offcut >= 0)
      for (const CutNode& n : s.tree.nodes())
        if (n.item >= 0) on_offcuts += n.rect.w * n.rect.h;
    rest = std::max(rest, s.tree.largest_rest());
    cuts += s.tree.cut_count();
  }
  return {static_cast<Length>(nesting.left_out.size()),
          bought_in(nesting),
          reach,
          -on_offcuts,
          -rest,
          cuts};
}

struct Best {
  const NestProblem& problem;
  Nesting nesting;
  Score score{};
  bool any = false;

  bool take(Nesting other) {
    const Score s = score_of(problem, other);
    if (any && !(s < score)) return false;
    nesting = std::move(other);
    score = s;
    any = true;
    return true;
  }
};

/// Numbers that are the same everywhere (a linear congruence).
class Draw {
 public:
  std::size_t below(std::size_t n) {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<std::size_t>((state_ >> 33U) % n);
  }

 private:
  std::uint64_t state_ = 20261;
};

/// Plans of kind (2) of nest().
void try_greedy(Best& best, Length roll_limit, int exchanges) {
  std::vector<int> order;
  GreedyRules rules;
  for (int measure = 0; measure < kOrders; ++measure) {
    const std::vector<int> falling = falling_order(best.problem, measure);
    for (const RestChoice choice :
         {RestChoice::area, RestChoice::short_side, RestChoice::long_side})
      for (const RestCut cut : {RestCut::longer,
                                RestCut::shorter,
                                RestCut::large_rest,
                                RestCut::x_first,
                                RestCut::y_first})
        if (best.take(greedy_nest(best.problem, falling, {choice, cut}, roll_limit)) ||
            order.empty()) {
          order = falling;
          rules = {choice, cut};
        }
  }
  if (order.size() < 3) return;
  Draw draw;
  for (int i = 0; i < exchanges; ++i) {
    std::vector<int> changed = order;
    for (int k = 0; k < 1 + i % 3; ++k)
      std::swap(changed[draw.below(changed.size())], changed[draw.below(changed.size())]);
    if (best.take(greedy_nest(best.problem, changed, rules, roll_limit))) order = changed;
  }
}

/// A roll is used up from one end: one cut right across after the last item, the rest stays whole.
CutTree with_end_cut(const CutTree& tree) {
  const Rect whole = tree.node(0).rect;
  CutTree made(whole.w, whole.h, tree.gap());
  const Length reach = tree.reach();
  const int used = reach < whole.w ? made.cut(0, CutAxis::x, reach) : 0;
  made.graft(used, tree, 0);
  return made;
}

/// The shortest length of one roll that the plans of kind (2) manage.
void shorten_roll(Best& best) {
  const NestProblem& problem = best.problem;
  Length area = 0, least = 1;
  for (const NestedStock& s : best.nesting.stocks)
    if (s.offcut < 0)
      for (const CutNode& n : s.tree.nodes())
        if (n.item >= 0) area += n.rect.w * n.rect.h;
  least = std::max(least, area / problem.stock_h);
  for (int i = 0; i < kHalvings; ++i) {
    const Length most = best.score[2];
    if (least >= most) return;
    const Length limit = least + (most - least) / 2;
    Best at_limit{problem, {}, {}, false};
    try_greedy(at_limit, limit, 0);
    if (at_limit.nesting.left_out.empty() && best.take(at_limit.nesting)) continue;
    least = limit + 1;
  }
}

/// Items of which no two go on one piece of stock, so that each needs its own.
int one_each(const NestProblem& problem) {
  const auto together = [&](const NestItem& a, const NestItem& b) {
    for (const bool ta : {false, true})
      for (const bool tb : {false, true}) {
        if ((ta && !a.may_turn) || (tb && !b.may_turn)) continue;
        const Length aw = ta ? a.h : a.w, ah = ta ? a.w : a.h;
        const Length bw = tb ? b.h : b.w, bh = tb ? b.w : b.h;
        const Length w = problem.stock_w, h = problem.stock_h, g = problem.gap;
        if (aw + g + bw <= w && std::max(ah, bh) <= h) return true;
        if (ah + g + bh <= h && std::max(aw, bw) <= w) return true;
      }
    return false;
  };
  std::vector<int> alone;
  for (const int i : falling_order(problem, 0)) {
    const NestItem& item = problem.items[static_cast<std::size_t>(i)];
    if (std::none_of(alone.begin(), alone.end(), [&](int j) {
          return together(item, problem.items[static_cast<std::size_t>(j)]);
        }))
      alone.push_back(i);
  }
  return static_cast<int>(alone.size());
}

/// Lower bound on bought stock: by area and by items that go alone, offcuts taken as filled to the
/// edge.
int fewest_of(const NestProblem& problem) {
  if (problem.stock_w == 0) return 0;
  const Length g = problem.gap;
  double area = 0.0;
  for (const NestItem& i : problem.items)
    area += static_cast<double>(i.w + g) * static_cast<double>(i.h + g);
  for (const Rect& o : problem.offcuts)
    area -= static_cast<double>(o.w + g) * static_cast<double>(o.h + g);
  const double stock =
      static_cast<double>(problem.stock_w + g) * static_cast<double>(problem.stock_h + g);
  const int by_area = area > 0.0 ? static_cast<int>(std::ceil(area / stock - 1e-12)) : 0;
  return problem.offcuts.empty() ? std::max(by_area, one_each(problem)) : by_area;
}

void check(const NestProblem& problem) {
  const bool items = std::all_of(problem.items.begin(), problem.items.end(), [](const NestItem& i) {
    return i.w > 0 && i.h > 0;
  });
  if (!items || problem.gap < 0 || problem.stock_w < 0 || problem.stock_h < 0 ||
      (problem.stock_w == 0) != (problem.stock_h == 0))
    throw std::invalid_argument("nest: an item or the stock has no area, or the gap is below 0");
}

/// The method's promises for what the plan does not take from offcuts.
void set_promises(const NestProblem& problem, NestResult& result) {
  double area = 0.0;
  Length longest = 0;
  const auto g = static_cast<double>(problem.gap);
  for (const NestedStock& s : result.nesting.stocks) {
    if (s.offcut >= 0) continue;
    for (const CutNode& n : s.tree.nodes()) {
      if (n.item < 0) continue;
      const NestItem& item = problem.items[static_cast<std::size_t>(n.item)];
      area += (static_cast<double>(item.w) + g) * (static_cast<double>(item.h) + g);
      longest = std::max({longest, item.w, item.may_turn ? item.h : item.w});
    }
    if (problem.roll) result.roll_used = s.tree.reach();
  }
  if (problem.stock_w == 0) return;
  const double width = static_cast<double>(problem.stock_h) + g;
  result.area_bound = area / ((static_cast<double>(problem.stock_w) + g) * width);
  result.most = 4.0 * result.area_bound + 2.0;
  if (problem.roll) result.used_bound = static_cast<Length>(2.0 * area / width) + 1 + longest;
}

}  // namespace

bool fits(const NestItem& item, Length w, Length h) {
  return (item.w <= w && item.h <= h) || (item.may_turn && item.h <= w && item.w <= h);
}

NestResult nest(const NestProblem& problem) {
  check(problem);
  NestResult result;
  if (problem.items.empty()) {
    result.proven = true;
    return result;
  }
  Best best{problem, {}, {}, false};
  if (problem.stock_w > 0)
    for (const bool rows_along : {true, false})
      for (const bool lying : {true, false}) best.take(row_nest(problem, rows_along, lying));
  try_greedy(best, 0, kExchanges);
  if (problem.roll && bought_in(best.nesting) == 1) shorten_roll(best);
  result.fewest = fewest_of(problem);
  result.proven =
      best.nesting.left_out.empty() && bought_in(best.nesting) <= result.fewest && !problem.roll;
  if (!result.proven) {
    if (std::optional<Nesting> exact = exact_nest(problem)) {
      // A tie stays with the plan that has the larger rest and fewer cuts.
      const Score s = score_of(problem, *exact);
      if (std::pair(s[1], s[2]) < std::pair(best.score[1], best.score[2]) || best.score[0] > 0)
        best.take(std::move(*exact));
      result.proven = true;
      if (!problem.roll) result.fewest = bought_in(best.nesting);
    }
  }
  result.nesting = std::move(best.nesting);
  if (problem.roll)
    for (NestedStock& s : result.nesting.stocks)
      if (s.offcut < 0) s.tree = with_end_cut(s.tree);
  result.bought = bought_in(result.nesting);
  set_promises(problem, result);
  return result;
}

}  // namespace calmplate::cutting
