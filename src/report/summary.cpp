// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/summary.hpp"

#include <algorithm>

#include "base/units.hpp"
#include "report/placed_toml.hpp"
#include "report/results_json.hpp"
#include "report/scan_text.hpp"
#include "report/sound_text.hpp"
#include "report/sureness.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr std::size_t kWidth = 96;

std::string panel_lines(const job::Job& job, const panel::Panel& panel) {
  return "Panel: " + fixed(base::to_mm(panel.flat.size().x()), 0) + " x " +
         fixed(base::to_mm(panel.flat.size().y()), 0) + " mm along the skin, " +
         fixed(panel.area_m2, 3) + " m2 of " + job.material.name + " " +
         fixed(base::to_mm(job.thickness_m), 2) + " mm, " +
         std::to_string(panel.mesh.nodes.rows()) + " nodes, elements of " +
         fixed(base::to_mm(panel.element_size_m), 1) + " mm\n";
}

std::string layout_table(const job::Job& job, const study::Results& results) {
  const study::LayoutResult& bare = results.layouts.front();
  const bool priced = std::any_of(results.layouts.begin(),
                                  results.layouts.end(),
                                  [](const study::LayoutResult& l) { return l.cost > 0.0; });
  Rows rows = {{"layout", "pieces", "area", "of skin", "mass", "band level", "reduction"},
               {"", "", "m2", "%", "kg", "dB", "dB"}};
  if (priced) {
    rows[0].push_back("sheet cost");
    rows[1].push_back(job.currency);
  }
  for (const study::LayoutResult& l : results.layouts) {
    rows.push_back({l.name,
                    std::to_string(l.pieces.size()),
                    fixed(l.area_m2, 3),
                    fixed(100.0 * l.share, 0),
                    fixed(l.mass_kg, 2),
                    fixed(l.band_level_db, 1),
                    fixed(bare.band_level_db - l.band_level_db, 1)});
    if (priced) rows.back().push_back(fixed(l.cost, 2));
  }
  return text_table(rows);
}

std::string third_octave_table(const study::Results& results) {
  const study::LayoutResult& bare = results.layouts.front();
  if (bare.third_octaves.empty()) return "  no one-third octave lies within the band\n";
  Rows rows = {{"Hz"}};
  for (const study::BandResult& b : bare.third_octaves)
    rows[0].push_back(fixed(b.band.nominal_hz, b.band.nominal_hz < 40.0 ? 1 : 0));
  rows.push_back({"bare, level dB"});
  for (const study::BandResult& b : bare.third_octaves) rows[1].push_back(fixed(b.level_db, 0));
  for (std::size_t i = 1; i < results.layouts.size(); ++i) {
    rows.push_back({results.layouts[i].name + ", dB less"});
    for (std::size_t k = 0; k < bare.third_octaves.size(); ++k)
      rows.back().push_back(
          fixed(bare.third_octaves[k].level_db - results.layouts[i].third_octaves[k].level_db, 1));
  }
  return text_table(rows);
}

std::string mode_table(const study::Results& results) {
  constexpr std::size_t kShown = 5;
  Rows rows = {{"layout", "mode", "Hz", "loss factor", "ring time s", "bending share %"}};
  for (const study::LayoutResult& l : results.layouts)
    for (std::size_t m = 0; m < std::min(kShown, l.modes.size()); ++m)
      rows.push_back({m == 0 ? l.name : "",
                      std::to_string(m + 1),
                      fixed(l.modes[m].freq_hz, 1),
                      fixed(l.modes[m].loss_factor, 4),
                      fixed(l.modes[m].ring_time_s, 2),
                      fixed(100.0 * l.modes[m].bending_share, 0)});
  return text_table(rows);
}

/// What a kilogram and a unit of money buy, and what still sounds.
std::string worth_table(const job::Job& job, const study::Results& results) {
  const study::LayoutResult& bare = results.layouts.front();
  Rows rows = {{"layout", "dB less", "per kg", "per " + job.currency, "loudest left", "near"},
               {"", "dB", "dB/kg", "dB", "Hz", "mm"}};
  for (const study::LayoutResult& l : results.layouts) {
    const double less = bare.band_level_db - l.band_level_db;
    rows.push_back({l.name,
                    fixed(less, 1),
                    l.mass_kg > 0.0 ? fixed(less / l.mass_kg, 1) : "-",
                    l.cost > 0.0 ? fixed(less / l.cost, 2) : "-",
                    l.loudest ? fixed(l.loudest->freq_hz, 0) : "-",
                    l.loudest ? "(" + fixed(base::to_mm(l.loudest->at.x()), 0) + ", " +
                                    fixed(base::to_mm(l.loudest->at.y()), 0) + ")"
                              : "-"});
  }
  return text_table(rows);
}

/// Reduction over temperature, one row a layout.
std::string temperature_table(const study::Results& results) {
  const study::LayoutResult& bare = results.layouts.front();
  Rows rows = {{"dB less at, degrees C"}};
  for (const study::TemperatureResult& t : bare.temperatures)
    rows[0].push_back(fixed(base::to_celsius(t.temp_k), 0));
  for (std::size_t i = 1; i < results.layouts.size(); ++i) {
    const study::LayoutResult& l = results.layouts[i];
    rows.push_back({l.name});
    for (std::size_t k = 0; k < l.temperatures.size(); ++k)
      rows.back().push_back(
          fixed(bare.temperatures[k].band_level_db - l.temperatures[k].band_level_db, 1));
  }
  return text_table(rows);
}

