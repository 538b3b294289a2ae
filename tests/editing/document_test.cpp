// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/document.hpp"

#include <catch2/catch.hpp>

#include "editing/edit_job.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using editing::Document;
using editing::Outcome;

namespace {

/// Refused in one line that holds these words, and nothing has changed.
void check_refused(Document& d,
                   const Outcome& outcome,
                   const std::string& before,
                   const std::string& words) {
  INFO(outcome.refusal);
  CHECK_FALSE(outcome.done());
  CHECK(outcome.refusal.find(words) != std::string::npos);
  CHECK(outcome.refusal.find('\n') == std::string::npos);
  CHECK(words_of(d.layouts()) == before);
  CHECK_FALSE(d.can_undo());
  CHECK_FALSE(d.changed());
}

}  // namespace

// Source: [derived] the numbers of the commands themselves, steps of 0.1 mm.
TEST_CASE("Pieces are laid, moved, turned, resized, cut and deleted", "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const Outcome laid = d.lay(0, {0.30003, 0.36}, {0.2, 0.26}, {"bitumen"});
  REQUIRE(laid.refusal.empty());
  const auto written = [&] { return d.piece(0, laid.piece)->written; };
  CHECK(written().centre_mm == Eigen::Vector2d(250, 310));
  CHECK(written().size_mm == Eigen::Vector2d(100, 100));
  REQUIRE(d.move(0, laid.piece, {0.01234, -0.0104}).done());
  CHECK(written().centre_mm == Eigen::Vector2d(262.3, 299.6));
  REQUIRE(d.turn(0, laid.piece, 12.34).done());
  CHECK(written().angle_deg == 12.3);
  REQUIRE(d.turn(0, laid.piece, 180.0).done());
  CHECK(written().angle_deg == Approx(-167.7).margin(1e-12));
  REQUIRE(d.resize(0, laid.piece, {0.26, 0.31}, {0.08, 0.06}).done());
  CHECK(written().size_mm == Eigen::Vector2d(80, 60));
  CHECK(d.piece_at(0, {0.26, 0.31}) == laid.piece);
  CHECK_FALSE(d.piece_at(0, {0.05, 0.05}));
  const Outcome cut = d.cut(0, laid.piece, {0.26, 0.2}, {0.27, 0.4});
  REQUIRE(cut.refusal.empty());
  CHECK(d.layout(0).pieces.size() == 4);
  REQUIRE(d.change_sheets(0, cut.piece, {"bitumen", "butyl"}).done());
  REQUIRE(d.change_face(0, cut.piece, job::Face::outer).done());
  CHECK(d.piece(0, cut.piece)->piece.face == job::Face::outer);
  REQUIRE(d.remove(0, laid.piece).done());
  CHECK(d.piece(0, laid.piece) == nullptr);
  CHECK(d.undo_name() == "delete a piece");
  CHECK(d.changed());
}

// Source: [derived] the rules of docs/job-file.md, as the job's own reader tells them.
TEST_CASE("What the job file forbids is refused in one line and changes nothing",
          "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const std::string before = words_of(d.layouts());
  const int first = d.layout(0).pieces[0]->id, second = d.layout(0).pieces[1]->id;
  const int everywhere = d.layout(2).pieces[0]->id;
  check_refused(d, d.lay(0, {0.2, 0.15}, {0.3, 0.3}, {"butyl"}), before, "overlaps piece 1");
  check_refused(d, d.move(0, second, {-0.2, 0.0}), before, "overlaps piece 1");
  check_refused(d, d.lay(0, {0.5, 0.3}, {0.55, 0.35}, {"butyl"}), before, "\"handle\"");
  check_refused(d, d.lay(0, {0.55, 0.1}, {0.7, 0.2}, {"butyl"}), before, "hangs over");
  check_refused(d, d.lay(0, {0.9, 0.9}, {0.95, 0.95}, {"butyl"}), before, "lies off the panel");
  check_refused(
      d, d.lay(0, {0.3, 0.3}, {0.304, 0.35}, {"butyl"}), before, "the new piece, size_mm");
  check_refused(d, d.lay(0, {0.3, 0.3}, {0.35, 0.35}, {"butil"}), before, "did you mean \"butyl\"");
  check_refused(d, d.lay(0, {0.3, 0.3}, {0.35, 0.35}, {"butyl", "bitumen"}), before, "on a foil");
  check_refused(d, d.resize(0, first, {0.2, 0.15}, {0.003, 0.1}), before, "piece 1, size_mm");
  check_refused(d, d.cut(0, first, {0.1, 0.2095}, {0.5, 0.2095}), before, "a part of the cut");
  check_refused(d, d.move(2, everywhere, {0.1, 0.0}), before, "everywhere");
  check_refused(d, d.cut(2, everywhere, {0.1, 0.0}, {0.1, 1.0}), before, "everywhere");
  check_refused(d, d.remove(0, 4711), before, "no such piece");
  check_refused(d, d.lay(3, {0.3, 0.3}, {0.35, 0.35}, {"butyl"}), before, "[layout.place]");
  check_refused(d, d.add_layout("full"), before, "already");
  check_refused(d, d.add_layout("Bare"), before, "name");
  check_refused(d, d.add_layout(""), before, "empty");
  check_refused(d, d.rename_layout(1, "other"), before, "[benefit_map]");
  check_refused(d, d.remove_layout(1), before, "[benefit_map]");
  CHECK_THROWS_AS(d.remove(9, first), std::out_of_range);
}

