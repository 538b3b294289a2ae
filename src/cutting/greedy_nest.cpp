// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/greedy_nest.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace calmplate::cutting {
namespace {

/// A rest that would take an item, and how well.
struct Place {
  int stock = -1, rest = -1;
  bool turned = false;
  Length first = 0, second = 0;  ///< smaller is better

  bool better_than(const Place& other) const {
    if (other.stock < 0) return true;
    return std::make_pair(first, second) < std::make_pair(other.first, other.second);
  }
};

void rate(const Rect& rest, Length w, Length h, RestChoice choice, Place& place) {
  const Length dw = rest.w - w, dh = rest.h - h, area = rest.w * rest.h - w * h;
  const Length small = std::min(dw, dh), large = std::max(dw, dh);
  switch (choice) {
    case RestChoice::area:
      place.first = area;
      place.second = small;
      break;
    case RestChoice::short_side:
      place.first = small;
      place.second = large;
      break;
    case RestChoice::long_side:
      place.first = large;
      place.second = small;
      break;
  }
}

bool cut_x_first(const Rect& rest, Length w, Length h, RestCut rule) {
  const Length dw = rest.w - w, dh = rest.h - h;
  switch (rule) {
    case RestCut::longer:
      return dw > dh;
    case RestCut::shorter:
      return dw <= dh;
    case RestCut::large_rest:
      return std::max(dw * rest.h, w * dh) > std::max(rest.w * dh, dw * h);
    case RestCut::x_first:
      return true;
    case RestCut::y_first:
      return false;
  }
  return true;
}

/// The stock so far; of a roll, node 1 is the length that may be used.
struct Greedy {
  const NestProblem& problem;
  const GreedyRules& rules;
  Length roll_limit;
  std::vector<NestedStock> stocks;
  int begun = 0;  ///< pieces of bought stock

  void look(int stock, const NestItem& item, Place& best) const {
    const CutTree& tree = stocks[static_cast<std::size_t>(stock)].tree;
    const bool limited = roll_limit > 0 && stocks[static_cast<std::size_t>(stock)].offcut < 0;
    const int count = static_cast<int>(tree.nodes().size());
    for (int i = 0; i < count; ++i) {
      if (!tree.is_rest(i)) continue;
      const Rect& rest = tree.node(i).rect;
      if (limited && rest.x >= roll_limit) continue;
      for (const bool turned : {false, true}) {
        if (turned && (!item.may_turn || item.w == item.h)) continue;
        const Length w = turned ? item.h : item.w, h = turned ? item.w : item.h;
        if (w > rest.w || h > rest.h) continue;
        Place place{stock, i, turned, 0, 0};
        rate(rest, w, h, rules.choice, place);
        if (place.better_than(best)) best = place;
      }
    }
  }

  bool put(int number, bool in_offcuts) {
    const NestItem& item = problem.items[static_cast<std::size_t>(number)];
    Place best;
    for (int s = 0; s < static_cast<int>(stocks.size()); ++s)
      if ((stocks[static_cast<std::size_t>(s)].offcut >= 0) == in_offcuts) look(s, item, best);
    if (best.stock < 0) return false;
    CutTree& tree = stocks[static_cast<std::size_t>(best.stock)].tree;
    const Rect rest = tree.node(best.rest).rect;
    const Length w = best.turned ? item.h : item.w, h = best.turned ? item.w : item.h;
    tree.place(best.rest, number, w, h, best.turned, cut_x_first(rest, w, h, rules.cut));
    return true;
  }

  bool begin(const NestItem& item) {
    const Length usable = roll_limit > 0 ? roll_limit : problem.stock_w;
    if (problem.stock_w == 0 || (roll_limit > 0 && begun > 0) ||
        !fits(item, usable, problem.stock_h))
      return false;
    NestedStock stock{-1, CutTree(problem.stock_w, problem.stock_h, problem.gap)};
    if (roll_limit > 0 && roll_limit < problem.stock_w) stock.tree.cut(0, CutAxis::x, roll_limit);
    stocks.push_back(std::move(stock));
    ++begun;
    return true;
  }

  Nesting finish(std::vector<int> left_out) {
    Nesting nesting;
    for (NestedStock& s : stocks)
      if (s.offcut < 0 || s.tree.reach() > 0) nesting.stocks.push_back(std::move(s));
    nesting.left_out = std::move(left_out);
    return nesting;
  }
};

Greedy begin_with_offcuts(const NestProblem& problem, const GreedyRules& rules, Length roll_limit) {
  Greedy greedy{problem, rules, roll_limit, {}, 0};
  for (std::size_t i = 0; i < problem.offcuts.size(); ++i)
    greedy.stocks.push_back(
        {static_cast<int>(i), CutTree(problem.offcuts[i].w, problem.offcuts[i].h, problem.gap)});
  return greedy;
}

/// A row of items of falling height. Lengths "along" run along the row, "across" over the rows.
struct Row {
  Length along = 0, across = 0;
  std::vector<int> items;
  std::vector<bool> turned;
};

struct Standing {
  int item;
  bool turned;
  Length along, across;
};

/// Source: [memory] first-fit by falling height, Coffman et al. 1980.
std::vector<Row> make_rows(const std::vector<Standing>& falling, Length row_length, Length gap) {
  std::vector<Row> rows;
  for (const Standing& s : falling) {
    Row* into = nullptr;
    for (Row& row : rows)
      if (row.along + gap + s.along <= row_length) {
        into = &row;
        break;
      }
    if (into == nullptr) {
      rows.push_back({s.along, s.across, {s.item}, {s.turned}});
      continue;
    }
    into->along += gap + s.along;
    into->items.push_back(s.item);
    into->turned.push_back(s.turned);
  }
  return rows;
}

/// What is left of an item's choice: how it stands in its row, or that it fits none.
struct RowShape {
  const NestProblem& problem;
  bool rows_along;
  Length row_length() const { return rows_along ? problem.stock_w : problem.stock_h; }
  Length room() const { return rows_along ? problem.stock_h : problem.stock_w; }