/// The sheets of the comparison, one row a sheet, with what a kilogram and a unit of money buy.
std::string comparison_table(const job::Job& job, const study::SheetComparison& c) {
  Rows rows = {{"sheet", "mass", "cost"}, {"", "kg", job.currency}};
  for (const double t : c.temperatures_k) {
    rows[0].push_back(fixed(base::to_celsius(t), 0) + " C");
    rows[1].push_back("dB");
  }
  rows[0].insert(rows[0].end(), {"best per kg", "best per " + job.currency});
  rows[1].insert(rows[1].end(), {"dB/kg", "dB/" + job.currency});
  for (const study::SheetResult& s : c.sheets) {
    rows.push_back({s.name, fixed(s.mass_kg, 2), s.cost > 0.0 ? fixed(s.cost, 2) : "-"});
    for (const double db : s.reduction_db) rows.back().push_back(fixed(db, 1));
    const double most = *std::max_element(s.reduction_db.begin(), s.reduction_db.end());
    rows.back().push_back(s.mass_kg > 0.0 ? fixed(most / s.mass_kg, 1) : "-");
    rows.back().push_back(s.cost > 0.0 ? fixed(most / s.cost, 2) : "-");
  }
  return text_table(rows);
}

std::string best_place(const job::Job& job, const study::Results& results) {
  if (!results.map || results.map->best < 0) return "";
  const placement::Place& p = results.map->places[static_cast<std::size_t>(results.map->best)];
  const std::string side = fixed(base::to_mm(job.benefit_map.piece_m), 0);
  return wrapped("One piece of " + side + " x " + side + " mm of \"" + results.map_sheet +
                     "\" helps most with its centre at (" + fixed(base::to_mm(p.centre.x()), 0) +
                     ", " + fixed(base::to_mm(p.centre.y()), 0) + ") mm from the datum corner: " +
                     fixed(p.benefit_db, 1) + " dB less over the band.",
                 kWidth,
                 "");
}

}  // namespace

std::string summary(const job::Job& job, const panel::Panel& panel, const study::Results& results) {
  std::string out = job.title + "\n";
  if (!job.note.empty()) out += wrapped(job.note, kWidth, "");
  out += "\n" + panel_lines(job, panel);
  out += "Band:  " + fixed(job.band.low_hz, 0) + " to " + fixed(job.band.high_hz, 0) + " Hz, " +
         fixed(base::to_celsius(job.temperature_k), 0) + " C\n\n";
  out += layout_table(job, results);
  out += "\nOne-third octaves\n" + third_octave_table(results);
  out += "\nLowest modes\n" + mode_table(results) + "\n";
  if (results.layouts.size() > 1)
    out += "What it is worth, and what is left\n" + worth_table(job, results) + "\n";
  out += sound_text(job, results);
  if (!results.layouts.front().temperatures.empty() && results.layouts.size() > 1)
    out += "Over temperature\n" + temperature_table(results) + "\n";
  if (results.comparison) {
    out += "Sheets in the places of \"" + results.comparison->layout + "\"\n" +
           comparison_table(job, *results.comparison) + "\n" +
           wrapped(results.comparison->sentence, kWidth, "") + "\n";
  }
  out += places_text(job, results);
  out += sureness_text(results);
  out += best_place(job, results);
  out += "\n" + wrapped(results.answer, kWidth, "");
  for (const std::string& note : results.notes) out += wrapped(note, kWidth, "");
  out += "\nTake care\n";
  for (const std::string& caution : cautions()) {
    const std::string lines = wrapped(caution, kWidth - 4, "    ");
    out += "  - " + lines.substr(4);
  }
  return out;
}

std::string description(const job::Job& job,
                        const panel::Panel& panel,
                        const panel::PanelReport& mending) {
  std::string out = job.title + "\n" + panel_lines(job, panel);
  out += scan_text(panel, mending);
  out += "  smallest angle " + fixed(mending.worst_angle_deg, 0) +
         " degrees, flat map stretched by " + fixed(100.0 * panel.flat.worst_stretch(), 2) +
         " % at most\n\nRim\n";
  Rows rows = {{"part", "length mm", "hold"}};
  for (const panel::RimPart& part : panel.rim) {
    std::string hold = "free";
    for (const shell::EdgeInput& edge : job.edges)
      for (const int p : panel::parts_named(panel, edge.part))
        if (panel.rim[static_cast<std::size_t>(p)].name == part.name) hold = hold_word(edge.hold);
    rows.push_back({part.name, fixed(base::to_mm(part.length_m), 0), hold});
  }
  out += text_table(rows) + "\nLayouts\n";
  rows = {{"name", "pieces", "area m2", "of skin %", "mass kg"}};
  for (const job::Layout& layout : job.layouts) {
    double area = 0.0, mass = 0.0;
    for (const job::Piece& piece : layout.pieces) {
      const double a = panel::covered_area(panel, panel::cover(panel, piece.region));
      area += a;
      for (const std::string& name : piece.sheets)
        mass += a * job.sheet_named(name).mass_per_area();
    }
    rows.push_back({layout.name,
                    std::to_string(layout.pieces.size()),
                    fixed(area, 3),
                    fixed(100.0 * area / panel.area_m2, 0),
                    fixed(mass, 2)});
  }
  out += text_table(rows);
  if (job.woofer) out += "\n" + woofer_text(job, panel);
  out += "\nWould compute: bare and " + std::to_string(job.layouts.size()) + " layouts over " +
         fixed(job.band.low_hz, 0) + " to " + fixed(job.band.high_hz, 0) + " Hz" +
         (job.benefit_map.wanted ? ", and the benefit map" : "") + ".\n";
  for (const std::string& warning : job.warnings)
    out += "\n" + wrapped("Note: " + warning, kWidth, "");
  return out;
}

}  // namespace calmplate::report
