// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/door_pictures.hpp"
#include "picture/frequency_axis.hpp"
#include "picture/page.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr std::size_t kMostRows = 36;
constexpr double kHeadMm = 17.0;  ///< key of the shades and column headings
constexpr double kAxisMm = 13.0;
constexpr double kGapMm = 1.6;  ///< between points
constexpr double kLayoutX = kContentLow.x + 32.0;
constexpr double kStripX = kContentLow.x + 66.0;
constexpr double kStripEnd = 206.0;
/// Right ends of the columns behind the strip.
constexpr double kLimitX = 219.5;
constexpr double kPeakX = 234.5;
constexpr double kHzX = 247.0;
constexpr double kSweepX = 266.0;
constexpr double kNoiseX = kContentHigh.x;

/// By how many whole dB a limit is passed, in classes that a grey print tells apart.
struct Shade {
  double from_db = 0.0;
  Colour fill;
  Colour words;
  const char* name = "";
};
const Shade kShades[] = {{0.0, from_lch(88.0, 25.0, 85.0), kBlack, "up to 2 dB over"},
                         {3.0, from_lch(74.0, 48.0, 68.0), kBlack, "3 to 5"},
                         {6.0, from_lch(54.0, 55.0, 50.0), kWhite, "6 to 11"},
                         {12.0, from_lch(30.0, 45.0, 32.0), kWhite, "12 and more"}};

const Shade& shade_of(double over_db) {
  const Shade* found = &kShades[0];
  for (const Shade& shade : kShades) {
    if (std::round(over_db) >= shade.from_db) found = &shade;
  }
  return *found;
}

const Rattle* rattle_at(const Layout& layout, const std::string& point) {
  for (const Rattle& rattle : layout.rattles) {
    if (rattle.name == point) return &rattle;
  }
  return nullptr;
}

std::size_t points_a_page(const Results& results) {
  return std::max<std::size_t>(kMostRows / results.layouts.size(), 1);
}

/// Where the rows of one page lie.
struct Rows {
  std::size_t first_point = 0;
  std::size_t points = 0;
  std::size_t layouts = 0;
  double height_mm = 0.0;
  double pt = 9.0;
  double top(std::size_t point) const {
    const double block = height_mm * double(layouts) + kGapMm;
    return kContentHigh.y - kHeadMm - 0.5 * kGapMm - block * double(point);
  }
  double middle(std::size_t point, std::size_t layout) const {
    return top(point) - height_mm * (double(layout) + 0.5);
  }
  double foot() const { return top(points) + 0.5 * kGapMm; }
};

Rows rows_of(const Results& results, std::size_t page) {
  const std::size_t all = results.layouts.front().rattles.size();
  Rows rows;
  rows.first_point = page * points_a_page(results);
  rows.points = std::min(points_a_page(results), all - rows.first_point);
  rows.layouts = std::min(results.layouts.size(), kMostRows);
  const double room =
      kContentHigh.y - kContentLow.y - kHeadMm - kAxisMm - kGapMm * double(rows.points);
  rows.height_mm = std::min(room / double(rows.points * rows.layouts), 11.0);
  rows.pt = rows.height_mm > 4.2 ? 9.0 : 8.0;
  return rows;
}

