// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/sheet_comparison.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/units.hpp"
#include "sheet/shelf.hpp"
#include "study/demo_job.hpp"
#include "study/direct_mean_square.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

/// A comparison of "a", "b", ... with these reductions, one list a sheet, one value a temperature.
study::SheetComparison compared(const std::vector<double>& temps_c,
                                const std::vector<std::vector<double>>& reductions) {
  study::SheetComparison c;
  c.layout = "partial";
  for (const double t : temps_c) c.temperatures_k.push_back(273.15 + t);
  for (std::size_t i = 0; i < reductions.size(); ++i) {
    study::SheetResult sheet;
    sheet.name = std::string(1, static_cast<char>('a' + i));
    sheet.reduction_db = reductions[i];
    c.sheets.push_back(sheet);
  }
  return c;
}

/// The flat plate with three sheets of the shelf and no layout yet.
JobOnPanel plate() {
  JobOnPanel plate = demo_job("flat_test_plate.toml", 0.030);
  plate.job.sheets.clear();
  for (const sheet::ShelfEntry& entry : sheet::shelf())
    if (entry.sheet.name == "butyl 2 mm" || entry.sheet.name == "butyl 3 mm" ||
        entry.sheet.name == "bitumen 2 mm")
      plate.job.sheets.push_back(entry.sheet);
  REQUIRE(plate.job.sheets.size() == 3);
  plate.job.sheet_inputs.resize(3);
  plate.job.layouts.clear();
  plate.job.benefit_map = {};
  plate.job.benefit_map.wanted = false;
  return plate;
}

job::Piece piece(const std::vector<std::string>& sheets, job::Face face = job::Face::inner) {
  job::Piece out;
  out.sheets = sheets;
  out.face = face;
  out.region.outline = panel::rectangle({0.25, 0.2}, {0.25, 0.2}, 0.0);
  return out;
}

job::Layout layout_of(const std::string& name, const std::vector<job::Piece>& pieces) {
  job::Layout out;
  out.name = name;
  out.pieces = pieces;
  return out;
}

/// All over the skin, so that a foil which is held at its edge has a rim to be held by.
job::Piece everywhere(const std::vector<std::string>& sheets, bool foil_held) {
  job::Piece out;
  out.sheets = sheets;
  out.foil_held = foil_held;
  return out;
}

const study::LayoutResult& named(const study::Results& results, const std::string& name) {
  for (const study::LayoutResult& layout : results.layouts)
    if (layout.name == name) return layout;
  throw std::out_of_range("no result " + name);
}

}  // namespace

// Source: [practice] common practice, no source: what a reader must be told, one sentence.
TEST_CASE("one sentence says which sheet wins at which temperature", "[study][practice]") {
  CHECK(study::comparison_sentence(compared({-20, 0, 80}, {{8, 9, 7}, {5, 5, 5}})) ==
        "Laid in the places of \"partial\", from -20 to 80 C \"a\" calms the skin most.");
  CHECK(study::comparison_sentence(compared({20}, {{4.1, 0}, {5.2, 0}})) ==
        "Laid in the places of \"partial\", at 20 C \"b\" calms the skin most.");
  CHECK(study::comparison_sentence(compared({20}, {{4.3, 0}, {5.2, 0}})) ==
        "Laid in the places of \"partial\", at 20 C \"a\" and \"b\" cannot be told apart (they lie "
        "within 1 dB).");
  CHECK(study::comparison_sentence(
            compared({0, 10}, {{5.0, 5.0}, {4.5, 4.1}, {3.0, 3.0}, {4.2, 5.0}})) ==
        "Laid in the places of \"partial\", from 0 to 10 C \"a\", \"b\" and \"d\" cannot be told "
        "apart (they lie within 1 dB).");
  CHECK(study::comparison_sentence(
            compared({-20, 0, 20, 40, 60}, {{9, 8, 6, 3, 2}, {4, 5, 6.5, 6, 5}})) ==
        "Laid in the places of \"partial\", from -20 to 0 C \"a\" calms the skin most; at 20 C "
        "\"a\" and \"b\" cannot be told apart (they lie within 1 dB); from 40 to 60 C \"b\" calms "
        "the skin most.");
  // Which sheet loses does not matter, only who is at the top; and a full margin is a difference.
  CHECK(study::comparison_sentence(compared({0, 10}, {{5, 5}, {1, 2}, {2, 1}})) ==
        "Laid in the places of \"partial\", from 0 to 10 C \"a\" calms the skin most.");
  CHECK(study::comparison_sentence(compared({0}, {{5}, {4}})) ==
        "Laid in the places of \"partial\", at 0 C \"a\" calms the skin most.");
  study::SheetComparison coarse = compared({0}, {{5}, {4}});
  coarse.tell_apart_db = 1.5;
  CHECK(study::comparison_sentence(coarse) ==
        "Laid in the places of \"partial\", at 0 C \"a\" and \"b\" cannot be told apart (they lie "
        "within 1.5 dB).");
}

