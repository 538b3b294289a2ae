// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/sheet_comparison.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/units.hpp"

namespace calmplate::study {
namespace {

std::string celsius(double temp_k) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f", base::to_celsius(temp_k) + 0.0);
  return std::string(text) == "-0" ? "0" : text;
}

/// "a", "b" and "c"
std::string listed(const std::vector<std::string>& names) {
  std::string out;
  for (std::size_t i = 0; i < names.size(); ++i)
    out += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + ("\"" + names[i] + "\"");
  return out;
}

/// The sheets within the margin of the best at one temperature, in the order of the job.
std::vector<std::size_t> winners(const SheetComparison& c, std::size_t at) {
  double best = -std::numeric_limits<double>::infinity();
  for (const SheetResult& s : c.sheets) best = std::max(best, s.reduction_db[at]);
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < c.sheets.size(); ++i)
    if (c.sheets[i].reduction_db[at] > best - c.tell_apart_db) out.push_back(i);
  return out;
}

}  // namespace

std::vector<job::Layout> comparison_layouts(const job::Job& job) {
  std::vector<job::Layout> out;
  for (const job::Layout& layout : job.layouts) {
    if (layout.name != job.sheet_comparison.layout) continue;
    for (const std::string& name : job.sheet_comparison.sheets) {
      out.push_back(layout);
      out.back().name = name;
      const bool foil = job.sheet_named(name).kind == sheet::Kind::constrained;
      for (job::Piece& piece : out.back().pieces) {
        piece.sheets = {name};
        piece.foil_held = piece.foil_held && foil;
      }
    }
  }
  return out;
}

SheetComparison compare_sheets(const job::Job& job,
                               const LayoutResult& bare,
                               const std::vector<LayoutResult>& studied) {
  SheetComparison out;
  out.layout = job.sheet_comparison.layout;
  out.tell_apart_db = kTellApart_db;
  out.temperatures_k = job.temperatures_k;
  if (out.temperatures_k.empty()) out.temperatures_k = {job.temperature_k};
  for (const LayoutResult& layout : studied) {
    SheetResult sheet;
    sheet.name = layout.name;
    sheet.kind = job.sheet_named(layout.name).kind;
    sheet.mass_kg = layout.mass_kg;
    sheet.cost = layout.cost;
    if (layout.temperatures.empty())
      sheet.reduction_db = {bare.band_level_db - layout.band_level_db};
    for (std::size_t i = 0; i < layout.temperatures.size(); ++i)
      sheet.reduction_db.push_back(bare.temperatures[i].band_level_db -
                                   layout.temperatures[i].band_level_db);
    out.sheets.push_back(sheet);
  }
  out.sentence = comparison_sentence(out);
  return out;
}

std::string comparison_sentence(const SheetComparison& c) {
  char margin[32];
  std::snprintf(margin, sizeof margin, "%.3g", c.tell_apart_db);
  std::string text = "Laid in the places of \"" + c.layout + "\"";
  std::size_t at = 0;
  while (at < c.temperatures_k.size()) {
    const std::vector<std::size_t> first = winners(c, at);
    std::size_t end = at + 1;
    while (end < c.temperatures_k.size() && winners(c, end) == first) ++end;
    std::vector<std::string> names;
    for (const std::size_t i : first) names.push_back(c.sheets[i].name);
    const std::string span = end - at == 1 ? "at " + celsius(c.temperatures_k[at]) + " C "
                                           : "from " + celsius(c.temperatures_k[at]) + " to " +
                                                 celsius(c.temperatures_k[end - 1]) + " C ";
    text += at == 0 ? ", " : "; ";
    text += span + listed(names);
    text += names.size() == 1
                ? " calms the skin most"
                : std::string(" cannot be told apart (they lie within ") + margin + " dB)";
    at = end;
  }
  return text + ".";
}

}  // namespace calmplate::study