void draw_shade_key(Canvas& canvas) {
  const double y = kContentHigh.y - 2.5;
  double x = kStripX;
  const Type type{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
  for (const Shade& shade : kShades) {
    canvas.rectangle({x, y - 1.8}, {x + 7.0, y + 1.8}, shade.fill);
    canvas.frame({x, y - 1.8}, {x + 7.0, y + 1.8}, {0.2, kBlack, {}});
    canvas.text({x + 8.5, y}, shade.name, type);
    x += 14.0 + canvas.text_size(shade.name, type).first;
  }
}

void draw_head(Canvas& canvas) {
  draw_shade_key(canvas);
  const double y = kContentHigh.y - kHeadMm + 6.7;
  const Type left{9.0, true, kBlack, Across::left, Upright::middle, 0.0};
  const Type middle{9.0, true, kBlack, Across::middle, Upright::middle, 0.0};
  const Type right{9.0, true, kBlack, Across::right, Upright::middle, 0.0};
  canvas.text({kContentLow.x, y - 4.4}, "Point", left);
  canvas.text({kLayoutX, y - 4.4}, "Layout", left);
  canvas.text(
      {0.5 * (kStripX + kStripEnd), y - 4.4}, "Rattles at these frequencies of a sweep", middle);
  const struct {
    double x;
    const char* words;
    const char* unit;
  } columns[] = {{kLimitX, "Limit", "m/s²"},
                 {kPeakX, "Peak", "m/s²"},
                 {kHzX, "at", "Hz"},
                 {kSweepX, "", "sweep"},
                 {kNoiseX, "", "noise"}};
  for (const auto& column : columns) {
    canvas.text({column.x, y}, column.words, right);
    canvas.text({column.x, y - 4.4}, column.unit, right);
  }
  canvas.text({0.5 * (kSweepX - 11.0 + kNoiseX), y}, "Margin, dB", middle);
  canvas.line({{kSweepX - 11.0, y - 2.0}, {kNoiseX, y - 2.0}}, {0.2, kBlack, {}});
  canvas.line({{kContentLow.x, y - 6.7}, {kContentHigh.x, y - 6.7}}, {0.35, kBlack, {}});
}

/// The number of dB inside its span, or beside it where neither a neighbour nor the end is.
void draw_over(Canvas& canvas,
               const Rattle& rattle,
               std::size_t k,
               const CurveChart& strip,
               double y,
               double pt) {
  const auto x_of = [&](double freq_hz) { return strip.at(freq_hz, 0.0).x; };
  const RattleSpan& span = rattle.spans[k];
  const std::string words = span.over_db < 0.5 ? "<1" : number(span.over_db, 0);
  const double left = x_of(span.low_hz);
  const double right = x_of(span.high_hz);
  const Type inside{pt, false, shade_of(span.over_db).words, Across::middle, Upright::middle, 0.0};
  const double width = canvas.text_size(words, inside).first;
  if (width + 0.8 < right - left) {
    canvas.text({0.5 * (left + right), y}, words, inside);
    return;
  }
  const double before = k > 0 ? x_of(rattle.spans[k - 1].high_hz) : strip.low.x;
  const double behind =
      k + 1 < rattle.spans.size() ? x_of(rattle.spans[k + 1].low_hz) : strip.high.x;
  Type beside{pt, false, kBlack, Across::left, Upright::middle, 0.0};
  if (behind - right > width + 1.6) {
    canvas.text({right + 0.7, y}, words, beside);
  } else if (left - before > 2.0 * width + 2.4) {  // the neighbour's number may stand there too
    beside.across = Across::right;
    canvas.text({left - 0.7, y}, words, beside);
  }
}

void draw_strip(
    Canvas& canvas, const Rattle& rattle, const CurveChart& strip, double y, const Rows& rows) {
  const double half = 0.5 * rows.height_mm - 0.35;
  for (const RattleSpan& span : rattle.spans) {
    double left = strip.at(std::max(span.low_hz, strip.x.low), 0.0).x;
    double right = strip.at(std::min(span.high_hz, strip.x.high), 0.0).x;
    if (right < left) continue;
    if (right - left < 0.6) {
      const double middle = std::clamp(0.5 * (left + right), strip.low.x + 0.3, strip.high.x - 0.3);
      left = middle - 0.3;
      right = middle + 0.3;
    }
    canvas.rectangle({left, y - half}, {right, y + half}, shade_of(span.over_db).fill);
    canvas.frame({left, y - half}, {right, y + half}, {0.15, kBlack, {}});
  }
  for (std::size_t k = 0; k < rattle.spans.size(); ++k) {
    draw_over(canvas, rattle, k, strip, y, rows.pt);
  }
  if (rattle.spans.empty()) {
    const Type type{rows.pt, false, grey(0.3), Across::middle, Upright::middle, 0.0};
    canvas.text({0.5 * (strip.low.x + strip.high.x), y}, "no rattle in a sweep", type);
  }
}

void draw_figures(Canvas& canvas, const Rattle& rattle, double y, double pt) {
  const Type plain{pt, false, kBlack, Across::right, Upright::middle, 0.0};
  const auto margin = [&](double x, double value) {
    const std::string words = number(value, 1);
    Type type = plain;
    type.bold = words[0] == '-' && words != "-";
    canvas.text({x, y}, words, type);
  };
  canvas.text({kLimitX, y}, plain_number(rattle.limit_m_s2), plain);
  canvas.text({kPeakX, y}, three_digits(rattle.sweep_m_s2), plain);
  canvas.text({kHzX, y}, number(rattle.sweep_hz, 0), plain);
  margin(kSweepX, rattle.sweep_margin_db);
  margin(kNoiseX, rattle.noise_margin_db);
}

void draw_point(Canvas& canvas,
                const Results& results,
                const CurveChart& strip,
                const Rows& rows,
                std::size_t p) {
  const std::string& name = results.layouts.front().rattles[rows.first_point + p].name;
  const Type strong{rows.pt, true, kBlack, Across::left, Upright::middle, 0.0};
  const Type plain{rows.pt, false, kBlack, Across::left, Upright::middle, 0.0};
  // The name may take as many lines as the point has rows.
  const double room = kLayoutX - kContentLow.x - 2.0;
  double line = rows.middle(p, 0);
  for (const std::string& words : canvas.wrapped(name, strong, room, rows.layouts)) {
    canvas.text({kContentLow.x, line}, words, strong);
    line -= std::max(rows.height_mm, line_height_mm(rows.pt));
  }
  for (std::size_t k = 0; k < rows.layouts; ++k) {
    const double y = rows.middle(p, k);
    const Layout& layout = results.layouts[k];
    canvas.text({kLayoutX, y}, canvas.fitted(layout.name, plain, kStripX - kLayoutX - 2.0), plain);
    if (k > 0) {
      const double edge = y + 0.5 * rows.height_mm;
      canvas.line({{kLayoutX, edge}, {kContentHigh.x, edge}}, {0.12, grey(0.8), {}});
    }
    const Rattle* rattle = rattle_at(layout, name);
    if (rattle == nullptr) continue;
    draw_strip(canvas, *rattle, strip, y, rows);
    draw_figures(canvas, *rattle, y, rows.pt);
  }
  const double foot = rows.top(p) - rows.height_mm * double(rows.layouts) - 0.5 * kGapMm;
  if (p + 1 < rows.points) {
    canvas.line({{kContentLow.x, foot}, {kContentHigh.x, foot}}, {0.3, grey(0.4), {}});
  }
}

}  // namespace

