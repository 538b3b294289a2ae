// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/hand.hpp"

#include <catch2/catch.hpp>

#include "editing/edit_job.hpp"

namespace calmplate::window {
namespace {

struct Desk {
  testing::EditJob job;
  Hand hand{job.document};

  Desk() {
    hand.sheets = {"butyl"};
    const editing::Outcome added = job.document.add_layout("by hand");
    REQUIRE(added.done());
    hand.set_layout(job.document.layouts().size() - 1);
  }
  Step drag(const Eigen::Vector2d& from, const Eigen::Vector2d& to, double reach_m = 0.008) {
    hand.press(from, reach_m);
    hand.drag(0.5 * (from + to));
    return hand.release(to);
  }
  const job::WrittenPiece& piece() const {
    return job.document.piece(hand.layout(), hand.selected())->written;
  }
  std::size_t count() const { return job.document.layout(hand.layout()).pieces.size(); }
};

}  // namespace

// Source: [derived] corners at the nearest 5 mm, as the help card says.
TEST_CASE("a dragged rectangle snaps to 5 mm, and not when snapping is off", "[window][derived]") {
  Desk desk;
  CHECK(desk.drag({0.0521, 0.0519}, {0.2013, 0.1482}).changed);
  CHECK(desk.count() == 1);
  CHECK(desk.piece().centre_mm.isApprox(Eigen::Vector2d(125.0, 100.0), 1e-12));
  CHECK(desk.piece().size_mm.isApprox(Eigen::Vector2d(150.0, 100.0), 1e-12));
  desk.hand.snapping = false;
  CHECK(desk.drag({0.3, 0.1}, {0.4013, 0.1987}).changed);
  CHECK(desk.piece().size_mm.isApprox(Eigen::Vector2d(101.3, 98.7), 1e-12));
}

// Source: [practice] common practice, no source: one drag is one step.
TEST_CASE("a drag is one step of undo, and Escape takes it back", "[window][practice]") {
  Desk desk;
  desk.drag({0.05, 0.05}, {0.2, 0.15});
  desk.hand.press({0.1, 0.1}, 0.004);
  for (int i = 1; i <= 10; ++i) desk.hand.drag({0.1 + 0.01 * i, 0.1});
  CHECK(desk.hand.release({0.2, 0.1}).changed);
  CHECK(desk.piece().centre_mm.isApprox(Eigen::Vector2d(225.0, 100.0), 1e-12));
  desk.job.document.undo();
  CHECK(desk.piece().centre_mm.isApprox(Eigen::Vector2d(125.0, 100.0), 1e-12));
  desk.hand.press({0.1, 0.1}, 0.004);
  desk.hand.drag({0.15, 0.1});
  CHECK(desk.hand.cancel().changed);
  CHECK(desk.piece().centre_mm.isApprox(Eigen::Vector2d(125.0, 100.0), 1e-12));
  CHECK_FALSE(desk.hand.dragging());
}

// Source: [practice] common practice, no source.
TEST_CASE("a click without a motion selects and changes nothing", "[window][practice]") {
  Desk desk;
  desk.drag({0.05, 0.05}, {0.2, 0.15});
  const int id = desk.hand.selected();
  CHECK_FALSE(desk.drag({0.4, 0.3}, {0.401, 0.3}).changed);
  CHECK(desk.hand.selected() == 0);
  CHECK(desk.count() == 1);
  desk.drag({0.1, 0.1}, {0.1005, 0.1005});
  CHECK(desk.hand.selected() == id);
  CHECK(desk.piece().centre_mm.isApprox(Eigen::Vector2d(125.0, 100.0), 1e-12));
}

// Source: [derived] a corner moves alone, the one across stays; the handle points to where it is
// dragged.
TEST_CASE("corners resize and the round handle turns", "[window][derived]") {
  Desk desk;
  desk.drag({0.2, 0.15}, {0.3, 0.25});
  CHECK(desk.drag({0.3, 0.25}, {0.35, 0.27}).changed);
  CHECK(desk.piece().centre_mm.isApprox(Eigen::Vector2d(275.0, 210.0), 1e-12));
  CHECK(desk.piece().size_mm.isApprox(Eigen::Vector2d(150.0, 120.0), 1e-12));
  const Eigen::Vector2d handle = *desk.hand.turning_handle(Hand::kStalkReaches * 0.008);
  CHECK((handle - Eigen::Vector2d(0.275, 0.302)).norm() < 1e-12);
  CHECK(desk.drag(handle, {0.275 - 0.1, 0.21 + 0.1}).changed);
  CHECK(desk.piece().angle_deg == Approx(45.0));
  CHECK(desk.hand.turn(-15.0).changed);
  CHECK(desk.piece().angle_deg == Approx(30.0));
  // Turned, it grows along its own sides, and its lower left corner stays.
  const Eigen::Vector2d corner = desk.hand.corners().front();
  CHECK(desk.hand.grow({0.01, 0.0}).changed);
  CHECK((desk.hand.corners().front() - corner).norm() < 2e-4);  // centres are kept to 0.1 mm
  CHECK(desk.piece().size_mm.isApprox(Eigen::Vector2d(160.0, 120.0), 1e-12));
}

// Source: [derived] two halves have the area of the whole.
TEST_CASE("a dragged line and the single keys cut a piece in two", "[window][derived]") {
  Desk desk;
  desk.drag({0.05, 0.05}, {0.25, 0.15});
  desk.hand.cutting = true;
  desk.hand.press({0.1, 0.02}, 0.008);
  desk.hand.drag({0.1, 0.1});
  CHECK(desk.hand.cut_line().has_value());
  CHECK(desk.hand.release({0.1, 0.2}).changed);
  CHECK_FALSE(desk.hand.cutting);
  CHECK(desk.count() == 2);
  double area = 0.0;
  for (const auto& laid : desk.job.document.layout(desk.hand.layout()).pieces)
    area += laid->written.size_mm.prod();
  CHECK(area == Approx(200.0 * 100.0));
  CHECK(desk.hand.cut_through(false).changed);
  CHECK(desk.count() == 3);
  // A line beside all pieces cuts none and says so.
  desk.hand.select(0);
  desk.hand.cutting = true;
  desk.hand.press({0.4, 0.2}, 0.008);
  CHECK_FALSE(desk.hand.release({0.4, 0.35}).refusal.empty());
  CHECK(desk.count() == 3);
}

// Source: [practice] common practice, no source.
TEST_CASE("what is refused shows where it would lie and leaves the piece", "[window][practice]") {
  Desk desk;
  desk.drag({0.05, 0.05}, {0.15, 0.15});
  desk.drag({0.3, 0.05}, {0.4, 0.15});
  desk.hand.press({0.35, 0.1}, 0.004);
  const Step step = desk.hand.drag({0.15, 0.1});
  CHECK_FALSE(step.changed);
  CHECK_FALSE(step.refusal.empty());
  CHECK(desk.hand.refused_outline().has_value());
  desk.hand.release({0.15, 0.1});
  CHECK_FALSE(desk.hand.refused_outline().has_value());
  // It comes as near as it may: edge to edge, within the last halving of the way.
  CHECK(desk.piece().centre_mm.x() >= 200.0 - 1e-9);
  CHECK(desk.piece().centre_mm.x() <= 210.0);
  CHECK(desk.piece().centre_mm.y() == Approx(100.0));
  // Pieces one after the other, and after the last one none.
  desk.hand.select(0);
  CHECK(desk.hand.select_next(false));
  CHECK(desk.hand.select_next(false));
  CHECK_FALSE(desk.hand.select_next(false));
  CHECK(desk.hand.selected() == 0);
}

}  // namespace calmplate::window
