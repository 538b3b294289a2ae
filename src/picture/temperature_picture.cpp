// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "picture/canvas.hpp"
#include "picture/curve_chart.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/sheet_pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kRowMm = 5.0;
constexpr std::size_t kMostRows = 12;
constexpr std::size_t kMostColumns = 6;
const Colour kBand = grey(0.885);

/// One line of the table under the chart, with its curve.
struct Row {
  std::string name;
  std::vector<double> reduction_db;  ///< [n_temperature]
  std::vector<bool> strong;          ///< [n_temperature] best, or not to be told apart from it
  std::vector<std::string> figures;  ///< further columns
  Stroke stroke;
};

struct Column {
  std::string heading;
  double right_mm = 0.0;  ///< from the table's left edge
};

struct Page {
  std::vector<double> temperature_c;
  std::vector<Row> rows;
  std::vector<Column> figures;  ///< for Row::figures
  std::string first_heading;    ///< over the names
  double band_db = 0.0;         ///< 0: no band under the best
  double name_width_mm = 90.0;
};

/// The temperatures that have a column: all, or a few with both ends among them, evenly spread if
/// that can be.
std::vector<std::size_t> column_temperatures(std::size_t count) {
  std::size_t shown = std::min(count, kMostColumns);
  for (std::size_t n = kMostColumns; n > 2 && count > kMostColumns; --n) {
    if ((count - 1) % (n - 1) != 0) continue;
    shown = n;
    break;
  }
  std::vector<std::size_t> chosen;
  for (std::size_t k = 0; k < shown; ++k) {
    chosen.push_back(shown == 1 ? 0 : (k * (count - 1) + (shown - 1) / 2) / (shown - 1));
  }
  return chosen;
}

double value_between(const std::vector<double>& t, const std::vector<double>& y, double at) {
  for (std::size_t k = 0; k + 1 < t.size(); ++k) {
    if (at > t[k + 1]) continue;
    const double s = (at - t[k]) / (t[k + 1] - t[k]);
    return y[k] + s * (y[k + 1] - y[k]);
  }
  return y.back();
}

/// The highest of all curves at a temperature; NaN if there is none.
double best_at(const Page& page, double temperature_c) {
  double best = -std::numeric_limits<double>::infinity();
  for (const Row& row : page.rows) {
    const double value = value_between(page.temperature_c, row.reduction_db, temperature_c);
    if (std::isfinite(value)) best = std::max(best, value);
  }
  return std::isfinite(best) ? best : std::numeric_limits<double>::quiet_NaN();
}

void fill_band(Canvas& canvas, const CurveChart& chart, const Page& page) {
  constexpr int kSteps = 400;
  const double t0 = page.temperature_c.front();
  const double t1 = page.temperature_c.back();
  if (!(t1 > t0)) {
    const double best = best_at(page, t0);
    if (!std::isfinite(best)) return;
    canvas.rectangle(
        chart.at(chart.x.low, best - page.band_db), chart.at(chart.x.high, best), kBand);
    return;
  }
  const auto t_of = [&](int k) { return t0 + (t1 - t0) * k / kSteps; };
  for (int k = 0; k < kSteps; ++k) {
    const double a = best_at(page, t_of(k));
    const double b = best_at(page, t_of(k + 1));
    if (!std::isfinite(a) || !std::isfinite(b)) continue;
    // A hair wider than its step, so that no seam shows between neighbours.
    Point low0 = chart.at(t_of(k), a - page.band_db);
    Point high0 = chart.at(t_of(k), a);
    Point low1 = chart.at(t_of(k + 1), b - page.band_db);
    Point high1 = chart.at(t_of(k + 1), b);
    low1.x = high1.x = std::min(low1.x + 0.15, chart.high.x);
    canvas.convex({low0, low1, high1, high0}, kBand);
  }
}

CurveChart chart_of(const Page& page) {
  CurveChart chart;
  const std::size_t rows = std::min(page.rows.size(), kMostRows);
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 24.0 + kRowMm * double(rows)};
  chart.high = {kContentHigh.x - 12.0, kContentHigh.y - 6.0};
  chart.x = even_axis(page.temperature_c, 12);
  if (page.temperature_c.size() == 1) chart.x.ticks = page.temperature_c;
  std::vector<double> values{0.0};
  for (const Row& row : page.rows) {
    values.insert(values.end(), row.reduction_db.begin(), row.reduction_db.end());
  }
  chart.y = even_axis(values, rows > 7 ? 6 : 8);
  return chart;
}