  bool stand(int number, bool lying, std::vector<Standing>& standing) const {
    const NestItem& item = problem.items[static_cast<std::size_t>(number)];
    const Length along = rows_along ? item.w : item.h, across = rows_along ? item.h : item.w;
    const auto holds = [&](bool turned) {
      return (turned ? across : along) <= row_length() && (turned ? along : across) <= room();
    };
    bool turned = item.may_turn && (lying ? along < across : along > across);
    if (item.may_turn && !holds(turned)) turned = !turned;
    if (!holds(turned)) return false;
    standing.push_back({number, turned, turned ? across : along, turned ? along : across});
    return true;
  }

  /// Cuts a row off a rest and fills it. @return what is left of the rest, -1: nothing
  int put_row(CutTree& tree, int into, const Row& row) const {
    const Rect whole = tree.node(into).rect;
    int here = into, rest = -1;
    if (row.across < (rows_along ? whole.h : whole.w)) {
      here = tree.cut(into,
                      rows_along ? CutAxis::y : CutAxis::x,
                      (rows_along ? whole.y : whole.x) + row.across);
      rest = tree.node(into).high;
    }
    for (std::size_t k = 0; k < row.items.size(); ++k) {
      const NestItem& item = problem.items[static_cast<std::size_t>(row.items[k])];
      const Length w = row.turned[k] ? item.h : item.w, h = row.turned[k] ? item.w : item.h;
      const Rect strip = tree.node(here).rect;
      tree.place(here, row.items[k], w, h, row.turned[k], rows_along);
      // The strip was cut across the row first: what is left of the row lies above that cut.
      if (rows_along ? w < strip.w : h < strip.h) here = tree.node(here).high;
    }
    return rest;
  }
};

}  // namespace

std::vector<int> falling_order(const NestProblem& problem, int measure) {
  const auto key = [&](int i) {
    const NestItem& item = problem.items[static_cast<std::size_t>(i)];
    switch (measure) {
      case 0:
        return item.w * item.h;
      case 1:
        return std::max(item.w, item.h);
      case 2:
        return std::min(item.w, item.h);
      case 3:
        return item.w + item.h;
      case 4:
        return item.w;
      default:
        return item.h;
    }
  };
  std::vector<int> order(problem.items.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return key(a) > key(b); });
  return order;
}

Nesting greedy_nest(const NestProblem& problem,
                    const std::vector<int>& order,
                    const GreedyRules& rules,
                    Length roll_limit) {
  Greedy greedy = begin_with_offcuts(problem, rules, roll_limit);
  std::vector<int> left_out;
  for (const int number : order) {
    if (greedy.put(number, true) || greedy.put(number, false)) continue;
    if (greedy.begin(problem.items[static_cast<std::size_t>(number)]))
      greedy.put(number, false);
    else
      left_out.push_back(number);
  }
  return greedy.finish(std::move(left_out));
}

Nesting row_nest(const NestProblem& problem, bool rows_along, bool lying) {
  const GreedyRules rules;
  Greedy greedy = begin_with_offcuts(problem, rules, 0);
  const RowShape shape{problem, rows_along && !problem.roll};
  std::vector<Standing> standing;
  std::vector<int> left_out;
  for (const int number : falling_order(problem, 0))
    if (!greedy.put(number, true) && !shape.stand(number, lying, standing))
      left_out.push_back(number);
  std::stable_sort(standing.begin(), standing.end(), [](const Standing& a, const Standing& b) {
    return a.across > b.across;
  });
  std::vector<std::pair<std::size_t, int>> open;  // stock and what is left of it
  for (const Row& row : make_rows(standing, shape.row_length(), problem.gap)) {
    auto into = std::find_if(open.begin(), open.end(), [&](const auto& o) {
      const Rect& rest = greedy.stocks[o.first].tree.node(o.second).rect;
      return row.across <= (shape.rows_along ? rest.h : rest.w);
    });
    if (into == open.end()) {
      greedy.stocks.push_back({-1, CutTree(problem.stock_w, problem.stock_h, problem.gap)});
      into = open.insert(open.end(), {greedy.stocks.size() - 1, 0});
    }
    into->second = shape.put_row(greedy.stocks[into->first].tree, into->second, row);
    if (into->second < 0) open.erase(into);
  }
  return greedy.finish(std::move(left_out));
}

}  // namespace calmplate::cutting
