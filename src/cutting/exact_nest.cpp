// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/exact_nest.hpp"

#include <algorithm>
#include <limits>
#include <tuple>

namespace calmplate::cutting {
namespace {

using Subset = unsigned;

/// A rectangle that holds all items of a subset.
struct Box {
  Length w = 0, h = 0;
  CutAxis axis = CutAxis::none;  ///< none: one item
  bool turned = false;
  Subset low = 0;  ///< the subset below the cut
  int low_box = -1, high_box = -1;
};

constexpr Length kNever = std::numeric_limits<Length>::max();

class Boxes {
 public:
  explicit Boxes(const NestProblem& problem) : problem_(problem) {
    of_.resize(std::size_t{1} << problem.items.size());
    for (Subset s = 1; s < of_.size(); ++s) fill(s);
  }

  const std::vector<Box>& of(Subset s) const { return of_[s]; }
  Subset all() const { return static_cast<Subset>(of_.size() - 1); }

  /// The first box of the subset that fits, or -1.
  int fitting(Subset s, Length w, Length h) const {
    for (std::size_t i = 0; i < of_[s].size(); ++i)
      if (of_[s][i].w <= w && of_[s][i].h <= h) return static_cast<int>(i);
    return -1;
  }

  /// Cuts a box out of a rest and takes it apart.
  void build(CutTree& tree, int rest, Subset s, int number) const {
    const Box box = of_[s][static_cast<std::size_t>(number)];
    Rect r = tree.node(rest).rect;
    const bool x_first = (r.w - box.w) * r.h > r.w * (r.h - box.h);
    for (const bool x_now : {x_first, !x_first}) {
      r = tree.node(rest).rect;
      if (x_now && box.w < r.w) rest = tree.cut(rest, CutAxis::x, r.x + box.w);
      if (!x_now && box.h < r.h) rest = tree.cut(rest, CutAxis::y, r.y + box.h);
    }
    if (box.axis == CutAxis::none) {
      int item = 0;
      while ((s >> item & 1U) == 0) ++item;
      tree.place(rest, item, box.w, box.h, box.turned, true);
      return;
    }
    const Box& low = of_[box.low][static_cast<std::size_t>(box.low_box)];
    r = tree.node(rest).rect;
    const int first = tree.cut(rest, box.axis, box.axis == CutAxis::x ? r.x + low.w : r.y + low.h);
    const int second = tree.node(rest).high;
    build(tree, first, box.low, box.low_box);
    build(tree, second, s & ~box.low, box.high_box);
  }

 private:
  bool fits_some(const Box& box) const {
    if (box.w <= problem_.stock_w && box.h <= problem_.stock_h) return true;
    return std::any_of(problem_.offcuts.begin(), problem_.offcuts.end(), [&](const Rect& o) {
      return box.w <= o.w && box.h <= o.h;
    });
  }

  void fill(Subset s) {
    std::vector<Box> found;
    const auto add = [&](const Box& box) {
      if (fits_some(box)) found.push_back(box);
    };
    if ((s & (s - 1)) == 0) {
      int item = 0;
      while ((s >> item & 1U) == 0) ++item;
      const NestItem& it = problem_.items[static_cast<std::size_t>(item)];
      add({it.w, it.h, CutAxis::none, false, 0, -1, -1});
      if (it.may_turn) add({it.h, it.w, CutAxis::none, true, 0, -1, -1});
    }
    const Subset lowest = s & (~s + 1);
    for (Subset a = (s - 1) & s; a > 0; a = (a - 1) & s) {
      if ((a & lowest) == 0) continue;  // each pair of subsets once
      join(a, s & ~a, add);
    }
    keep_smallest(found);
    of_[s] = std::move(found);
  }

  template <typename Add>
  void join(Subset a, Subset b, const Add& add) const {
    for (std::size_t i = 0; i < of_[a].size(); ++i)
      for (std::size_t j = 0; j < of_[b].size(); ++j) {
        const Box &p = of_[a][i], &q = of_[b][j];
        const int pi = static_cast<int>(i), qj = static_cast<int>(j);
        add({p.w + problem_.gap + q.w, std::max(p.h, q.h), CutAxis::x, false, a, pi, qj});
        add({std::max(p.w, q.w), p.h + problem_.gap + q.h, CutAxis::y, false, a, pi, qj});
      }
  }

  /// Leaves the boxes that no other fits into, by rising width.
  static void keep_smallest(std::vector<Box>& boxes) {
    std::stable_sort(boxes.begin(), boxes.end(), [](const Box& a, const Box& b) {
      return std::tie(a.w, a.h) < std::tie(b.w, b.h);
    });
    std::vector<Box> kept;
    for (const Box& box : boxes)
      if (kept.empty() || box.h < kept.back().h) kept.push_back(box);
    boxes = std::move(kept);
  }

