// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <set>

#include "cutting/random_cuts.hpp"
#include "cutting/recut.hpp"

namespace calmplate {
namespace {

using testing::CuttingJob;

constexpr int kJobs = 200;

std::vector<cutting::Box> boxes_of(const cutting::StockPlan& stock) {
  std::vector<cutting::Box> boxes;
  for (const cutting::PlacedPart& p : stock.parts) boxes.push_back(p.box);
  return boxes;
}

void check_stock(const CuttingJob& job,
                 const cutting::CutPlan& plan,
                 const cutting::StockPlan& stock) {
  const cutting::Box whole{0.0, 0.0, stock.length_m, stock.width_m};
  const std::vector<cutting::Box> boxes = boxes_of(stock);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    CHECK(testing::inside(boxes[i], whole));
    for (std::size_t j = 0; j < i; ++j) {
      const bool apart = boxes[i].x_m + boxes[i].w_m <= boxes[j].x_m + 1e-9 ||
                         boxes[j].x_m + boxes[j].w_m <= boxes[i].x_m + 1e-9 ||
                         boxes[i].y_m + boxes[i].h_m <= boxes[j].y_m + 1e-9 ||
                         boxes[j].y_m + boxes[j].h_m <= boxes[i].y_m + 1e-9;
      CHECK(apart);
    }
  }
  CHECK(testing::can_be_cut(whole, boxes, job.input.gap_m));
  // The list of cuts frees each part, and what is called left over or scrap is the rest.
  std::vector<cutting::Box> pile = testing::make_cuts(stock, job.input.gap_m);
  std::vector<cutting::Box> wanted = boxes;
  wanted.insert(wanted.end(), stock.offcuts.begin(), stock.offcuts.end());
  wanted.insert(wanted.end(), stock.scrap.begin(), stock.scrap.end());
  REQUIRE(pile.size() == wanted.size());
  for (const cutting::Box& b : wanted)
    CHECK(std::count_if(pile.begin(), pile.end(), [&](const cutting::Box& p) {
            return testing::same(p, b);
          }) == 1);
  for (const cutting::PlacedPart& p : stock.parts) {
    const Eigen::Vector2d size = plan.parts[static_cast<std::size_t>(p.part)].size_m;
    CHECK(std::abs(p.box.w_m - (p.turned ? size.y() : size.x())) <= 1e-6);
    CHECK(std::abs(p.box.h_m - (p.turned ? size.x() : size.y())) <= 1e-6);
    if (job.stock.direction == cutting::Direction::along) CHECK_FALSE(p.turned);
    if (job.stock.direction == cutting::Direction::up) CHECK(p.turned);
  }
}

/// Nothing lies on bought stock that a rest of an offcut, used or not, could hold.
void check_offcuts_first(const CuttingJob& job, const cutting::SheetPlan& plan) {
  std::vector<Eigen::Vector2d> rests = job.stock.offcuts_m;
  std::vector<cutting::Box> bought;
  for (const cutting::StockPlan& stock : plan.stocks) {
    if (stock.kind != cutting::StockKind::offcut) {
      for (const cutting::Box& b : boxes_of(stock)) bought.push_back(b);
      continue;
    }
    const auto used = std::find_if(rests.begin(), rests.end(), [&](const Eigen::Vector2d& r) {
      return testing::same(r.x(), stock.length_m) && testing::same(r.y(), stock.width_m);
    });
    REQUIRE(used != rests.end());
    rests.erase(used);
    for (const auto* list : {&stock.offcuts, &stock.scrap})
      for (const cutting::Box& b : *list) rests.push_back({b.w_m, b.h_m});
  }
  const bool turns = job.stock.direction == cutting::Direction::none;
  for (const cutting::Box& b : bought)
    for (const Eigen::Vector2d& r : rests) {
      CHECK_FALSE((b.w_m <= r.x() + 1e-9 && b.h_m <= r.y() + 1e-9));
      CHECK_FALSE((turns && b.h_m <= r.x() + 1e-9 && b.w_m <= r.y() + 1e-9));
    }
}

/// Source: [derived] docs/cutting.md "Bound"; written out anew here.
void check_bound(const CuttingJob& job, const cutting::SheetPlan& plan) {
  const double gap = job.input.gap_m;
  double area = 0.0, longest = 0.0;
  for (const cutting::StockPlan& stock : plan.stocks)
    if (stock.kind != cutting::StockKind::offcut)
      for (const cutting::Box& b : boxes_of(stock)) {
        area += (b.w_m + gap) * (b.h_m + gap);
        longest = std::max(longest, b.w_m);
        if (job.stock.direction == cutting::Direction::none) longest = std::max(longest, b.h_m);
      }
  const double stock = (job.stock.length_m + gap) * (job.stock.width_m + gap);
  const bool within = plan.bought <= 1 || plan.bought < 4.0 * area / stock + 2.0;
  CHECK(within);
  CHECK(plan.bought >= std::ceil(area / stock - 1e-9));
  CHECK(plan.bought >= plan.fewest);
  if (job.stock.form == cutting::StockForm::roll && plan.bought == 1) {
    CHECK(plan.roll_used_m <= 2.0 * area / (job.stock.width_m + gap) + longest + 1e-6);
    CHECK(plan.roll_used_m <= plan.roll_bound_m);
    // The roll is used up from one end: the first cut runs right across it behind the last part.
    const cutting::StockPlan& roll = plan.stocks.back();
    REQUIRE_FALSE(roll.cuts.empty());
    CHECK(roll.cuts.front().axis == cutting::CutAxis::x);
    CHECK(testing::same(roll.cuts.front().at_m, plan.roll_used_m));
    CHECK(testing::same(roll.cuts.front().to_m, roll.width_m));
    CHECK(plan.roll_used_m * (job.stock.width_m + gap) >=
          area - gap * (job.stock.width_m + gap) - 1e-9);
  }
}

}  // namespace