// Source: [derived] two routes: the comparison, and a job whose layouts are written out by hand.
TEST_CASE("a comparison is the same as its layouts written by hand", "[study][derived]") {
  JobOnPanel one = plate();
  one.job.temperatures_k = {253.15, 293.15, 333.15};
  one.job.layouts = {layout_of("whole", {everywhere({"bitumen 2 mm", "butyl 2 mm"}, true)})};
  one.job.sheet_comparison = {"whole", {"bitumen 2 mm", "butyl 3 mm"}};
  const study::Results compared = study::run_study(one.job, one.panel, {}, {});
  REQUIRE(compared.comparison);
  const study::SheetComparison& c = *compared.comparison;

  job::Job hand = one.job;
  hand.sheet_comparison = {};
  hand.layouts = {layout_of("soft", {everywhere({"bitumen 2 mm"}, false)}),
                  layout_of("foil", {everywhere({"butyl 3 mm"}, true)}),
                  layout_of("loose foil", {everywhere({"butyl 3 mm"}, false)})};
  const study::Results written = study::run_study(hand, one.panel, {}, {});
  CHECK_FALSE(written.comparison);

  CHECK(c.layout == "whole");
  CHECK(c.temperatures_k == one.job.temperatures_k);
  CHECK(c.tell_apart_db == study::kTellApart_db);
  CHECK(c.sentence == study::comparison_sentence(c));
  REQUIRE(c.sheets.size() == 2);
  CHECK(c.sheets[0].kind == sheet::Kind::free_layer);
  CHECK(c.sheets[1].kind == sheet::Kind::constrained);
  for (std::size_t i = 0; i < 2; ++i) {
    const study::LayoutResult& layout = written.layouts[i + 1];
    CAPTURE(c.sheets[i].name);
    CHECK(c.sheets[i].name == one.job.sheet_comparison.sheets[i]);
    CHECK(c.sheets[i].mass_kg == layout.mass_kg);
    CHECK(c.sheets[i].cost == layout.cost);
    CHECK(layout.cost > 0.0);
    REQUIRE(c.sheets[i].reduction_db.size() == 3);
    for (std::size_t k = 0; k < 3; ++k)
      CHECK_THAT(c.sheets[i].reduction_db[k],
                 Catch::WithinAbs(written.layouts[0].temperatures[k].band_level_db -
                                      layout.temperatures[k].band_level_db,
                                  1e-9));
  }
  CHECK(std::abs(c.sheets[0].reduction_db[0] - c.sheets[1].reduction_db[0]) > 0.5);
  CHECK(std::abs(written.layouts[2].band_level_db - written.layouts[3].band_level_db) > 0.01);

  // Without a sweep: one figure, that of the table.
  one.job.temperatures_k.clear();
  hand.temperatures_k.clear();
  const study::Results still = study::run_study(one.job, one.panel, {}, {});
  const study::Results table = study::run_study(hand, one.panel, {}, {});
  REQUIRE(still.comparison);
  CHECK(still.comparison->temperatures_k == std::vector<double>{one.job.temperature_k});
  REQUIRE(still.comparison->sheets[1].reduction_db.size() == 1);
  CHECK_THAT(
      still.comparison->sheets[1].reduction_db[0],
      Catch::WithinAbs(table.layouts[0].band_level_db - table.layouts[2].band_level_db, 2e-3));
}