  const NestProblem& problem_;
  std::vector<std::vector<Box>> of_;
};

/// What buying stock for every subset takes: pieces, or length of one roll; and the first piece's
/// share.
struct Purchase {
  std::vector<Length> cost;
  std::vector<Subset> first;
};

Purchase purchases(const Boxes& boxes, const NestProblem& problem) {
  const Subset all = boxes.all();
  Purchase p{std::vector<Length>(all + 1U, kNever), std::vector<Subset>(all + 1U, 0)};
  p.cost[0] = 0;
  for (Subset s = 1; s <= all; ++s) {
    if (problem.roll) {
      const int box = boxes.fitting(s, problem.stock_w, problem.stock_h);
      if (box >= 0) p.cost[s] = boxes.of(s)[static_cast<std::size_t>(box)].w;
      p.first[s] = s;
      continue;
    }
    const Subset lowest = s & (~s + 1);
    for (Subset a = s; a > 0; a = (a - 1) & s) {
      if ((a & lowest) == 0 || p.cost[s & ~a] == kNever) continue;
      if (p.cost[s & ~a] + 1 >= p.cost[s]) continue;
      if (boxes.fitting(a, problem.stock_w, problem.stock_h) < 0) continue;
      p.cost[s] = p.cost[s & ~a] + 1;
      p.first[s] = a;
    }
  }
  return p;
}

/// For the first k offcuts, which subsets they can hold: what the k-th takes, or `kNone` if they
/// cannot.
std::vector<std::vector<Subset>> offcut_shares(const Boxes& boxes,
                                               const NestProblem& problem,
                                               Subset none) {
  const Subset all = boxes.all();
  std::vector<std::vector<Subset>> share(problem.offcuts.size() + 1,
                                         std::vector<Subset>(all + 1U, none));
  share[0][0] = 0;
  for (std::size_t k = 0; k < problem.offcuts.size(); ++k)
    for (Subset s = 0; s <= all; ++s)
      for (Subset a = s;; a = (a - 1) & s) {
        if (share[k][s & ~a] != none && share[k + 1][s] == none &&
            (a == 0 || boxes.fitting(a, problem.offcuts[k].w, problem.offcuts[k].h) >= 0))
          share[k + 1][s] = a;
        if (a == 0) break;
      }
  return share;
}

}  // namespace

std::optional<Nesting> exact_nest(const NestProblem& problem) {
  if (problem.items.size() > kExactItems || problem.offcuts.size() > kExactOffcuts) return {};
  const Boxes boxes(problem);
  const Subset all = boxes.all(), none = all + 1;
  const Purchase purchase = purchases(boxes, problem);
  const auto share = offcut_shares(boxes, problem, none);
  const auto area = [&](Subset s) {
    Length sum = 0;
    for (std::size_t i = 0; i < problem.items.size(); ++i)
      if ((s >> i & 1U) != 0) sum += problem.items[i].w * problem.items[i].h;
    return sum;
  };
  Subset best = none;
  for (Subset s = 0; s <= all; ++s) {
    if (share.back()[s] == none || purchase.cost[all & ~s] == kNever) continue;
    const Length cost = purchase.cost[all & ~s];
    if (best == none || cost < purchase.cost[all & ~best] ||
        (cost == purchase.cost[all & ~best] && area(s) > area(best)))
      best = s;
  }
  if (best == none) return {};
  Nesting nesting;
  const auto add = [&](int offcut, Length w, Length h, Subset s) {
    nesting.stocks.push_back({offcut, CutTree(w, h, problem.gap)});
    boxes.build(nesting.stocks.back().tree, 0, s, boxes.fitting(s, w, h));
  };
  for (std::size_t k = problem.offcuts.size(); k-- > 0;) {
    const Subset a = share[k + 1][best];
    if (a != 0) add(static_cast<int>(k), problem.offcuts[k].w, problem.offcuts[k].h, a);
    best &= ~a;
  }
  std::reverse(nesting.stocks.begin(), nesting.stocks.end());
  Subset bought = all;
  for (const NestedStock& s : nesting.stocks)
    for (const CutNode& n : s.tree.nodes())
      if (n.item >= 0) bought &= ~(Subset{1} << n.item);
  for (; bought != 0; bought &= ~purchase.first[bought])
    add(-1, problem.stock_w, problem.stock_h, purchase.first[bought]);
  return nesting;
}

}  // namespace calmplate::cutting