std::size_t rattle_pages(const Results& results) {
  const std::size_t all = results.layouts.front().rattles.size();
  const std::size_t each = points_a_page(results);
  return (all + each - 1) / each;
}

RgbaImage draw_rattles(RenderWindow& window, const Results& results, std::size_t page) {
  const Rows rows = rows_of(results, page);
  const double crest = results.layouts.front().rattles.front().crest;
  std::string caption =
      "Bars: where a point's peak acceleration in a sine sweep passes its limit, with the most dB "
      "over it. A margin below 0 (bold) rattles; noise: pink noise of the sweep's rms, peaks " +
      plain_number(crest) + " times its rms.";
  if (rows.layouts < results.layouts.size()) caption += " Further layouts: results.json.";
  std::string title = "What rattles, and at which frequency";
  if (rattle_pages(results) > 1) {
    title += " (" + std::to_string(page + 1) + " of " + std::to_string(rattle_pages(results)) + ")";
  }
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, title, caption);
    CurveChart strip;
    strip.low = {kStripX, rows.foot()};
    strip.high = {kStripEnd, kContentHigh.y - kHeadMm};
    // A little wider than the band: its ends are one-third octaves as a rule, by their rounded
    // names.
    strip.x = frequency_axis(0.97 * results.band_low_hz, 1.03 * results.band_high_hz);
    draw_frequency_axis(canvas, strip);
    for (std::size_t p = 0; p < rows.points; ++p) draw_point(canvas, results, strip, rows, p);
    canvas.frame(strip.low, strip.high, {0.3, kBlack, {}});
    draw_head(canvas);
  });
}

}  // namespace calmplate::picture
