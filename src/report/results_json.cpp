// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/results_json.hpp"

#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "base/units.hpp"
#include "report/drive_json.hpp"
#include "report/page_json.hpp"
#include "report/placed_toml.hpp"
#include "report/scan_text.hpp"
#include "report/sheet_figures.hpp"
#include "report/sound_json.hpp"
#include "report/summary.hpp"
#include "report/sureness.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

Json point_mm(const Eigen::Vector2d& p) { return {base::to_mm(p.x()), base::to_mm(p.y())}; }

Json polygon_mm(const panel::Polygon& polygon) {
  Json out = Json::array();
  for (Eigen::Index i = 0; i < polygon.rows(); ++i) out.push_back(point_mm(polygon.row(i)));
  return out;
}

Json polygons_mm(const std::vector<panel::Polygon>& polygons) {
  Json out = Json::array();
  for (const panel::Polygon& p : polygons) out.push_back(polygon_mm(p));
  return out;
}

/// A number, or null where there is none (no level of nothing, no ring time without loss).
Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

/// What holds a rim part: the last entry that names it.
std::string hold_of(const job::Job& job, const panel::Panel& panel, std::size_t part) {
  std::string word = "free";
  for (const shell::EdgeInput& edge : job.edges)
    for (const int p : panel::parts_named(panel, edge.part))
      if (static_cast<std::size_t>(p) == part)
        word = edge.from ? word + ", in part " + hold_word(edge.hold) : hold_word(edge.hold);
  return word;
}

Json panel_json(const job::Job& job, const panel::Panel& panel, const panel::PanelReport& mending) {
  Json rim = Json::array();
  for (std::size_t i = 0; i < panel.rim.size(); ++i) {
    const panel::RimPart& part = panel.rim[i];
    Json line = Json::array();
    for (const int node : part.nodes) line.push_back(point_mm(panel.flat.points().row(node)));
    rim.push_back({{"name", part.name},
                   {"hold", hold_of(job, panel, i)},
                   {"length_mm", base::to_mm(part.length_m)},
                   {"line_mm", line}});
  }
  Json keep_outs = Json::array();
  for (const job::KeepOut& k : job.keep_outs)
    keep_outs.push_back({{"name", k.name}, {"outline_mm", polygon_mm(k.outline)}});
  return {{"nodes", panel.mesh.nodes.rows()},
          {"triangles", panel.mesh.triangles.rows()},
          {"element_size_mm", base::to_mm(panel.element_size_m)},
          {"worst_angle_deg", mending.worst_angle_deg},
          {"worst_stretch", panel.flat.worst_stretch()},
          {"remeshed", mending.remeshed},
          {"mending", mending_json(panel, mending)},
          {"size_flat_mm", point_mm(panel.flat.size())},
          {"area_m2", panel.area_m2},
          {"thickness_mm", base::to_mm(job.thickness_m)},
          {"material", job.material.name},
          {"loss_factor", job.material.loss_factor},
          {"mass_kg", panel.area_m2 * job.thickness_m * job.material.density},
          {"outlines_mm", polygons_mm(panel::outlines(panel, {}))},
          {"rim", rim},
          {"keep_outs", keep_outs}};
}

/// The sheets of a piece in one line, the one on the skin first.
std::string stack_name(const std::vector<std::string>& sheets) {
  std::string out;
  for (const std::string& name : sheets) out += (out.empty() ? "" : " + ") + name;
  return out;
}

Json piece_json(const study::PieceResult& piece, const job::Piece& input) {
  Json out = {{"number", piece.number},
              {"sheet", stack_name(piece.sheets)},
              {"sheets", piece.sheets},
              {"face", piece.outer_face ? "outer" : "inner"},
              {"outlines_mm", polygons_mm(piece.outlines)},
              {"area_m2", piece.area_m2},
              {"mass_kg", piece.mass_kg}};
  // A rectangle keeps its two sides as a person would measure them.
  const panel::Polygon& p = input.region.outline;
  if (p.rows() == 4) {
    const Eigen::Vector2d a = p.row(1) - p.row(0), b = p.row(2) - p.row(1);
    const Eigen::Vector2d c = p.row(2) - p.row(3);
    if (std::abs(a.dot(b)) < 1e-9 && (a - c).norm() < 1e-9)
      out["size_mm"] = {base::to_mm(a.norm()), base::to_mm(b.norm())};
  }
  return out;
}

Json mode_json(const study::ModeResult& m) {
  return {{"freq_hz", m.freq_hz},
          {"loss_factor", m.loss_factor},
          {"loss_factor_strain_energy", m.loss_factor_energy},
          {"bending_share", m.bending_share},
          {"ring_time_s", number(m.ring_time_s)}};
}

