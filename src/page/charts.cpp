// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/charts.hpp"

#include <cmath>

#include "page/format.hpp"
#include "page/html.hpp"
#include "page/line_chart.hpp"
#include "page/words.hpp"

namespace calmplate::page {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string joined(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return out;
}

Fills band_fills(const Results& results) {
  return {{"low", short_number(results.band_low_hz)}, {"high", short_number(results.band_high_hz)}};
}

Table thirds_table(const Results& results,
                   const std::vector<const Layout*>& shown,
                   const std::string& unit) {
  Table table{fill(words::kThirdsCaption, {{"unit", unit}}), {words::kAround}, {}};
  for (const Layout* l : shown) table.head.push_back(shown_name(*l));
  for (std::size_t b = 0; b < results.layouts.front().third_octaves.size(); ++b) {
    std::vector<std::string> row{short_number(results.layouts.front().third_octaves[b].nominal_hz)};
    for (const Layout* l : shown)
      row.push_back(b < l->third_octaves.size() ? fixed(l->third_octaves[b].level_db, 1)
                                                : words::kNoFigure);
    table.rows.push_back(row);
  }
  return table;
}

/// The bare skin's highest peak: index of a frequency.
std::size_t peak_of(const std::vector<double>& levels) {
  std::size_t at = 0;
  for (std::size_t i = 0; i < levels.size(); ++i)
    if (std::isfinite(levels[i]) && !(levels[i] <= levels[at])) at = i;
  return at;
}

}  // namespace

std::string shown_name(const Layout& layout) {
  return layout.pieces.empty() && layout.name == "bare" ? words::kBare : layout.name;
}

std::string where_text(const Results& results) {
  return fill(results.drive_kind == "woofer" ? words::kWhereWoofer : words::kWhereBand,
              band_fills(results));
}

std::string money(double cost) { return cost > 0.0 ? fixed(cost, 2) : words::kNoFigure; }

std::string response_figure(const Results& results, bool plain) {
  if (results.freq_hz.size() < 2) return "";
  LineChart chart;
  chart.id = "response";
  chart.title = words::kResponseTitle;
  chart.x = frequency_axis(words::kFrequencyAxis, results.freq_hz.front(), results.freq_hz.back());
  std::vector<double> all;
  std::vector<std::string> names;
  std::vector<const Layout*> shown;
  for (std::size_t k = 0; k < results.layouts.size(); ++k) {
    const Layout& l = results.layouts[k];
    if (plain && !l.pieces.empty() && &l != results.proposal()) continue;
    shown.push_back(&l);
    all.insert(all.end(), l.level_db.begin(), l.level_db.end());
    names.push_back(shown_name(l));
    chart.curves.push_back({shown_name(l), k, results.freq_hz, l.level_db});
  }
  chart.y = even_axis(words::kShakingAxis, all, 8);
  const bool woofer = results.drive_kind == "woofer";
  chart.band = ChartBand{results.band_low_hz,
                         results.band_high_hz,
                         woofer ? words::kBandShort : words::kBandCountsShort};
  const Layout& bare = results.layouts.front();
  const std::size_t peak = peak_of(bare.level_db);
  chart.description = fill(words::kResponseDescription,
                           {{"low", short_number(results.freq_hz.front())},
                            {"high", short_number(results.freq_hz.back())},
                            {"names", joined(names)},
                            {"peak", fixed(bare.level_db[peak], 0)},
                            {"at", fixed(results.freq_hz[peak], 0)}});
  const Table table = thirds_table(results, shown, plain ? words::kDecibel : results.level_unit);
  const std::string band =
      fill(woofer ? words::kBandWoofer : words::kBandCounts, band_fills(results));
  return figure_html(words::kResponse,
                     line_chart_html(chart),
                     fill(words::kResponseNote, {{"band", band}}),
                     table.rows.empty() ? nullptr : &table);
}