// Source: [derived] what a plan of straight cuts is; the checks share no code with the nesting.
// Tolerance: 1e-9 m and 1e-9 m2, rounding of lengths that are whole micrometres.
TEST_CASE(
    "200 invented jobs: parts are cut once, apart, inside, by straight cuts, within the bound",
    "[cutting][derived]") {
  int rolls = 0, with_offcuts = 0, several = 0;
  for (int seed = 1; seed <= kJobs; ++seed) {
    CAPTURE(seed);
    const CuttingJob job = testing::random_job(seed);
    const cutting::CutPlan plan = cutting::make_plan(job.parts, {job.stock}, job.input);
    REQUIRE(plan.sheets.size() == 1);
    const cutting::SheetPlan& sheet = plan.sheets.front();
    std::multiset<int> cut;
    for (const cutting::StockPlan& stock : sheet.stocks) {
      check_stock(job, plan, stock);
      for (const cutting::PlacedPart& p : stock.parts) cut.insert(p.part);
    }
    CHECK(cut.size() == job.parts.size());
    CHECK(std::set<int>(cut.begin(), cut.end()).size() == job.parts.size());
    const cutting::AreaCount& area = sheet.area;
    CHECK(std::abs(area.stock - area.parts - area.trimmings - area.offcuts - area.scrap -
                   area.gaps) < 1e-9);
    double outlines = 0.0, stock = 0.0;
    for (const cutting::Part& p : job.parts) outlines += p.area_m2;
    for (const cutting::StockPlan& s : sheet.stocks) stock += s.length_m * s.width_m;
    CHECK(std::abs(area.parts - outlines) < 1e-9);
    CHECK(std::abs(area.stock - stock) < 1e-9);
    check_offcuts_first(job, sheet);
    check_bound(job, sheet);
    CHECK(plan.cost == sheet.bought * job.stock.price);
    rolls += job.stock.form == cutting::StockForm::roll ? 1 : 0;
    with_offcuts += sheet.stocks.front().kind == cutting::StockKind::offcut ? 1 : 0;
    several += sheet.bought > 1 ? 1 : 0;
  }
  // The jobs are of all kinds.
  CHECK(rolls >= 40);
  CHECK(with_offcuts >= 40);
  CHECK(several >= 40);
}

TEST_CASE("the checks of this file see plans that a knife cannot cut", "[cutting]") {
  // A pinwheel: four boards round a middle; every straight cut crosses one.
  const std::vector<cutting::Box> wheel = {
      {0.0, 0.0, 0.2, 0.1}, {0.2, 0.0, 0.1, 0.2}, {0.1, 0.2, 0.2, 0.1}, {0.0, 0.1, 0.1, 0.2}};
  CHECK_FALSE(testing::can_be_cut({0.0, 0.0, 0.3, 0.3}, wheel, 0.0));
  CHECK(testing::can_be_cut({0.0, 0.0, 0.3, 0.3}, {wheel[0], wheel[1], wheel[2]}, 0.0));
  // A gap that is not there, and a box outside.
  CHECK(testing::can_be_cut({0.0, 0.0, 0.3, 0.3}, {wheel[0], wheel[1]}, 0.0));
  CHECK_FALSE(testing::can_be_cut({0.0, 0.0, 0.3, 0.3}, {wheel[0], wheel[1]}, 0.001));
  CHECK_FALSE(testing::can_be_cut({0.0, 0.0, 0.25, 0.3}, {wheel[1]}, 0.0));
}

TEST_CASE("the same job gives the same plan", "[cutting]") {
  const CuttingJob job = testing::random_job(17);
  const auto once = cutting::make_plan(job.parts, {job.stock}, job.input);
  const auto again = cutting::make_plan(job.parts, {job.stock}, job.input);
  REQUIRE(once.sheets[0].stocks.size() == again.sheets[0].stocks.size());
  for (std::size_t s = 0; s < once.sheets[0].stocks.size(); ++s) {
    const auto &a = once.sheets[0].stocks[s], &b = again.sheets[0].stocks[s];
    REQUIRE(a.parts.size() == b.parts.size());
    for (std::size_t i = 0; i < a.parts.size(); ++i) {
      CHECK(a.parts[i].part == b.parts[i].part);
      CHECK(testing::same(a.parts[i].box, b.parts[i].box));
    }
  }
}

}  // namespace calmplate