Json ratio(double gain, double price) { return price > 0.0 ? number(gain / price) : Json(nullptr); }

Json loudest_json(const study::LayoutResult& layout) {
  if (!layout.loudest) return nullptr;
  return {{"freq_hz", layout.loudest->freq_hz},
          {"level_db", number(layout.loudest->level_db)},
          {"at_mm", point_mm(layout.loudest->at)}};
}

Json temperatures_json(const study::LayoutResult& layout, const study::LayoutResult& bare) {
  Json out = Json::array();
  for (std::size_t i = 0; i < layout.temperatures.size(); ++i) {
    const study::TemperatureResult& t = layout.temperatures[i];
    out.push_back({{"temperature_C", base::to_celsius(t.temp_k)},
                   {"band_level_dB", number(t.band_level_db)},
                   {"reduction_dB", number(bare.temperatures[i].band_level_db - t.band_level_db)}});
  }
  return out;
}

Json comparison_json(const study::Results& results) {
  if (!results.comparison) return nullptr;
  const study::SheetComparison& c = *results.comparison;
  Json temperatures = Json::array(), sheets = Json::array();
  for (const double t : c.temperatures_k) temperatures.push_back(base::to_celsius(t));
  for (const study::SheetResult& s : c.sheets) {
    Json less = Json::array(), per_kg = Json::array(), per_money = Json::array();
    for (const double db : s.reduction_db) {
      less.push_back(number(db));
      per_kg.push_back(s.mass_kg > 0.0 ? number(db / s.mass_kg) : Json(nullptr));
      per_money.push_back(s.cost > 0.0 ? number(db / s.cost) : Json(nullptr));
    }
    sheets.push_back({{"name", s.name},
                      {"kind", kind_word(s.kind)},
                      {"mass_kg", s.mass_kg},
                      {"cost", s.cost},
                      {"reduction_dB", less},
                      {"dB_per_kg", per_kg},
                      {"dB_per_currency", per_money}});
  }
  return {{"layout", c.layout},
          {"temperatures_C", temperatures},
          {"tell_apart_dB", c.tell_apart_db},
          {"sentence", c.sentence},
          {"sheets", sheets}};
}

Json layout_json(const job::Job& job,
                 const study::LayoutResult& layout,
                 const study::LayoutResult& bare,
                 const job::Layout* input) {
  Json pieces = Json::array();
  for (std::size_t i = 0; i < layout.pieces.size(); ++i)
    pieces.push_back(piece_json(layout.pieces[i], input->pieces[i]));
  Json thirds = Json::array();
  for (std::size_t i = 0; i < layout.third_octaves.size(); ++i) {
    const study::BandResult& b = layout.third_octaves[i];
    thirds.push_back({{"nominal_hz", b.band.nominal_hz},
                      {"centre_hz", b.band.centre_hz},
                      {"low_hz", b.band.low_hz},
                      {"high_hz", b.band.high_hz},
                      {"level_db", number(b.level_db)},
                      {"reduction_db", number(bare.third_octaves[i].level_db - b.level_db)}});
  }
  Json modes = Json::array();
  for (const study::ModeResult& m : layout.modes) modes.push_back(mode_json(m));
  Json listen = Json::array();
  for (std::size_t i = 0; i < layout.listen.size(); ++i)
    listen.push_back(
        {{"name", layout.listen[i].name},
         {"level_db", number(layout.listen[i].level_db)},
         {"reduction_db", number(bare.listen[i].level_db - layout.listen[i].level_db)}});
  Json out = {{"name", layout.name},
              {"pieces", pieces},
              {"area_m2", layout.area_m2},
              {"share", layout.share},
              {"mass_kg", layout.mass_kg},
              {"cost", layout.cost},
              {"stock_sheets", stock_sheets_json(job, layout)},
              {"band_level_db", number(layout.band_level_db)},
              {"band_reduction_db", number(bare.band_level_db - layout.band_level_db)},
              {"third_octaves", thirds},
              {"listen_at", listen},
              {"dB_per_kg", ratio(bare.band_level_db - layout.band_level_db, layout.mass_kg)},
              {"dB_per_currency", ratio(bare.band_level_db - layout.band_level_db, layout.cost)},
              {"loudest_mode", loudest_json(layout)},
              {"temperature", temperatures_json(layout, bare)},
              {"modes", modes},
              {"modes_complete", layout.modes_complete},
              {"worst_residual", layout.worst_residual},
              {"degrees_of_freedom", layout.full_size},
              {"basis_size", layout.basis_size}};
  add_sound(layout, out);
  if (layout.working.size() > 0) out["working_map_field"] = working_field(job, layout.name);
  return out;
}

