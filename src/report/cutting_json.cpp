// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/units.hpp"
#include "report/cutting_words.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

/// Millimetres to a thousandth: rounding of the last digits does not show.
double mm(double metres) { return std::round(base::to_mm(metres) * 1e3) / 1e3 + 0.0; }

Json point(const Eigen::Vector2d& p) { return {mm(p.x()), mm(p.y())}; }

Json box(const cutting::Box& b) { return {mm(b.x_m), mm(b.y_m), mm(b.w_m), mm(b.h_m)}; }

Json corner(const cutting::MarkedCorner& c) {
  Json sides = Json::array();
  for (const cutting::SideDistance& side : c.sides)
    sides.push_back(
        {{"side", side.side}, {"mm", mm(side.distance_m)}, {"foot_mm", point(side.foot)}});
  return {{"at_mm", point(c.at)}, {"sides", sides}};
}

const char* lies_word(cutting::LiesFlat lies) {
  switch (lies) {
    case cutting::LiesFlat::yes:
      return "flat";
    case cutting::LiesFlat::relief_cuts:
      return "with relief cuts";
    case cutting::LiesFlat::warning:
      return "not flat";
  }
  return "flat";
}

Json part_json(const cutting::LaidPart& laid) {
  const cutting::Part& part = laid.part;
  Json outlines = Json::array();
  for (const panel::Polygon& loop : part.loops) {
    Json points = Json::array();
    for (Eigen::Index i = 0; i < loop.rows(); ++i) points.push_back(point(loop.row(i).transpose()));
    outlines.push_back(std::move(points));
  }
  Json relief = Json::array();
  for (const cutting::ReliefCut& cut : laid.flatness.cuts)
    relief.push_back(
        {{"from_mm", point(cut.from)}, {"to_mm", point(cut.to)}, {"width_mm", mm(cut.width_m)}});
  return {{"label", part.label},
          {"piece", part.piece},
          {"sheet", part.sheet},
          {"face", part.outer_face ? "outer" : "inner"},
          {"from", laid.from},
          {"size_mm", point(part.size_m)},
          {"area_mm2", std::round(part.area_m2 * 1e9) / 1e3},
          {"rectangular", part.rectangular},
          {"was_split", part.was_split},
          {"outlines_mm", outlines},
          {"corner_A", corner(laid.position.a)},
          {"corner_B", corner(laid.position.b)},
          {"off_by_mm", mm(laid.flatness.error_m)},
          {"lies", lies_word(laid.flatness.lies)},
          {"edge_excess_mm", mm(laid.flatness.excess_m)},
          {"relief_cuts", relief}};
}

Json side_json(const cutting::Side& side, const std::vector<cutting::Part>& parts) {
  switch (side.kind) {
    case cutting::Side::Kind::part: {
      const cutting::Part& part = parts[static_cast<std::size_t>(side.number)];
      return {{"piece", part.label}, {"layout", part.layout}};
    }
    case cutting::Side::Kind::cut:
      return {{"cut", side.number}};
    case cutting::Side::Kind::offcut:
      return {{"offcut", side.number}};
    case cutting::Side::Kind::scrap:
      return "scrap";
    case cutting::Side::Kind::nothing:
      break;
  }
  return nullptr;
}

Json stock_json(const cutting::StockPlan& stock, const std::vector<cutting::Part>& parts) {
  static const char* const kKinds[] = {"sheet", "roll", "offcut"};
  Json placed = Json::array(), cuts = Json::array(), offcuts = Json::array(), scrap = Json::array();
  for (const cutting::PlacedPart& p : stock.parts) {
    const cutting::Part& part = parts[static_cast<std::size_t>(p.part)];
    placed.push_back({{"piece", part.label},
                      {"layout", part.layout},
                      {"box_mm", box(p.box)},
                      {"turned", p.turned}});
  }
  for (const cutting::Cut& c : stock.cuts)
    cuts.push_back({{"number", c.number},
                    {"direction", c.axis == cutting::CutAxis::x ? "upright" : "level"},
                    {"at_mm", mm(c.at_m)},
                    {"on_rest_mm", mm(c.on_rest_m)},
                    {"from_mm", mm(c.from_m)},
                    {"to_mm", mm(c.to_m)},
                    {"low", side_json(c.low, parts)},
                    {"high", side_json(c.high, parts)}});
  for (const cutting::Box& b : stock.offcuts) offcuts.push_back(box(b));
  for (const cutting::Box& b : stock.scrap) scrap.push_back(box(b));
  return {{"kind", kKinds[static_cast<int>(stock.kind)]},
          {"number", stock.number},
          {"length_mm", mm(stock.length_m)},
          {"width_mm", mm(stock.width_m)},
          {"pieces", placed},
          {"cuts", cuts},
          {"offcuts_mm", offcuts},
          {"scrap_mm", scrap}};
}

Json plan_json(const cutting::CutPlan& plan) {
  Json sheets = Json::array();
  for (const cutting::SheetPlan& s : plan.sheets) {
    Json stocks = Json::array();
    for (const cutting::StockPlan& stock : s.stocks)
      stocks.push_back(stock_json(stock, plan.parts));
    const bool roll = s.form == cutting::StockForm::roll;
    sheets.push_back(
        {{"sheet", s.sheet},
         {"form", roll ? "roll" : "sheet"},
         {"bought", s.bought},
         {"cost", s.price > 0.0 || s.bought == 0 ? Json(s.cost()) : Json(nullptr)},
         {"fewest", s.fewest},
         {"area_bound", s.area_bound},
         {"fewer_than", s.most},
         {"proven", s.proven},
         {"roll_used_mm", roll ? Json(mm(s.roll_used_m)) : Json(nullptr)},
         {"roll_bound_mm", s.roll_bound_m > 0.0 ? Json(mm(s.roll_bound_m)) : Json(nullptr)},
         {"area_m2",
          {{"stock", s.area.stock},
           {"pieces", s.area.parts},
           {"trimmings", s.area.trimmings},
           {"offcuts", s.area.offcuts},
           {"scrap", s.area.scrap},
           {"gaps", s.area.gaps}}},
         {"waste_share", s.area.waste()},
         {"stock", stocks}});
  }
  return {{"layouts", plan.layouts},
          {"cost", plan.priced ? Json(plan.cost) : Json(nullptr)},
          {"cuts", plan.cut_count()},
          {"sheets", sheets}};
}

}  // namespace

std::string cutting_json(const job::Job& job,
                         const study::CutStudy& study,
                         const std::string& paper) {
  Json layouts = Json::array();
  for (const study::CutLayout& layout : study.layouts) {
    Json parts = Json::array();
    for (const cutting::LaidPart& laid : layout.parts) parts.push_back(part_json(laid));
    layouts.push_back({{"name", layout.name},
                       {"minutes", layout.minutes},
                       {"laid_m2", layout.plan.laid_m2()},
                       {"pieces", parts},
                       {"plan", plan_json(layout.plan)}});
  }
  const Json all = {{"schema", "calmplate-cutting"},
                    {"schema_version", 1},
                    {"program", std::string("calmplate ") + CALMPLATE_VERSION},
                    {"job", {{"file", job.file.filename().string()}, {"title", job.title}}},
                    {"currency", job.currency},
                    {"paper", paper},
                    {"gap_mm", mm(job.cutting.gap_m)},
                    {"layouts", layouts},
                    {"together", study.together ? plan_json(*study.together) : Json(nullptr)}};
  return all.dump(2) + "\n";
}

}  // namespace calmplate::report
