// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "picture/canvas.hpp"
#include "picture/curve_chart.hpp"
#include "picture/door_pictures.hpp"
#include "picture/page.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kNamesMm = 55.0;  ///< left of the chart: names of the table's rows, key
constexpr double kRowMm = 5.0;
constexpr std::size_t kMostRows = 9;
constexpr double kSentencePt = 10.0;
constexpr std::size_t kSentenceLines = 5;
const Colour kOver = grey(0.86);
const Type kSentence{kSentencePt, true, kBlack, Across::left, Upright::top, 0.0};

/// The band of a layout with the same name as the bare skin's; none: null.
const SoundBand* band_at(const Layout& layout, double nominal_hz) {
  for (const SoundBand& band : layout.sound) {
    if (band.nominal_hz == nominal_hz) return &band;
  }
  return nullptr;
}

std::vector<double> skin_power(const Layout& layout, const std::vector<SoundBand>& bands) {
  std::vector<double> values;
  for (const SoundBand& wanted : bands) {
    const SoundBand* band = band_at(layout, wanted.nominal_hz);
    values.push_back(band != nullptr ? band->skin_power_db
                                     : std::numeric_limits<double>::quiet_NaN());
  }
  return values;
}

std::vector<double> woofer_power(const std::vector<SoundBand>& bands) {
  std::vector<double> values;
  for (const SoundBand& band : bands) values.push_back(band.woofer_power_db);
  return values;
}

std::size_t shown_rows(const Results& results) {
  return std::min(results.layouts.size(), kMostRows);
}

/// The table's head stands at the chart's foot, its last row over the sentence.
CurveChart chart_of(const Results& results, double table_foot) {
  const std::vector<SoundBand>& bands = results.layouts.front().sound;
  CurveChart chart;
  const double table = 14.0 + kRowMm * double(shown_rows(results));
  chart.low = {kContentLow.x + kNamesMm, table_foot + table};
  chart.high = {kContentHigh.x, kContentHigh.y - 2.0};
  chart.x = {-0.5, double(bands.size()) - 0.5, false, {}};
  std::vector<double> all = woofer_power(bands);
  for (const Layout& layout : results.layouts) {
    const std::vector<double> values = skin_power(layout, bands);
    all.insert(all.end(), values.begin(), values.end());
  }
  chart.y = even_axis(all, 7);
  return chart;
}

void draw_curves(Canvas& canvas, const CurveChart& chart, const Results& results) {
  const std::vector<SoundBand>& bands = results.layouts.front().sound;
  std::vector<double> at;
  for (std::size_t b = 0; b < bands.size(); ++b) at.push_back(double(b));
  for (const double x : at) {
    const double page = chart.at(x, chart.y.low).x;
    canvas.line({{page, chart.low.y}, {page, chart.high.y}}, {0.18, grey(0.72), {}});
  }
  draw_curve(canvas, chart, at, woofer_power(bands), woofer_stroke());
  for (std::size_t k = results.layouts.size(); k-- > 0;) {
    const std::vector<double> values = skin_power(results.layouts[k], bands);
    draw_curve(canvas, chart, at, values, layout_stroke(k));
    for (std::size_t b = 0; b < at.size(); ++b) {
      const Point p = chart.at(at[b], values[b]);
      if (std::isfinite(p.y)) canvas.disc(p, 0.9, layout_stroke(k).colour);
    }
  }
}

/// Beside the chart: what the broad line is, and at which voltage.
void draw_key(Canvas& canvas, const CurveChart& chart, const Results& results) {
  const WooferPlay& woofer = *results.woofer;
  const double x = kContentLow.x;
  double y = chart.high.y - 1.0;
  const Type type{9.0, false, kBlack, Across::left, Upright::top, 0.0};
  canvas.line({{x, y - 1.0}, {x + 16.0, y - 1.0}}, woofer_stroke());
  y = canvas.text_block(
      {x, y - 4.0}, "the woofer's own: its cone's front, in the bare door", type, 33.0, 4);
  canvas.line({{x, y - 4.0}, {x + 16.0, y - 4.0}}, layout_stroke(0));
  canvas.disc({x + 8.0, y - 4.0}, 0.9, layout_stroke(0).colour);
  y = canvas.text_block(
      {x, y - 7.0}, "the skin: its outer face, lines as in the table", type, 33.0, 4);
  canvas.text_block({x, y - 3.0},
                    "at " + number(woofer.voltage_v, 1) + " V rms, " +
                        number(woofer.nominal_power_w, 0) + " W into " +
                        plain_number(woofer.nominal_ohm) + " ohm",
                    type,
                    33.0,
                    3);
}