std::string coverage_figure(const Results& results) {
  if (!results.coverage || results.coverage->points.size() < 2) return "";
  const Coverage& coverage = *results.coverage;
  LineChart chart;
  chart.id = "coverage";
  chart.title = words::kCoverageTitle;
  ChartCurve curve{coverage.layout, 1, {}, {}, true};
  Table table{words::kCoverageCaption,
              {words::kPiecesColumn,
               words::kOfSkin,
               words::kMassColumn,
               results.currency,
               words::kDecibelLess},
              {}};
  for (const CoveragePoint& p : coverage.points) {
    curve.x.push_back(100.0 * p.share);
    curve.y.push_back(p.reduction_db);
    table.rows.push_back({std::to_string(p.pieces),
                          fixed(100.0 * p.share, 0),
                          fixed(p.mass_kg, 2),
                          money(p.cost),
                          fixed(p.reduction_db, 1)});
  }
  std::vector<double> levels = curve.y;
  levels.push_back(0.0);
  chart.x = even_axis(words::kCoverageAxis, curve.x, 7);
  chart.y = even_axis(words::kReductionAxis, levels, 7);
  if (coverage.knee >= 0 && coverage.knee < static_cast<int>(coverage.points.size())) {
    const auto knee = static_cast<std::size_t>(coverage.knee);
    chart.mark = ChartMark{curve.x[knee], curve.y[knee], words::kKnee};
    table.marked_row = knee;
  }
  chart.description = fill(words::kCoverageDescription,
                           {{"from", fixed(curve.x.front(), 0)},
                            {"to", fixed(curve.x.back(), 0)},
                            {"sentence", coverage.sentence}});
  chart.curves.push_back(curve);
  return figure_html(words::kCoverage, line_chart_html(chart), coverage.sentence, &table);
}

std::string temperature_figure(const Results& results) {
  LineChart chart;
  chart.id = "temperature";
  chart.title = words::kTemperatureTitle;
  Table table{words::kTemperatureCaption, {words::kTemperatureAxis}, {}};
  std::vector<double> all{0.0}, at;
  std::vector<std::string> names;
  for (std::size_t k = 0; k < results.layouts.size(); ++k) {
    const Layout& l = results.layouts[k];
    if (l.pieces.empty() || l.temperature.size() < 2) continue;
    ChartCurve curve{shown_name(l), k, {}, {}, true};
    for (const AtTemperature& t : l.temperature) {
      curve.x.push_back(t.temperature_c);
      curve.y.push_back(t.reduction_db);
    }
    at = curve.x;
    all.insert(all.end(), curve.y.begin(), curve.y.end());
    names.push_back(curve.name);
    table.head.push_back(curve.name);
    chart.curves.push_back(curve);
  }
  if (chart.curves.empty()) return "";
  for (std::size_t i = 0; i < at.size(); ++i) {
    table.rows.push_back({short_number(at[i])});
    for (const ChartCurve& c : chart.curves)
      table.rows.back().push_back(i < c.y.size() ? fixed(c.y[i], 1) : words::kNoFigure);
  }
  chart.x = even_axis(words::kTemperatureAxis, at, 8);
  chart.y = even_axis(words::kReductionAxis, all, 7);
  chart.description = fill(words::kTemperatureDescription,
                           {{"low", short_number(at.front())},
                            {"high", short_number(at.back())},
                            {"names", joined(names)}});
  return figure_html(
      words::kTemperature,
      line_chart_html(chart),
      fill(words::kTemperatureNote, {{"temperature", short_number(results.temperature_c)}}),
      &table);
}

std::string comparison_figure(const Results& results) {
  if (!results.comparison || results.comparison->temperature_c.size() < 2) return "";
  const SheetComparison& c = *results.comparison;
  LineChart chart;
  chart.id = "sheets-over-temperature";
  chart.title = words::kComparisonTitle;
  Table table{words::kComparisonTitle, {words::kTemperatureAxis}, {}};
  std::vector<double> all{0.0};
  std::vector<std::string> names;
  for (std::size_t k = 0; k < c.sheets.size(); ++k) {
    chart.curves.push_back(
        {c.sheets[k].name, k + 1, c.temperature_c, c.sheets[k].reduction_db, true});
    all.insert(all.end(), c.sheets[k].reduction_db.begin(), c.sheets[k].reduction_db.end());
    names.push_back(c.sheets[k].name);
    table.head.push_back(c.sheets[k].name);
  }
  for (std::size_t i = 0; i < c.temperature_c.size(); ++i) {
    table.rows.push_back({short_number(c.temperature_c[i])});
    for (const ComparedSheet& s : c.sheets)
      table.rows.back().push_back(i < s.reduction_db.size() ? fixed(s.reduction_db[i], 1)
                                                            : words::kNoFigure);
  }
  chart.x = even_axis(words::kTemperatureAxis, c.temperature_c, 8);
  chart.y = even_axis(words::kReductionAxis, all, 7);
  chart.description = fill(words::kTemperatureDescription,
                           {{"low", short_number(c.temperature_c.front())},
                            {"high", short_number(c.temperature_c.back())},
                            {"names", joined(names)}});
  return figure_html(words::kComparisonTitle, line_chart_html(chart), c.sentence, &table);
}

}  // namespace calmplate::page
