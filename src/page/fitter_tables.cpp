// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/fitter_tables.hpp"

#include <cmath>

#include "page/charts.hpp"
#include "page/format.hpp"
#include "page/html.hpp"
#include "page/words_fitter.hpp"

namespace calmplate::page {
namespace {

/// A row a band, a column a layout but the bare one.
template <typename Value>
Table by_band(const Results& results, const std::string& caption, const Value& value) {
  Table table{caption, {words::kAround}, {}};
  for (const Layout& l : results.layouts)
    if (!l.pieces.empty()) table.head.push_back(shown_name(l));
  const auto& bands = results.layouts.front().third_octaves;
  for (std::size_t b = 0; b < bands.size(); ++b) {
    table.rows.push_back({short_number(bands[b].nominal_hz)});
    for (const Layout& l : results.layouts)
      if (!l.pieces.empty())
        table.rows.back().push_back(b < l.third_octaves.size() ? fixed(value(l, b), 1)
                                                               : words::kNoFigure);
  }
  return table;
}

}  // namespace

std::string thirds_html(const Results& results) {
  const Table table =
      by_band(results, words::kThirdsReductionCaption, [](const Layout& l, std::size_t b) {
        return l.third_octaves[b].reduction_db;
      });
  return table.head.size() < 2 || table.rows.empty() ? "" : table_html(table);
}

std::string points_html(const Results& results) {
  const auto& points = results.layouts.front().listen_at;
  Table table{words::kPointsCaption, {words::kPoint}, {}};
  for (const Layout& l : results.layouts)
    if (!l.pieces.empty()) table.head.push_back(shown_name(l));
  for (std::size_t p = 0; p < points.size(); ++p) {
    table.rows.push_back({points[p].name});
    for (const Layout& l : results.layouts)
      if (!l.pieces.empty())
        table.rows.back().push_back(p < l.listen_at.size() ? fixed(l.listen_at[p].reduction_db, 1)
                                                           : words::kNoFigure);
  }
  return table.rows.empty() ? "" : table_html(table);
}

std::string modes_html(const Results& results) {
  std::string out;
  for (const Layout& l : results.layouts) {
    if (l.modes.empty()) continue;
    const std::string caption =
        fill(words::kModesOf, {{"name", shown_name(l)}, {"count", std::to_string(l.modes.size())}});
    Table table{caption,
                {words::kModeColumn, words::kHzColumn, words::kLossColumn, words::kRingColumn},
                {}};
    for (std::size_t m = 0; m < l.modes.size(); ++m)
      table.rows.push_back({std::to_string(m + 1),
                            fixed(l.modes[m].freq_hz, 1),
                            fixed(l.modes[m].loss_factor, 3),
                            fixed(l.modes[m].ring_time_s, 2)});
    out += details_html(caption, table_html(table));
  }
  return out.empty() ? out
                     : paragraph(words::kModesNote, "small") + "<div class=\"pair modes\">" + out +
                           "</div>\n";
}

std::string pieces_html(const Results& results) {
  std::string out;
  for (const Layout& l : results.layouts) {
    if (l.pieces.empty()) continue;
    Table table{fill(words::kPiecesOf, {{"name", l.name}}),
                {words::kPieceColumn,
                 words::kSheetColumn,
                 words::kFaceColumn,
                 words::kSizeColumn,
                 words::kAreaColumn,
                 words::kMassColumn},
                {}};
    for (const Piece& p : l.pieces)
      table.rows.push_back({std::to_string(p.number),
                            p.sheet,
                            p.face == "outer" ? words::kOuter : words::kInner,
                            std::isfinite(p.width_mm) ? fill(words::kSize,
                                                             {{"width", fixed(p.width_mm, 0)},
                                                              {"height", fixed(p.height_mm, 0)}})
                                                      : words::kByOutline,
                            fixed(p.area_m2, 3),
                            fixed(p.mass_kg, 2)});
    out += table_html(table);
  }
  return out.empty() ? out : out + paragraph(words::kPiecesNote, "small");
}

std::string shelf_html(const Results& results) {
  if (results.sheets.empty()) return "";
  Table table{words::kShelfCaption,
              {words::kSheetColumn,
               words::kKindColumn,
               words::kAreaMassColumn,
               words::kStockColumn,
               fill(words::kPriceColumn, {{"currency", results.currency}})},
              {}};
  for (const SheetOnShelf& s : results.sheets)
    table.rows.push_back({s.name,
                          s.kind,
                          fixed(s.mass_kg_m2, 2),
                          std::isfinite(s.stock_width_mm)
                              ? fill(words::kSize,
                                     {{"width", fixed(s.stock_width_mm, 0)},
                                      {"height", fixed(s.stock_length_mm, 0)}})
                              : words::kNoFigure,
                          fixed(s.price_per_sheet, 2)});
  return table_html(table);
}

std::string woofer_html(const Results& results) {
  if (results.woofer_sentence.empty()) return "";
  std::string travel = fill(
      words::kWooferTravel,
      {{"travel", fixed(results.woofer_travel_mm, 1)}, {"at", fixed(results.woofer_travel_hz, 0)}});
  if (std::isfinite(results.woofer_xmax_mm))
    travel += " " + fill(words::kWooferLimit, {{"xmax", fixed(results.woofer_xmax_mm, 1)}});
  std::string out = paragraph(results.woofer_sentence) + paragraph(travel);
  Table table{words::kSoundCaption, {words::kAround}, {}};
  for (const Layout& l : results.layouts) table.head.push_back(shown_name(l));
  for (std::size_t b = 0; b < results.layouts.front().sound.size(); ++b) {
    table.rows.push_back({short_number(results.layouts.front().sound[b].nominal_hz)});
    for (const Layout& l : results.layouts)
      table.rows.back().push_back(b < l.sound.size() ? fixed(l.sound[b].skin_under_woofer_db, 1)
                                                     : words::kNoFigure);
  }
  return table.rows.empty() ? out : out + table_html(table);
}

std::string rattles_html(const Results& results) {
  Table table{words::kRattlesCaption,
              {words::kPoint,
               words::kOption,
               words::kLimitColumn,
               words::kPeakColumn,
               words::kAtColumn,
               words::kSweepColumn,
               words::kNoiseColumn},
              {}};
  for (std::size_t p = 0; p < results.layouts.front().rattles.size(); ++p)
    for (const Layout& l : results.layouts) {
      if (p >= l.rattles.size()) continue;
      const Rattle& r = l.rattles[p];
      table.rows.push_back({r.name,
                            shown_name(l),
                            fixed(r.limit_m_s2, 1),
                            fixed(r.sweep_peak_m_s2, 1),
                            fixed(r.sweep_hz, 0),
                            fixed(r.sweep_margin_db, 1),
                            fixed(r.pink_noise_margin_db, 1)});
    }
  return table.rows.empty() ? "" : table_html(table);
}

std::string assumed_html(const Results& results) {
  Table table{words::kAssumedCaption, {words::kWhat, words::kValue}, {}};
  table.rows.push_back({words::kSkin,
                        fill(words::kSkinValue,
                             {{"material", results.panel_material},
                              {"thickness", short_number(results.panel_thickness_mm)},
                              {"area", fixed(results.panel_area_m2, 3)},
                              {"mass", fixed(results.panel_mass_kg, 2)}})});
  table.rows.push_back({words::kSkinLoss, short_number(results.panel_loss_factor)});
  for (const RimPart& r : results.rim)
    table.rows.push_back(
        {fill(words::kHeld, {{"name", r.name}}),
         fill(words::kHeldValue, {{"hold", r.hold}, {"length", fixed(r.length_mm, 0)}})});
  std::string kept;
  for (const std::string& name : results.keep_outs) kept += (kept.empty() ? "" : ", ") + name;
  if (!kept.empty()) table.rows.push_back({words::kKeepOuts, kept});
  table.rows.push_back({words::kDrive, results.drive_text});
  table.rows.push_back({words::kBandRow,
                        fill(words::kBandValue,
                             {{"low", short_number(results.band_low_hz)},
                              {"high", short_number(results.band_high_hz)}})});
  table.rows.push_back(
      {words::kAtTemperature,
       fill(words::kTemperatureValue, {{"temperature", short_number(results.temperature_c)}})});
  table.rows.push_back(
      {words::kElement, fill(words::kElementValue, {{"size", fixed(results.element_size_mm, 1)}})});
  return "<div class=\"text\">" + table_html(table) + "</div>\n";
}

std::string unknowns_html(const Results& results) {
  std::string out;
  if (results.unknowns) {
    const Unknowns& u = *results.unknowns;
    std::string ranges;
    for (const std::string& r : u.ranges) ranges += (ranges.empty() ? "" : "; ") + r;
    out += paragraph(
        fill(words::kUnknownsVaried, {{"samples", std::to_string(u.samples)}, {"ranges", ranges}}));
    Table table{words::kUnknownsCaption,
                {words::kOption, words::kDecibelLess, words::kFirstColumn, words::kFirstLossColumn},
                {}};
    const auto range = [](const Range& r, int digits) {
      return fill(words::kFromTo, {{"low", fixed(r.low, digits)}, {"high", fixed(r.high, digits)}});
    };
    for (const LayoutRange& l : u.layouts)
      table.rows.push_back(
          {l.name, range(l.reduction_db, 1), range(l.first_hz, 1), range(l.first_loss, 3)});
    out += table_html(table) + paragraph(u.sentence);
  } else {
    out += paragraph(words::kNoUnknowns);
  }
  if (results.convergence)
    out += paragraph(fill(words::kConvergence,
                          {{"hz", fixed(100.0 * results.convergence->worst_hz_error, 2)},
                           {"db", fixed(results.convergence->worst_db_error, 2)}}));
  return out;
}

}  // namespace calmplate::page