void draw_curves(Canvas& canvas, const CurveChart& chart, const Page& page) {
  std::vector<EndLabel> labels;
  for (std::size_t k = page.rows.size(); k-- > 0;) {
    const Row& row = page.rows[k];
    draw_curve(canvas, chart, page.temperature_c, row.reduction_db, row.stroke);
    if (page.temperature_c.size() <= 15) {
      for (std::size_t i = 0; i < page.temperature_c.size(); ++i) {
        const Point p = chart.at(page.temperature_c[i], row.reduction_db[i]);
        if (std::isfinite(p.y)) canvas.disc(p, 0.8, row.stroke.colour);
      }
    }
    EndLabel label{{}, std::to_string(k + 1), row.stroke};
    if (curve_end(chart, page.temperature_c, row.reduction_db, label.at)) labels.push_back(label);
  }
  draw_end_labels(canvas, chart, labels, 9.0);
}

void draw_table(Canvas& canvas, const Page& page) {
  const std::size_t shown = std::min(page.rows.size(), kMostRows);
  const double x = kContentLow.x;
  double y = kContentLow.y + 7.5 + kRowMm * double(shown);
  const std::vector<std::size_t> columns = column_temperatures(page.temperature_c.size());
  const double first = page.name_width_mm + 24.0;
  constexpr double kWidth = 14.0;
  const Type strong{9.0, true, kBlack, Across::left, Upright::middle, 0.0};
  Type strong_right = strong;
  strong_right.across = Across::right;
  canvas.text({x, y}, "No.", strong);
  canvas.text({x + 22.0, y}, page.first_heading, strong);
  canvas.text({x + first, y}, "dB less at", strong_right);
  for (std::size_t c = 0; c < columns.size(); ++c) {
    canvas.text({x + first + kWidth * double(c + 1), y},
                celsius(page.temperature_c[columns[c]]),
                strong_right);
  }
  for (const Column& column : page.figures) {
    canvas.text({x + column.right_mm, y}, column.heading, strong_right);
  }
  canvas.line({{x, y - 2.7}, {kContentHigh.x, y - 2.7}}, {0.35, kBlack, {}});
  y -= 0.6;
  for (std::size_t k = 0; k < shown; ++k) {
    y -= kRowMm;
    const Row& row = page.rows[k];
    const Type plain{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
    if (k + 1 == kMostRows && page.rows.size() > kMostRows) {
      const std::size_t more = page.rows.size() - k;
      canvas.text({x + 22.0, y}, "and " + std::to_string(more) + " more in results.json", plain);
      break;
    }
    canvas.text({x, y}, std::to_string(k + 1), strong);
    canvas.line({{x + 6.5, y}, {x + 20.0, y}}, row.stroke);
    canvas.text({x + 22.0, y}, canvas.fitted(row.name, plain, page.name_width_mm - 2.0), plain);
    for (std::size_t c = 0; c < columns.size(); ++c) {
      Type type{9.0, row.strong[columns[c]], kBlack, Across::right, Upright::middle, 0.0};
      canvas.text(
          {x + first + kWidth * double(c + 1), y}, number(row.reduction_db[columns[c]], 1), type);
    }
    const Type right{9.0, false, kBlack, Across::right, Upright::middle, 0.0};
    for (std::size_t c = 0; c < page.figures.size(); ++c) {
      canvas.text({x + page.figures[c].right_mm, y}, row.figures[c], right);
    }
  }
}

RgbaImage draw_over_temperature(RenderWindow& window,
                                const Results& results,
                                const Page& page,
                                const std::string& title,
                                const std::string& caption) {
  const CurveChart chart = chart_of(page);
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, title, caption);
    if (page.band_db > 0.0) fill_band(canvas, chart, page);
    draw_left_axis(canvas, chart, "Lower than bare, dB");
    draw_bottom_axis(canvas, chart, "Temperature of skin and sheet, °C");
    if (chart.y.low < 0.0) {
      canvas.line({chart.at(chart.x.low, 0.0), chart.at(chart.x.high, 0.0)}, {0.5, kBlack, {}});
    }
    draw_curves(canvas, chart, page);
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    if (page.band_db > 0.0) {
      const double y = chart.high.y + 3.0;
      canvas.rectangle({chart.low.x, y - 1.7}, {chart.low.x + 8.0, y + 1.7}, kBand);
      canvas.frame({chart.low.x, y - 1.7}, {chart.low.x + 8.0, y + 1.7}, {0.2, grey(0.5), {}});
      const Type type{9.5, false, kBlack, Across::left, Upright::middle, 0.0};
      canvas.text({chart.low.x + 10.0, y},
                  "within " + plain_number(page.band_db) +
                      " dB of the best: cannot be told apart (bold in the table)",
                  type);
    }
    draw_table(canvas, page);
  });
}

