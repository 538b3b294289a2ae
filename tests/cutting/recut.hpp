// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <cmath>
#include <vector>

#include "cutting/plan.hpp"

/// Checks that know nothing of how a plan was made.
namespace calmplate::testing {

constexpr double kExact_m = 1e-9;

inline bool same(double a, double b) { return std::abs(a - b) <= kExact_m; }

inline bool same(const cutting::Box& a, const cutting::Box& b) {
  return same(a.x_m, b.x_m) && same(a.y_m, b.y_m) && same(a.w_m, b.w_m) && same(a.h_m, b.h_m);
}

inline bool inside(const cutting::Box& a, const cutting::Box& in) {
  return a.x_m >= in.x_m - kExact_m && a.y_m >= in.y_m - kExact_m &&
         a.x_m + a.w_m <= in.x_m + in.w_m + kExact_m && a.y_m + a.h_m <= in.y_m + in.h_m + kExact_m;
}

/// Whether straight cuts from edge to edge, each taking `gap`, can free all boxes from the
/// rectangle. Any cut that crosses no box may be made first: what is left of a plan that can be cut
/// can be cut.
inline bool can_be_cut(const cutting::Box& whole,
                       const std::vector<cutting::Box>& boxes,
                       double gap) {
  for (const cutting::Box& b : boxes)
    if (!inside(b, whole)) return false;
  if (boxes.empty()) return true;
  const auto trims = [&](double from, double size, double low, double high) {
    return (same(low, from) || low - from >= gap - kExact_m) && high <= from + size + kExact_m;
  };
  if (boxes.size() == 1)
    return trims(whole.x_m, whole.w_m, boxes[0].x_m, boxes[0].x_m + boxes[0].w_m) &&
           trims(whole.y_m, whole.h_m, boxes[0].y_m, boxes[0].y_m + boxes[0].h_m);
  for (const bool across : {true, false}) {
    const auto low = [&](const cutting::Box& b) { return across ? b.x_m : b.y_m; };
    const auto high = [&](const cutting::Box& b) { return across ? b.x_m + b.w_m : b.y_m + b.h_m; };
    for (const cutting::Box& edge : boxes) {
      const double at = high(edge);
      std::vector<cutting::Box> below, above;
      for (const cutting::Box& b : boxes) {
        if (high(b) <= at + kExact_m) below.push_back(b);
        if (low(b) >= at + gap - kExact_m) above.push_back(b);
      }
      if (above.empty() || below.size() + above.size() != boxes.size()) continue;
      cutting::Box first = whole, second = whole;
      if (across) {
        first.w_m = at - whole.x_m;
        second.x_m = at + gap;
        second.w_m = whole.x_m + whole.w_m - second.x_m;
      } else {
        first.h_m = at - whole.y_m;
        second.y_m = at + gap;
        second.h_m = whole.y_m + whole.h_m - second.y_m;
      }
      return can_be_cut(first, below, gap) && can_be_cut(second, above, gap);
    }
  }
  return false;
}

/// Makes the cuts of a list one after the other on real rectangles.
/// @return the rectangles in the end; empty if a cut asks for a rectangle that is not there
inline std::vector<cutting::Box> make_cuts(const cutting::StockPlan& stock, double gap) {
  std::vector<cutting::Box> pile = {{0.0, 0.0, stock.length_m, stock.width_m}};
  for (const cutting::Cut& cut : stock.cuts) {
    const auto found = std::find_if(
        pile.begin(), pile.end(), [&](const cutting::Box& b) { return same(b, cut.rest); });
    if (found == pile.end()) return {};
    cutting::Box low = *found, high = *found;
    pile.erase(found);
    if (cut.axis == cutting::CutAxis::x) {
      if (!same(cut.from_m, low.y_m) || !same(cut.to_m, low.y_m + low.h_m)) return {};
      if (!same(cut.at_m - cut.on_rest_m, low.x_m)) return {};
      low.w_m = cut.on_rest_m;
      high.x_m += cut.on_rest_m + gap;
      high.w_m -= cut.on_rest_m + gap;
    } else {
      if (!same(cut.from_m, low.x_m) || !same(cut.to_m, low.x_m + low.w_m)) return {};
      if (!same(cut.at_m - cut.on_rest_m, low.y_m)) return {};
      low.h_m = cut.on_rest_m;
      high.y_m += cut.on_rest_m + gap;
      high.h_m -= cut.on_rest_m + gap;
    }
    if (low.w_m <= 0.0 || low.h_m <= 0.0) return {};
    pile.push_back(low);
    if (high.w_m > kExact_m && high.h_m > kExact_m) pile.push_back(high);
  }
  return pile;
}

}  // namespace calmplate::testing
