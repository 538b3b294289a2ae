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

constexpr double kRowLabelMm = 34.0;
constexpr double kLabelPt = 8.0;
constexpr double kLabelGapMm = 3.5;
constexpr double kTickMm = 5.0;
constexpr double kTableRowMm = 4.7;
constexpr std::size_t kTableRows = 10;  ///< in each of two columns
constexpr double kChartFoot = 98.0;

/// What moves most in a mode.
struct Kind {
  const char* name;
  Stroke stroke;
};
const Kind kKinds[] = {{"mostly skin", {0.4, kBlack, {}}},
                       {"mostly cone", {1.1, from_lch(55.0, 65.0, 50.0), {4.0, 1.2}}},
                       {"mostly air", {0.7, from_lch(42.0, 50.0, 265.0), {0.9, 0.9}}}};

const Kind& kind_of(const DoorMode& mode) {
  if (mode.cone_share >= mode.skin_share && mode.cone_share >= mode.air_share) return kKinds[1];
  return mode.air_share > mode.skin_share ? kKinds[2] : kKinds[0];
}

/// Modes as far as both rows' labels have room.
struct Shown {
  std::vector<double> in_air_hz;
  std::vector<DoorMode> in_door;
  bool all = true;
};

Shown shown_modes(const Layout& layout, double width_mm) {
  const auto most = std::size_t(width_mm / kLabelGapMm);
  Shown shown;
  double top_hz = INFINITY;
  if (layout.modes.size() > most) top_hz = layout.modes[most - 1].freq_hz;
  if (layout.door_modes.size() > most) {
    top_hz = std::min(top_hz, layout.door_modes[most - 1].freq_hz);
  }
  for (const Mode& mode : layout.modes) {
    if (mode.freq_hz <= top_hz) shown.in_air_hz.push_back(mode.freq_hz);
  }
  for (const DoorMode& mode : layout.door_modes) {
    if (mode.freq_hz <= top_hz) shown.in_door.push_back(mode);
  }
  shown.all = shown.in_air_hz.size() == layout.modes.size() &&
              shown.in_door.size() == layout.door_modes.size();
  return shown;
}

CurveChart chart_of(const Shown& shown) {
  CurveChart chart;
  chart.low = {kContentLow.x + kRowLabelMm, kChartFoot + 18.0};
  chart.high = {kContentHigh.x - 2.0, kContentHigh.y - 17.0};
  double low = INFINITY;
  double high = 0.0;
  const auto see = [&](double freq_hz) {
    low = std::min(low, freq_hz);
    high = std::max(high, freq_hz);
  };
  for (const double f : shown.in_air_hz) see(f);
  for (const DoorMode& mode : shown.in_door) see(mode.freq_hz);
  chart.x = frequency_axis(0.96 * low, 1.04 * high);
  return chart;
}

/// Frequencies standing upright beyond a row of ticks, moved apart, each joined to its tick.
/// @param up  1: above the row; -1: below
void draw_labels(Canvas& canvas,
                 const CurveChart& chart,
                 const std::vector<double>& freq_hz,
                 double y,
                 double up) {
  std::vector<double> wanted;
  for (const double f : freq_hz) wanted.push_back(chart.at(f, 0.0).x);
  const std::vector<double> x = spread(wanted, kLabelGapMm, chart.low.x, chart.high.x);
  const Type type{
      kLabelPt, false, kBlack, up > 0.0 ? Across::left : Across::right, Upright::middle, 90.0};
  for (std::size_t k = 0; k < freq_hz.size(); ++k) {
    canvas.line(
        {{wanted[k], y}, {wanted[k], y + 1.0 * up}, {x[k], y + 5.0 * up}, {x[k], y + 6.0 * up}},
        {0.15, grey(0.45), {}});
    canvas.text({x[k], y + 6.8 * up}, number(freq_hz[k], 1), type);
  }
}

