// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/plan.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "cutting/nest.hpp"

namespace calmplate::cutting {
namespace {

Box box_of(const Rect& r) {
  return {to_metres(r.x), to_metres(r.y), to_metres(r.w), to_metres(r.h)};
}

/// A part as the nesting sees it: x along the stock's length.
struct Entry {
  int part = 0;
  NestItem item;
  bool turned = false;  ///< the paper is turned already to bring its "up" to the stock's length
};

Entry entry_of(const Part& part, int number, Direction direction) {
  const Length w = length_to_cut(part.size_m.x()), h = length_to_cut(part.size_m.y());
  if (direction == Direction::up) return {number, {h, w, false}, true};
  return {number, {w, h, direction == Direction::none}, false};
}

/// Walks one tree in the order of work and writes down what it says.
class Walk {
 public:
  Walk(const CutTree& tree, const std::vector<Entry>& entries, Length smallest, StockPlan& plan)
      : tree_(tree), entries_(entries), smallest_(smallest), plan_(plan) {}

  Side go(int i) {
    const CutNode& node = tree_.node(i);
    if (node.item >= 0) {
      const Entry& entry = entries_[static_cast<std::size_t>(node.item)];
      plan_.parts.push_back({entry.part, box_of(node.rect), node.turned != entry.turned});
      return {Side::Kind::part, entry.part};
    }
    if (node.axis == CutAxis::none) {
      if (std::min(node.rect.w, node.rect.h) >= smallest_) {
        plan_.offcuts.push_back(box_of(node.rect));
        return {Side::Kind::offcut, static_cast<int>(plan_.offcuts.size())};
      }
      plan_.scrap.push_back(box_of(node.rect));
      return {Side::Kind::scrap, 0};
    }
    const bool along_x = node.axis == CutAxis::x;
    Cut cut;
    cut.axis = node.axis;
    cut.at_m = to_metres(node.at);
    cut.on_rest_m = to_metres(node.at - (along_x ? node.rect.x : node.rect.y));
    cut.from_m = to_metres(along_x ? node.rect.y : node.rect.x);
    cut.to_m = cut.from_m + to_metres(along_x ? node.rect.h : node.rect.w);
    cut.rest = box_of(node.rect);
    const Length end = along_x ? node.rect.x + node.rect.w : node.rect.y + node.rect.h;
    cut.lost_m = to_metres(std::min(tree_.gap(), end - node.at));
    cut.number = static_cast<int>(plan_.cuts.size()) + 1;
    const std::size_t at = plan_.cuts.size();
    plan_.cuts.push_back(cut);
    const Side low = go(node.low);
    const Side high = node.high >= 0 ? go(node.high) : Side{};
    plan_.cuts[at].low = low;
    plan_.cuts[at].high = high;
    return {Side::Kind::cut, static_cast<int>(at) + 1};
  }

