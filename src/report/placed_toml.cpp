// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/placed_toml.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;
constexpr std::size_t kWidth = 96;

std::string quoted(const std::string& text) { return Json(text).dump(); }

/// Millimetres to a tenth, without trailing zeros.
std::string mm(double metres) {
  std::string text = fixed(base::to_mm(metres), 1);
  if (text.size() > 2 && text.compare(text.size() - 2, 2, ".0") == 0) text.erase(text.size() - 2);
  return text == "-0" ? "0" : text;
}

std::string shape(const panel::Region& region) {
  std::string out = "outline_mm = [";
  for (Eigen::Index i = 0; i < region.outline.rows(); ++i)
    out +=
        (i == 0 ? "[" : ", [") + mm(region.outline(i, 0)) + ", " + mm(region.outline(i, 1)) + "]";
  return out + "]\n";
}

}  // namespace

std::string placed_toml(const job::Job& job, const study::Results& results) {
  std::string out = "# Placed pieces, to be pasted into the job in place of what asked for them.\n";
  for (const job::Layout& layout : job.layouts) {
    if (std::none_of(results.places.begin(), results.places.end(), [&](const auto& p) {
          return p.layout == layout.name;
        }))
      continue;
    out += "\n[[layout]]\nname = " + quoted(layout.name) + "\n";
    for (const job::Piece& piece : layout.pieces) {
      out += "\n[[layout.piece]]\n";
      if (piece.sheets.size() == 1) {
        out += "sheet = " + quoted(piece.sheets.front()) + "\n";
      } else {
        std::string list;
        for (const std::string& name : piece.sheets)
          list += (list.empty() ? "" : ", ") + quoted(name);
        out += "sheets = [" + list + "]\n";
      }
      if (piece.face == job::Face::outer) out += "face = \"outer\"\n";
      if (piece.foil_held) out += "foil_edge = \"held\"\n";
      if (piece.region.outline.rows() > 0)
        out += shape(piece.region);
      else
        out += "everywhere = true\nmargin_mm = " + mm(piece.region.rim_margin_m) +
               "\nhole_margin_mm = " + mm(piece.region.hole_margin_m) + "\n";
    }
  }
  return out;
}

Json places_json(const study::Results& results) {
  Json out = Json::array();
  for (const study::PlaceResult& p : results.places)
    out.push_back({{"layout", p.layout},
                   {"gain_dB", p.gain_db},
                   {"places", p.places},
                   {"screened", p.screened},
                   {"solved", p.solved},
                   {"stopped", p.stopped}});
  return out;
}

Json curve_json(const study::Results& results) {
  if (!results.curve) return nullptr;
  Json points = Json::array();
  for (const study::CoveragePoint& p : results.curve->points)
    points.push_back({{"pieces", p.pieces},
                      {"share", p.share},
                      {"mass_kg", p.mass_kg},
                      {"cost", p.cost},
                      {"reduction_dB", p.reduction_db}});
  return {{"layout", results.curve->layout},
          {"knee", results.curve->knee},
          {"sentence", results.curve->sentence},
          {"points", points}};
}

std::string places_text(const job::Job& job, const study::Results& results) {
  std::string out;
  for (const study::PlaceResult& p : results.places)
    out += wrapped("\"" + p.layout + "\" was placed: " + std::to_string(p.places) +
                       " places were free, " + std::to_string(p.solved) + " layouts solved" +
                       (p.stopped ? "; stopped on request, the best so far." : "."),
                   kWidth,
                   "");
  if (results.curve) {
    const study::CoverageCurve& c = *results.curve;
    std::vector<std::vector<std::string>> rows = {
        {"pieces", "of skin", "mass", "cost", "reduction", ""},
        {"", "%", "kg", job.currency, "dB", ""}};
    for (std::size_t i = 0; i < c.points.size(); ++i) {
      const study::CoveragePoint& p = c.points[i];
      rows.push_back({std::to_string(p.pieces),
                      fixed(100.0 * p.share, 0),
                      fixed(p.mass_kg, 2),
                      p.cost > 0.0 ? fixed(p.cost, 2) : "-",
                      fixed(p.reduction_db, 1),
                      static_cast<int>(i) == c.knee ? "<- knee" : ""});
    }
    out += "\nCoverage\n" + text_table(rows) + "\n" + wrapped(c.sentence, kWidth, "");
  }
  return out.empty() ? out : out + "\n";
}

}  // namespace calmplate::report