/// True where a curve is best or within `band_db` of it.
void mark_best(Page& page) {
  for (Row& row : page.rows) {
    for (std::size_t i = 0; i < page.temperature_c.size(); ++i) {
      const double best = best_at(page, page.temperature_c[i]);
      row.strong.push_back(page.band_db > 0.0 && row.reduction_db[i] >= best - page.band_db);
    }
  }
}

std::size_t nearest(const std::vector<double>& values, double wanted) {
  std::size_t best = 0;
  for (std::size_t k = 1; k < values.size(); ++k) {
    if (std::abs(values[k] - wanted) < std::abs(values[best] - wanted)) best = k;
  }
  return best;
}

std::string money(double cost) { return std::isfinite(cost) && cost > 0.0 ? number(cost, 2) : "-"; }

}  // namespace

RgbaImage draw_sheets_over_temperature(RenderWindow& window, const Results& results) {
  const SheetComparison& comparison = *results.comparison;
  Page page;
  page.temperature_c = comparison.temperature_c;
  page.first_heading = "Sheet";
  page.band_db = comparison.tell_apart_db;
  page.name_width_mm = 68.0;
  const std::size_t at = nearest(page.temperature_c, results.temperature_c.value_or(20.0));
  const std::string here = ", " + celsius(page.temperature_c[at]);
  page.figures = {
      {"kg", 192.0},
      {results.currency.empty() ? "cost" : results.currency, 210.0},
      {"dB/kg" + here, 240.0},
      {"dB/" + (results.currency.empty() ? std::string("cost") : results.currency) + here, 271.0}};
  for (std::size_t k = 0; k < comparison.sheets.size(); ++k) {
    const ComparedSheet& sheet = comparison.sheets[k];
    const bool priced = std::isfinite(sheet.cost) && sheet.cost > 0.0;
    page.rows.push_back({sheet.name + " (" + sheet.kind + ")",
                         sheet.reduction_db,
                         {},
                         {number(sheet.mass_kg, 2),
                          money(sheet.cost),
                          number(sheet.db_per_kg[at], 1),
                          priced ? number(sheet.db_per_currency[at], 2) : "-"},
                         layout_stroke(k + 1)});
  }
  mark_best(page);
  return draw_over_temperature(
      window,
      results,
      page,
      "Which sheet at which temperature: layout \"" + comparison.layout + "\"",
      comparison.sentence);
}

std::vector<const Layout*> layouts_over_temperature(const Results& results) {
  std::vector<const Layout*> found;
  for (const Layout* layout : treated_layouts(results)) {
    if (layout->temperature.size() > 1) found.push_back(layout);
  }
  return found;
}

RgbaImage draw_layouts_over_temperature(RenderWindow& window, const Results& results) {
  const std::vector<const Layout*> layouts = layouts_over_temperature(results);
  Page page;
  page.first_heading = "Layout";
  page.name_width_mm = 95.0;
  page.figures = {{"% of skin", 235.0}, {"kg", 271.0}};
  // Layouts share their temperatures; where one lacks a figure it has none there.
  for (const Layout* layout : layouts) {
    for (const AtTemperature& row : layout->temperature) {
      page.temperature_c.push_back(row.temperature_c);
    }
  }
  std::sort(page.temperature_c.begin(), page.temperature_c.end());
  page.temperature_c.erase(std::unique(page.temperature_c.begin(), page.temperature_c.end()),
                           page.temperature_c.end());
  for (const Layout* layout : layouts) {
    Row row;
    row.name = layout->name;
    row.stroke = layout_stroke(std::size_t(layout - results.layouts.data()));
    for (const double t : page.temperature_c) {
      double value = std::numeric_limits<double>::quiet_NaN();
      for (const AtTemperature& at : layout->temperature) {
        if (at.temperature_c == t) value = at.reduction_db;
      }
      row.reduction_db.push_back(value);
    }
    row.figures = {number(100.0 * layout->share, 0), number(layout->mass_kg, 2)};
    page.rows.push_back(row);
  }
  mark_best(page);
  return draw_over_temperature(
      window,
      results,
      page,
      "Reduction of the layouts over temperature",
      "By how many dB each layout lowers the skin's level over the band, against the bare skin, "
      "from a cold morning to a door in the sun. A higher curve is a quieter door.");
}

}  // namespace calmplate::picture