 private:
  const CutTree& tree_;
  const std::vector<Entry>& entries_;
  Length smallest_;
  StockPlan& plan_;
};

NestProblem problem_of(const Stock& stock, const std::vector<Entry>& entries, double gap_m) {
  NestProblem problem;
  for (const Entry& e : entries) problem.items.push_back(e.item);
  for (const Eigen::Vector2d& o : stock.offcuts_m)
    problem.offcuts.push_back({0, 0, length_at_hand(o.x()), length_at_hand(o.y())});
  problem.stock_w = length_at_hand(stock.length_m);
  problem.stock_h = length_at_hand(stock.width_m);
  problem.roll = stock.form == StockForm::roll;
  problem.gap = length_to_cut(gap_m);
  return problem;
}

void count_area(const StockPlan& stock, const std::vector<Part>& parts, AreaCount& area) {
  const double whole = stock.length_m * stock.width_m;
  double placed = 0.0, outlines = 0.0, offcuts = 0.0, scrap = 0.0;
  for (const PlacedPart& p : stock.parts) {
    placed += p.box.area_m2();
    outlines += parts[static_cast<std::size_t>(p.part)].area_m2;
  }
  for (const Box& b : stock.offcuts) offcuts += b.area_m2();
  for (const Box& b : stock.scrap) scrap += b.area_m2();
  area.stock += whole;
  area.parts += outlines;
  area.trimmings += placed - outlines;
  area.offcuts += offcuts;
  area.scrap += scrap;
  for (const Cut& cut : stock.cuts)
    area.gaps += cut.lost_m * (cut.axis == CutAxis::x ? cut.rest.h_m : cut.rest.w_m);
}

[[noreturn]] void refuse(const Stock& stock, const Part& part) {
  throw base::InputError(stock.where,
                         "has no stock left for part " + part.label + " of layout \"" +
                             part.layout + "\", " + mm_text(part.size_m.x()) + " x " +
                             mm_text(part.size_m.y()) + " mm",
                         "more [[offcut]], or stock_width_mm and stock_length_mm that hold it");
}

SheetPlan sheet_plan(const Stock& stock,
                     const std::vector<Entry>& entries,
                     const std::vector<Part>& parts,
                     const CuttingInput& input) {
  const NestResult nested = nest(problem_of(stock, entries, input.gap_m));
  if (!nested.nesting.left_out.empty()) {
    const Entry& e = entries[static_cast<std::size_t>(nested.nesting.left_out.front())];
    refuse(stock, parts[static_cast<std::size_t>(e.part)]);
  }
  SheetPlan plan;
  plan.sheet = stock.sheet;
  plan.form = stock.form;
  plan.direction = stock.direction;
  plan.price = stock.price;
  plan.bought = nested.bought;
  plan.roll_used_m = to_metres(nested.roll_used);
  if (stock.form == StockForm::roll && nested.bought == 1)
    plan.roll_bound_m = to_metres(nested.used_bound);
  plan.area_bound = nested.area_bound;
  plan.fewest = nested.fewest;
  plan.most = nested.most;
  plan.proven = nested.proven;
  int offcuts = 0, bought = 0;
  for (const NestedStock& s : nested.nesting.stocks) {
    StockPlan one;
    const bool is_offcut = s.offcut >= 0;
    one.kind = is_offcut                       ? StockKind::offcut
               : stock.form == StockForm::roll ? StockKind::roll
                                               : StockKind::sheet;
    one.number = is_offcut ? ++offcuts : ++bought;
    one.length_m = to_metres(s.tree.node(0).rect.w);
    one.width_m = to_metres(s.tree.node(0).rect.h);
    Walk(s.tree, entries, length_at_hand(input.smallest_offcut_m), one).go(0);
    count_area(one, parts, plan.area);
    plan.stocks.push_back(std::move(one));
  }
  return plan;
}

}  // namespace

int CutPlan::cut_count() const {
  std::size_t cuts = 0;
  for (const SheetPlan& sheet : sheets)
    for (const StockPlan& stock : sheet.stocks) cuts += stock.cuts.size();
  return static_cast<int>(cuts);
}

double CutPlan::laid_m2() const {
  double sum = 0.0;
  for (const Part& part : parts) sum += part.area_m2;
  return sum;
}

CutPlan make_plan(const std::vector<Part>& parts,
                  const std::vector<Stock>& stocks,
                  const CuttingInput& input) {
  CutPlan plan;
  plan.parts = parts;
  plan.priced = true;
  for (const Part& part : parts)
    if (std::find(plan.layouts.begin(), plan.layouts.end(), part.layout) == plan.layouts.end())
      plan.layouts.push_back(part.layout);
  for (const Stock& stock : stocks) {
    std::vector<Entry> entries;
    for (std::size_t i = 0; i < parts.size(); ++i)
      if (parts[i].sheet == stock.sheet)
        entries.push_back(entry_of(parts[i], static_cast<int>(i), stock.direction));
    if (entries.empty()) continue;
    plan.sheets.push_back(sheet_plan(stock, entries, parts, input));
    const SheetPlan& made = plan.sheets.back();
    plan.cost += made.cost();
    plan.priced = plan.priced && (made.bought == 0 || made.price > 0.0);
  }
  return plan;
}

double laying_minutes(int cuts, int parts, double laid_m2) {
  return 10.0 + 1.0 * cuts + 3.0 * parts + 20.0 * laid_m2;
}

}  // namespace calmplate::cutting