// Source: [derived] the full complex system solved directly at frequencies of the curve; sums of
// mass and cost; a flat plate does not know its faces apart.
TEST_CASE("sheets on top of each other and on both faces run through the study",
          "[study][derived]") {
  JobOnPanel p = plate();
  const std::vector<std::string> stack = {"bitumen 2 mm", "butyl 2 mm", "butyl 3 mm"};
  p.job.layouts = {
      layout_of("inner", {piece({"butyl 2 mm"})}),
      layout_of("outer", {piece({"butyl 2 mm"}, job::Face::outer)}),
      layout_of("both", {piece({"butyl 2 mm"}), piece({"butyl 2 mm"}, job::Face::outer)}),
      layout_of("stack", {piece(stack)}),
      layout_of("all", {piece(stack), piece({"butyl 3 mm"}, job::Face::outer)})};
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  const study::LayoutResult &inner = named(results, "inner"), &outer = named(results, "outer");
  const study::LayoutResult &both = named(results, "both"), &laid = named(results, "stack");

  CHECK_THAT(inner.area_m2, Catch::WithinRel(0.05, 1e-9));
  CHECK_THAT(both.area_m2, Catch::WithinRel(0.10, 1e-9));
  CHECK_THAT(both.share, Catch::WithinRel(2.0 * inner.share, 1e-9));
  CHECK(both.cover.maxCoeff() <= 1.0);
  CHECK(both.pieces[1].outer_face);
  double mass = 0.0, cost = 0.0;
  for (const std::string& name : stack) {
    const sheet::Sheet& s = p.job.sheet_named(name);
    mass += 0.05 * s.mass_per_area();
    cost += 0.05 * s.price_per_sheet / (s.stock_width_m * s.stock_length_m);
  }
  CHECK(laid.pieces[0].sheets == stack);
  CHECK_THAT(laid.mass_kg, Catch::WithinRel(mass, 1e-9));
  CHECK_THAT(laid.cost, Catch::WithinRel(cost, 1e-9));
  CHECK_THAT(outer.band_level_db, Catch::WithinAbs(inner.band_level_db, 1e-6));
  CHECK(both.band_level_db < inner.band_level_db - 0.5);
  CHECK(laid.band_level_db < inner.band_level_db - 0.5);

  const shell::Skin skin = study::skin_of(p.job, p.panel);
  const reduced::Ports ports = study::ports_of(p.job, skin);
  const study::LayoutResult& all = named(results, "all");
  const shell::PanelModel model =
      shell::build_model(skin,
                         study::attachments_of(p.job),
                         study::pieces_of(p.job, p.panel, layout_named(p.job, "all")));
  for (const Eigen::Index i : {40, 110, 200, 310, 450}) {
    const double f = results.freq_hz(i);
    const double direct = direct_mean_square(skin, model, ports.load, p.job.temperature_k, f) /
                          (base::kVelocityReference * base::kVelocityReference);
    CAPTURE(f, all.curve_db(i));
    CHECK_THAT(all.curve_db(i), Catch::WithinAbs(base::to_db(direct), 0.3));
  }
}

// Source: [derived] turning a skin round makes its inner face the outer one and changes nothing
// else; the piece and the pressure are symmetric.
TEST_CASE("the face of a piece counts on a crowned skin", "[study][derived]") {
  JobOnPanel p = plate();
  p.job.drive.kind = drive::Kind::pressure;
  p.job.listen_at.clear();
  p.job.layouts = {layout_of("inner", {piece({"butyl 2 mm"})}),
                   layout_of("outer", {piece({"butyl 2 mm"}, job::Face::outer)})};
  const panel::Mesh mesh = cylinder_panel(0.5, 0.4, 1.0, 20, 16);
  const auto levels = [&](const Eigen::Vector3d& outward) {
    panel::PanelOptions options;
    options.outward = outward;
    const study::Results r =
        study::run_study(p.job, panel::make_panel(mesh, options, "cylinder"), {}, {});
    return Eigen::Vector2d(r.layouts[1].band_level_db, r.layouts[2].band_level_db);
  };
  const Eigen::Vector2d up = levels(Eigen::Vector3d::UnitZ());
  const Eigen::Vector2d down = levels(-Eigen::Vector3d::UnitZ());
  CAPTURE(up, down);
  CHECK(std::abs(up(0) - up(1)) > 0.02);
  CHECK_THAT(up(0), Catch::WithinAbs(down(1), 1e-6));
  CHECK_THAT(up(1), Catch::WithinAbs(down(0), 1e-6));
}
