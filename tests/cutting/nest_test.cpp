// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/nest.hpp"

#include <catch2/catch.hpp>
#include <numeric>

#include "cutting/cut_tree.hpp"
#include "cutting/exact_nest.hpp"
#include "cutting/random_cuts.hpp"

namespace calmplate {
namespace {

using cutting::Length;
using cutting::NestItem;
using cutting::NestProblem;

NestProblem problem(Length w, Length h, const std::vector<NestItem>& items) {
  NestProblem p;
  p.stock_w = w;
  p.stock_h = h;
  p.items = items;
  return p;
}

/// Whether straight cuts get all items of `set` out of w x h: from the whole downwards, at every
/// sum of sides, while the program builds from the items upwards.
bool one_sheet_holds(const std::vector<NestItem>& items, unsigned set, Length w, Length h) {
  if (set == 0) return true;
  if ((set & (set - 1)) == 0) {
    std::size_t i = 0;
    while ((set >> i & 1U) == 0) ++i;
    return cutting::fits(items[i], w, h);
  }
  for (const bool across : {true, false})
    for (Length at = 1; at < (across ? w : h); ++at)
      for (unsigned a = (set - 1) & set; a > 0; a = (a - 1) & set)
        if (one_sheet_holds(items, a, across ? at : w, across ? h : at) &&
            one_sheet_holds(items, set & ~a, across ? w - at : w, across ? h : h - at))
          return true;
  return false;
}

}  // namespace

// Source: [derived] by hand.
TEST_CASE("known smallest plans are found", "[cutting][derived]") {
  SECTION("four quarters fill a sheet without waste") {
    const auto r = cutting::nest(problem(750, 500, {4, NestItem{375, 250, false}}));
    CHECK(r.bought == 1);
    CHECK(r.proven);
    CHECK(r.nesting.stocks[0].tree.largest_rest() == 0);
  }
  SECTION("turned pieces fill it too") {
    const auto r = cutting::nest(problem(750, 500, {4, NestItem{250, 375, true}}));
    CHECK(r.bought == 1);
  }
  SECTION("a pinwheel fills a square without waste, but no knife can cut it") {
    const std::vector<NestItem> wheel = {{200, 100, false},
                                         {200, 100, false},
                                         {100, 200, false},
                                         {100, 200, false},
                                         {100, 100, false}};
    const auto r = cutting::nest(problem(300, 300, wheel));
    CHECK(r.bought == 2);
    CHECK(r.fewest == 2);
    CHECK(r.proven);
  }
  SECTION("five pieces a little over half need five sheets, and that is known") {
    const auto r = cutting::nest(problem(1000, 1000, {5, NestItem{501, 501, true}}));
    CHECK(r.bought == 5);
    CHECK(r.fewest == 5);
    CHECK(r.proven);
    CHECK(r.area_bound < 1.3);
    CHECK(r.bought < r.most);
  }
  SECTION("three pieces of 400 x 300 on a roll 600 wide: two side by side, one across") {
    NestProblem p = problem(10000, 600, {3, NestItem{400, 300, true}});
    p.roll = true;
    const auto r = cutting::nest(p);
    CHECK(r.bought == 1);
    CHECK(r.roll_used == 700);
    CHECK(r.proven);
    // One cut right across ends the length that is used.
    CHECK(r.nesting.stocks[0].tree.node(0).axis == cutting::CutAxis::x);
    CHECK(r.nesting.stocks[0].tree.node(0).at == 700);
  }
  SECTION("an offcut is used before a sheet is bought") {
    NestProblem p = problem(1000, 1000, {{400, 300, true}, {900, 900, true}});
    p.offcuts = {{0, 0, 310, 410}};
    const auto r = cutting::nest(p);
    REQUIRE(r.nesting.stocks.size() == 2);
    CHECK(r.nesting.stocks[0].offcut == 0);
    CHECK(r.bought == 1);
  }
  SECTION("offcuts alone will do, without stock to buy") {
    NestProblem p = problem(0, 0, {{400, 300, true}});
    p.offcuts = {{0, 0, 310, 410}};
    const auto r = cutting::nest(p);
    CHECK(r.bought == 0);
    CHECK(r.nesting.left_out.empty());
  }
  SECTION("what fits nowhere is left out") {
    const auto r = cutting::nest(problem(500, 500, {{501, 10, true}, {100, 100, true}}));
    CHECK(r.nesting.left_out == std::vector<int>{0});
  }
  SECTION("a gap at the cut keeps two halves off one sheet") {
    NestProblem p = problem(1000, 500, {2, NestItem{500, 500, true}});
    CHECK(cutting::nest(p).bought == 1);
    p.gap = 1;
    CHECK(cutting::nest(p).bought == 2);
    p.stock_w = 1001;
    CHECK(cutting::nest(p).bought == 1);
  }
}

// Source: [crosscheck] a search from the whole sheet downwards, written here.
TEST_CASE("one sheet holds four or five pieces if and only if a search downwards says so",
          "[cutting][crosscheck]") {
  int held = 0, tried = 0;
  for (int seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    testing::Draw draw(static_cast<std::uint64_t>(seed));
    std::vector<NestItem> items;
    Length area = 0;
    for (int k = draw.whole(4, 5); k > 0; --k) {
      items.push_back({draw.whole(1, 4), draw.whole(1, 4), draw.whole(0, 1) == 1});
      area += items.back().w * items.back().h;
    }
    const Length w = 6, h = 5;
    if (area > w * h) continue;
    const bool holds = one_sheet_holds(items, (1U << items.size()) - 1U, w, h);
    const auto r = cutting::nest(problem(w, h, items));
    CHECK((r.bought == 1) == holds);
    CHECK(r.proven);
    held += holds ? 1 : 0;
    ++tried;
  }
  CHECK(tried >= 30);
  CHECK(held >= 10);
  CHECK(held < tried);
}

// Source: [derived] the best of all plans is at least as good as any.
TEST_CASE("no plan for few pieces is better than the exact one, nor the bound above it",
          "[cutting][derived]") {
  for (int seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    testing::Draw draw(static_cast<std::uint64_t>(1000 + seed));
    std::vector<NestItem> items;
    for (int k = draw.whole(3, 6); k > 0; --k)
      items.push_back({draw.whole(10, 60), draw.whole(10, 60), draw.whole(0, 2) > 0});
    const NestProblem p = problem(100, 70, items);
    const auto exact = cutting::exact_nest(p);
    const auto r = cutting::nest(p);
    REQUIRE(exact);
    CHECK(static_cast<int>(exact->stocks.size()) == r.bought);
    CHECK(r.fewest == r.bought);
  }
}

TEST_CASE("problems without area are refused", "[cutting]") {
  CHECK_THROWS_AS(cutting::nest(problem(100, 100, {{0, 10, true}})), std::invalid_argument);
  CHECK_THROWS_AS(cutting::nest(problem(100, 0, {{10, 10, true}})), std::invalid_argument);
  NestProblem p = problem(100, 100, {{10, 10, true}});
  p.gap = -1;
  CHECK_THROWS_AS(cutting::nest(p), std::invalid_argument);
}

TEST_CASE("a cut tree refuses what a knife cannot do", "[cutting]") {
  cutting::CutTree tree(100, 50, 2);
  CHECK_THROWS_AS(tree.cut(0, cutting::CutAxis::x, 0), std::invalid_argument);
  CHECK_THROWS_AS(tree.cut(0, cutting::CutAxis::x, 100), std::invalid_argument);
  CHECK_THROWS_AS(tree.place(0, 0, 101, 10, false, true), std::invalid_argument);
  tree.place(0, 0, 60, 50, false, true);
  CHECK(tree.cut_count() == 1);
  CHECK(tree.reach() == 60);
  CHECK(tree.largest_rest() == 38 * 50);
  CHECK_THROWS_AS(tree.cut(0, cutting::CutAxis::y, 10), std::invalid_argument);
  CHECK_THROWS_AS(cutting::CutTree(0, 10, 0), std::invalid_argument);
}

// Source: [derived] 1 micrometre; a thousandth of it is rounding.
TEST_CASE("lengths become whole micrometres, up for what is cut, down for what is at hand",
          "[cutting][derived]") {
  CHECK(cutting::length_to_cut(0.25) == 250000);
  CHECK(cutting::length_to_cut(0.2500004) == 250001);
  CHECK(cutting::length_to_cut(0.1 + 0.15) == 250000);
  CHECK(cutting::length_at_hand(0.2500004) == 250000);
  CHECK(cutting::length_at_hand(0.3 - 0.05) == 250000);
  CHECK(cutting::to_metres(250000) == 0.25);
}

}  // namespace calmplate