void draw_cell(Canvas& canvas, const CurveChart& chart, std::size_t b, double y, double under_db) {
  const double half = 0.5 * (chart.high.x - chart.low.x) / (chart.x.high - chart.x.low);
  const double x = chart.at(double(b), chart.y.low).x;
  const std::string words = number(under_db, 0);
  // By the number as printed: 0.4 dB over is neither.
  const bool over = words[0] == '-' && words != "-";
  if (over) {
    canvas.rectangle(
        {x - half + 0.3, y - 0.5 * kRowMm + 0.2}, {x + half - 0.3, y + 0.5 * kRowMm - 0.2}, kOver);
  }
  const Type type{9.0, over, kBlack, Across::middle, Upright::middle, 0.0};
  canvas.text({x, y}, over ? words.substr(1) : words, type);
}

void draw_table(Canvas& canvas, const CurveChart& chart, const Results& results) {
  const std::vector<SoundBand>& bands = results.layouts.front().sound;
  const double x = kContentLow.x;
  double y = chart.low.y - 3.8;
  const Type strong{9.0, true, kBlack, Across::left, Upright::middle, 0.0};
  const Type plain{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
  const Type centre{9.5, true, kBlack, Across::middle, Upright::middle, 0.0};
  canvas.text({x, y}, "One-third octave, Hz", strong);
  double last = -1e9;
  for (std::size_t b = 0; b < bands.size(); ++b) {
    const double page = chart.at(double(b), chart.y.low).x;
    if (page - last < 8.0) continue;
    canvas.text({page, y}, third_octave_name(bands[b].nominal_hz), centre);
    last = page;
  }
  canvas.line({{x, y - 2.7}, {kContentHigh.x, y - 2.7}}, {0.35, kBlack, {}});
  y -= 5.4;
  canvas.text({x, y},
              "dB by which the skin's sound power lies under the woofer's; bold on grey: over it",
              strong);
  for (std::size_t k = 0; k < shown_rows(results); ++k) {
    y -= kRowMm;
    const Layout& layout = results.layouts[k];
    if (k + 1 == kMostRows && results.layouts.size() > kMostRows) {
      const std::size_t more = results.layouts.size() - k;
      canvas.text({x, y}, "and " + std::to_string(more) + " more in results.json", plain);
      break;
    }
    canvas.line({{x, y}, {x + 12.0, y}}, layout_stroke(k));
    canvas.text({x + 14.0, y}, canvas.fitted(layout.name, plain, kNamesMm - 16.0), plain);
    for (std::size_t b = 0; b < bands.size(); ++b) {
      const SoundBand* band = band_at(layout, bands[b].nominal_hz);
      if (band != nullptr) draw_cell(canvas, chart, b, y, band->skin_under_db);
    }
  }
}

}  // namespace

const char* const kSoundAssumptions =
    "Assumed: the skin's outer face in a large wall, half space, free field, steady tones swept.";

Stroke woofer_stroke() { return {1.7, grey(0.55), {}}; }

bool has_sound(const Results& results) {
  return results.woofer && !results.layouts.front().sound.empty();
}

RgbaImage draw_skin_and_woofer(RenderWindow& window, const Results& results) {
  const std::string caption =
      std::string(
          "Where a skin's line nears the broad grey one or passes it, the door sings along "
          "with the woofer; sheet pushes it down. ") +
      kSoundAssumptions;
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "The skin's sound against the woofer's", caption);
    const std::string& sentence = results.woofer->sentence;
    const double width = kContentHigh.x - kContentLow.x;
    const std::size_t lines = canvas.wrapped(sentence, kSentence, width, kSentenceLines).size();
    const double top = kContentLow.y + line_height_mm(kSentencePt) * double(lines);
    canvas.text_block({kContentLow.x, top}, sentence, kSentence, width, kSentenceLines);
    const CurveChart chart = chart_of(results, top + 2.0);
    draw_left_axis(canvas, chart, "Sound power, dB re 1 pW", 13.0);
    draw_curves(canvas, chart, results);
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    draw_key(canvas, chart, results);
    draw_table(canvas, chart, results);
  });
}

}  // namespace calmplate::picture