void draw_rows(Canvas& canvas, const CurveChart& chart, const Shown& shown) {
  const double upper = chart.high.y;
  const double lower = chart.low.y;
  for (const DoorMode& mode : shown.in_door) {
    const double x = chart.at(mode.freq_hz, 0.0).x;
    const Stroke& stroke = kind_of(mode).stroke;
    if (mode.like > 0 && mode.like <= shown.in_air_hz.size()) {
      canvas.line({{chart.at(shown.in_air_hz[mode.like - 1], 0.0).x, upper - kTickMm},
                   {x, lower + kTickMm}},
                  stroke);
    }
    canvas.line({{x, lower}, {x, lower + kTickMm}},
                {std::max(stroke.width_mm, 0.5), stroke.colour, {}});
  }
  for (const double f : shown.in_air_hz) {
    const double x = chart.at(f, 0.0).x;
    canvas.line({{x, upper - kTickMm}, {x, upper}}, {0.5, kBlack, {}});
  }
  for (const double y : {lower, upper}) {
    canvas.line({{chart.low.x - 2.0, y}, {chart.high.x + 2.0, y}}, {0.35, kBlack, {}});
  }
  std::vector<double> in_door_hz;
  for (const DoorMode& mode : shown.in_door) in_door_hz.push_back(mode.freq_hz);
  draw_labels(canvas, chart, shown.in_air_hz, upper, 1.0);
  draw_labels(canvas, chart, in_door_hz, lower, -1.0);
  const Type strong{10.0, true, kBlack, Across::left, Upright::middle, 0.0};
  const Type plain{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
  canvas.text({kContentLow.x, upper - 1.0}, "In free air", strong);
  canvas.text({kContentLow.x, upper - 5.5}, "on both faces, Hz", plain);
  canvas.text({kContentLow.x, lower + 4.5}, "In the door", strong);
  canvas.text({kContentLow.x, lower}, "air shut in, Hz", plain);
}

void draw_kind_key(Canvas& canvas) {
  double y = 0.5 * (kChartFoot + 18.0 + kContentHigh.y - 17.0) + 4.0;
  const Type type{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
  for (const Kind& kind : kKinds) {
    canvas.line({{kContentLow.x, y}, {kContentLow.x + 9.0, y}}, kind.stroke);
    canvas.text({kContentLow.x + 10.5, y}, kind.name, type);
    y -= 5.0;
  }
}

std::string percent(double share) { return number(100.0 * share, 0); }

/// Right ends of the table's columns from its left edge, mm.
constexpr double kColumns[] = {13.0, 29.0, 41.0, 53.0, 65.0, 79.0, 97.0, 115.0};

void draw_table_head(Canvas& canvas, double x, double y) {
  const Type right{8.5, true, kBlack, Across::right, Upright::middle, 0.0};
  const Type left{8.5, true, kBlack, Across::left, Upright::middle, 0.0};
  canvas.text({x, y}, "In the door", left);
  canvas.text({x + kColumns[4], y}, "moving energy, %", right);
  canvas.text({x + kColumns[7], y}, "nearest in free air", right);
  const char* const names[] = {"Hz", "loss", "skin", "cone", "air", "No.", "Hz", "loss"};
  for (std::size_t c = 0; c < 8; ++c) canvas.text({x + kColumns[c], y - 4.2}, names[c], right);
  canvas.line({{x, y - 6.8}, {x + kColumns[7], y - 6.8}}, {0.35, kBlack, {}});
}

void draw_table_row(
    Canvas& canvas, double x, double y, const Layout& layout, const DoorMode& mode) {
  std::vector<std::string> words{number(mode.freq_hz, 1),
                                 number(mode.loss_factor, 3),
                                 percent(mode.skin_share),
                                 percent(mode.cone_share),
                                 percent(mode.air_share),
                                 "-",
                                 "-",
                                 "-"};
  if (mode.like > 0) {
    const Mode& in_air = layout.modes[mode.like - 1];
    words[5] = std::to_string(mode.like);
    words[6] = number(in_air.freq_hz, 1);
    words[7] = number(in_air.loss_factor, 3);
  }
  const Type plain{8.5, false, kBlack, Across::right, Upright::middle, 0.0};
  for (std::size_t c = 0; c < words.size(); ++c) canvas.text({x + kColumns[c], y}, words[c], plain);
}

void draw_table(Canvas& canvas, const Layout& layout) {
  const double top = kChartFoot - 8.0;
  for (std::size_t column = 0; column < 2; ++column) {
    const double x = kContentLow.x + 145.0 * double(column);
    if (column * kTableRows >= layout.door_modes.size()) break;
    draw_table_head(canvas, x, top);
    for (std::size_t k = 0; k < kTableRows; ++k) {
      const std::size_t mode = column * kTableRows + k;
      if (mode >= layout.door_modes.size()) break;
      const double y = top - 9.6 - kTableRowMm * double(k);
      draw_table_row(canvas, x, y, layout, layout.door_modes[mode]);
    }
  }
}

}  // namespace

RgbaImage draw_door_modes(RenderWindow& window, const Results& results) {
  const Layout& layout = results.layouts.front();
  return window.draw_page([&](Canvas& canvas) {
    const double width = kContentHigh.x - 2.0 - kContentLow.x - kRowLabelMm;
    const Shown shown = shown_modes(layout, width);
    std::string caption =
        "Shut in behind the skin, the air is a spring where the skin moves all one way and added "
        "mass where it does not; skin, air and cone may then share a mode, which splits into "
        "several.";
    if (!shown.all) caption += " Higher modes: results.json.";
    draw_page_frame(canvas,
                    results,
                    "Modes of the skin: " + layout.name + ", in free air and in the door",
                    caption);
    draw_rows(canvas, chart_of(shown), shown);
    draw_kind_key(canvas);
    draw_table(canvas, layout);
  });
}

}  // namespace calmplate::picture