// Source: [derived] undo is the inverse of a command, redo that of undo; ids are never used twice.
TEST_CASE("Undo and redo walk through every state of a long session, both ways",
          "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  std::mt19937 random(2);
  std::vector<std::string> states = {words_of(d.layouts())};
  for (int i = 0; i < 400; ++i) {
    const bool could_undo = d.can_undo();
    if (!random_command(d, random).done()) {
      CHECK(words_of(d.layouts()) == states.back());
      CHECK(d.can_undo() == could_undo);
    } else if (const std::string now = words_of(d.layouts()); now != states.back()) {
      states.push_back(now);
    }
  }
  REQUIRE(states.size() > 80);
  for (std::size_t i = states.size(); i-- > 0;) {
    REQUIRE(words_of(d.layouts()) == states[i]);
    CHECK(d.can_undo() == (i > 0));
    d.undo();
  }
  CHECK_FALSE(d.changed());
  for (std::size_t i = 0; i < states.size(); ++i) {
    REQUIRE(words_of(d.layouts()) == states[i]);
    CHECK(d.can_redo() == (i + 1 < states.size()));
    d.redo();
  }
  d.undo();
  REQUIRE(d.add_layout("a new branch").done());
  CHECK_FALSE(d.can_redo());
}

// Source: [derived] what a person means by one drag.
TEST_CASE("A drag is one step, and one back to where it began is none", "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const int id = d.layout(0).pieces[0]->id;
  const std::string before = words_of(d.layouts());
  d.begin_gesture();
  for (int i = 0; i < 5; ++i) REQUIRE(d.move(0, id, {0.0, 0.002}).done());
  d.end_gesture();
  CHECK(d.changed());
  d.undo();
  CHECK(words_of(d.layouts()) == before);
  CHECK_FALSE(d.can_undo());
  d.begin_gesture();
  REQUIRE(d.move(0, id, {0.01, 0.0}).done());
  REQUIRE(d.move(0, id, {-0.01, 0.0}).done());
  d.end_gesture();
  CHECK_FALSE(d.can_undo());
  CHECK_FALSE(d.changed());
}

// Source: [derived] pieces that lie edge to edge in steps of 0.1 mm share no area.
TEST_CASE("Pieces laid edge to edge do not overlap, and stay so when both are moved",
          "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const Outcome a = d.lay(0, {0.1003, 0.26}, {0.2004, 0.3501}, {"bitumen"});
  const Outcome b = d.lay(0, {0.2004, 0.26}, {0.3107, 0.3501}, {"bitumen"});
  REQUIRE(a.refusal.empty());
  REQUIRE(b.refusal.empty());
  REQUIRE(d.move(0, b.piece, {0.0111, 0.0}).done());
  REQUIRE(d.move(0, a.piece, {0.0111, 0.0}).done());
  CHECK(d.move(0, a.piece, {0.0001, 0.0}).refusal.find("overlaps") != std::string::npos);
}

// Source: [derived] areas, prices and stock of the job's own text; the flat map stretches this door
// by less than 1 %. A plan buys at least the whole sheets that the area takes.
TEST_CASE("A layout is weighed, priced and counted in stock sheets", "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  REQUIRE(d.add_layout("weighed").done());
  const std::size_t at = d.layouts().size() - 1;
  const auto figures = [&] { return editing::figures_of(p.job, p.panel, d.layout(at)); };
  CHECK(figures().pieces == 0);
  CHECK(figures().mass_kg == 0.0);
  CHECK(editing::plan_of(p.job, p.panel, d.layout(at)).bought == 0);
  REQUIRE(d.lay(at, {0.05, 0.05}, {0.35, 0.25}, {"butyl"}).done());
  REQUIRE(d.lay(at, {0.40, 0.05}, {0.50, 0.15}, {"heavy"}).done());
  const editing::Figures f = figures();
  CHECK(f.pieces == 2);
  CHECK(f.area_m2 == Approx(0.07).epsilon(0.01));
  REQUIRE(f.stock.size() == 2);
  CHECK(f.stock[0].sheet == "butyl");
  CHECK(f.stock[0].sheets == Approx(0.06 / 0.375).epsilon(0.01));
  CHECK(f.stock[0].whole_sheets == 1);
  CHECK(f.cost == Approx(9.0 * 0.06 / 0.375).epsilon(0.01));
  CHECK(f.stock[1].mass_kg == Approx(0.03).epsilon(0.01));
  CHECK(f.mass_kg == Approx(f.stock[0].mass_kg + f.stock[1].mass_kg));
  REQUIRE(d.remove(at, d.layout(at).pieces[1]->id).done());  // "heavy" has no stock size
  const editing::StockPlan plan = editing::plan_of(p.job, p.panel, d.layout(at));
  CHECK(plan.bought == 1);
  CHECK(plan.cost == 9.0);
  CHECK(plan.proven);
}