Json map_json(const study::Results& results, const job::Job& job) {
  if (!results.map || results.map->best < 0) return nullptr;
  const placement::BenefitMap& map = *results.map;
  Json places = Json::array();
  const auto place = [](const placement::Place& p) -> Json {
    return {
        {"centre_mm", point_mm(p.centre)}, {"area_m2", p.area_m2}, {"benefit_db", p.benefit_db}};
  };
  for (const placement::Place& p : map.places) places.push_back(place(p));
  return {{"sheet", results.map_sheet},
          {"on_layout", job.benefit_map.layout.empty() ? "bare" : job.benefit_map.layout},
          {"piece_mm", base::to_mm(job.benefit_map.piece_m)},
          {"spacing_mm", base::to_mm(job.benefit_map.spacing_m)},
          {"field", "benefit_dB"},
          {"best", place(map.places[static_cast<std::size_t>(map.best)])},
          {"places", places}};
}

}  // namespace

std::string working_field(const job::Job& job, const std::string& layout) {
  return "working_" + layout + (job.drive.kind == drive::Kind::tap ? "_J_per_m2" : "_W_per_m2");
}

std::string hold_word(shell::Hold hold) {
  switch (hold) {
    case shell::Hold::free:
      return "free";
    case shell::Hold::clamped:
      return "clamped";
    case shell::Hold::pinned:
      return "pinned";
    case shell::Hold::simply_supported:
      return "simply-supported";
    case shell::Hold::springs:
      return "springs";
  }
  return "free";
}

std::string check_json(const job::Job& job,
                       const panel::Panel& panel,
                       const panel::PanelReport& mending) {
  Json layouts = Json::array();
  for (const job::Layout& layout : job.layouts)
    layouts.push_back({{"name", layout.name}, {"pieces", layout.pieces.size()}});
  const Json out = {{"schema", "calmplate-check"},
                    {"schema_version", 1},
                    {"job", {{"title", job.title}, {"note", job.note}}},
                    {"panel", panel_json(job, panel, mending)},
                    {"band", {{"low_hz", job.band.low_hz}, {"high_hz", job.band.high_hz}}},
                    {"drive", drive_json(job)},
                    {"woofer", woofer_set_json(job, panel)},
                    {"layouts", layouts}};
  return out.dump(1) + "\n";
}

std::string results_json(const job::Job& job,
                         const panel::Panel& panel,
                         const panel::PanelReport& mending,
                         const study::Results& results) {
  const study::LayoutResult& bare = results.layouts.front();
  Json levels = Json::object(), layouts = Json::array(), freq = Json::array();
  for (const double f : results.freq_hz) freq.push_back(f);
  for (std::size_t i = 0; i < results.layouts.size(); ++i) {
    const study::LayoutResult& l = results.layouts[i];
    Json curve = Json::array();
    for (const double level : l.curve_db) curve.push_back(number(level));
    levels[l.name] = curve;
    layouts.push_back(layout_json(job, l, bare, i == 0 ? nullptr : &job.layouts[i - 1]));
  }
  const bool tap = job.drive.kind == drive::Kind::tap;
  const Json out = {{"schema", "calmplate-results"},
                    {"schema_version", 1},
                    {"program_version", CALMPLATE_VERSION},
                    {"job",
                     {{"title", job.title},
                      {"note", job.note},
                      {"file", job.file.filename().string()},
                      {"currency", job.currency},
                      {"temperature_C", base::to_celsius(job.temperature_k)},
                      {"air_on_faces",
                       job.air == job::Air::none       ? 0
                       : job.air == job::Air::one_face ? 1
                                                       : 2}}},
                    {"report", report_json(job)},
                    {"answer", results.answer},
                    {"notes", results.notes},
                    {"cautions", cautions()},
                    {"panel", panel_json(job, panel, mending)},
                    {"sheets", sheets_json(job)},
                    {"band", {{"low_hz", job.band.low_hz}, {"high_hz", job.band.high_hz}}},
                    {"drive", drive_json(job)},
                    {"curves",
                     {{"unit", tap ? "dB re (1 nm/s)\u00b2 s\u00b2" : "dB re 1 nm/s"},
                      {"freq_hz", freq},
                      {"level_db", levels}}},
                    {"layouts", layouts},
                    {"tap", tap_json(results.tap)},
                    {"woofer", woofer_json(results)},
                    {"sheet_comparison", comparison_json(results)},
                    {"placed", places_json(results)},
                    {"coverage_curve", curve_json(results)},
                    {"unknowns", unknowns_json(results)},
                    {"convergence", convergence_json(results)},
                    {"benefit_map", map_json(results, job)}};
  return out.dump(1) + "\n";
}

}  // namespace calmplate::report
