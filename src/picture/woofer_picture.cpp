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

const Stroke kTravel{0.8, kBlack, {}};
const Stroke kXmax{0.9, grey(0.45), {5.0, 1.5}};
const Stroke kPressure{0.9, from_lch(46.0, 55.0, 275.0), {}};
const Stroke kFrame{0.9, from_lch(62.0, 65.0, 55.0), {3.0, 1.3}};

bool any_force(const std::vector<double>& force_n) {
  return std::any_of(force_n.begin(), force_n.end(), [](double f) { return f > 0.0; });
}

/// Samples with words beside one another on a line over a chart.
class Strip {
 public:
  Strip(Canvas& canvas, const Point& at) : canvas_(canvas), at_(at) {}
  void add(const Stroke& stroke, const std::string& words) {
    canvas_.line({at_, {at_.x + 13.0, at_.y}}, stroke);
    put(at_.x + 15.0, words);
  }
  void add_dot(const std::string& words) {
    canvas_.disc({at_.x + 1.2, at_.y}, 1.2, kBlack);
    put(at_.x + 4.0, words);
  }
  void add_ground(const std::string& words) {
    canvas_.rectangle({at_.x, at_.y - 1.7}, {at_.x + 7.0, at_.y + 1.7}, grey(0.925));
    canvas_.frame({at_.x, at_.y - 1.7}, {at_.x + 7.0, at_.y + 1.7}, {0.2, grey(0.5), {}});
    put(at_.x + 9.0, words);
  }

 private:
  void put(double x, const std::string& words) {
    const Type type{9.5, false, kBlack, Across::left, Upright::middle, 0.0};
    canvas_.text({x, at_.y}, words, type);
    at_.x = x + canvas_.text_size(words, type).first + 7.0;
  }
  Canvas& canvas_;
  Point at_;
};

CurveChart travel_chart(const Results& results) {
  const WooferPlay& woofer = *results.woofer;
  CurveChart chart;
  chart.low = {kContentLow.x + 20.0, 111.0};
  chart.high = {kContentHigh.x - 2.0, kContentHigh.y - 7.0};
  chart.x = frequency_axis(results);
  std::vector<double> all = woofer.travel_curve_mm;
  all.push_back(0.0);
  all.push_back(1.03 * woofer.travel_mm);
  if (woofer.xmax_mm) all.push_back(1.03 * *woofer.xmax_mm);
  chart.y = even_axis(all, 6);
  return chart;
}

CurveChart force_chart(const Results& results) {
  const WooferPlay& woofer = *results.woofer;
  CurveChart chart;
  chart.low = {kContentLow.x + 20.0, kContentLow.y + 12.5};
  chart.high = {kContentHigh.x - 2.0, 98.0};
  chart.x = frequency_axis(results);
  std::vector<double> all = woofer.frame_force_n;
  all.insert(all.end(), woofer.skin_force_n.begin(), woofer.skin_force_n.end());
  chart.y = log_axis(all);
  return chart;
}

void draw_travel(Canvas& canvas, const Results& results) {
  const WooferPlay& woofer = *results.woofer;
  const CurveChart chart = travel_chart(results);
  shade_band(canvas, chart, results);
  draw_left_axis(canvas, chart, "Cone travel one way, mm peak");
  draw_frequency_axis(canvas, chart, false);
  if (woofer.xmax_mm) {
    canvas.line({chart.at(chart.x.low, *woofer.xmax_mm), chart.at(chart.x.high, *woofer.xmax_mm)},
                kXmax);
  }
  draw_curve(canvas, chart, results.freq_hz, woofer.travel_curve_mm, kTravel);
  canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
  if (woofer.travel_hz >= chart.x.low && woofer.travel_hz <= chart.x.high) {
    canvas.disc(chart.at(woofer.travel_hz, woofer.travel_mm), 1.2, kBlack);
  }
  Strip strip(canvas, {chart.low.x, chart.high.y + 3.2});
  strip.add_dot("largest travel " + number(woofer.travel_mm, 1) + " mm, at " +
                number(woofer.travel_hz, 0) + " Hz");
  if (woofer.xmax_mm) strip.add(kXmax, "Xmax " + number(*woofer.xmax_mm, 1) + " mm");
  strip.add_ground("band " + band_text(results) +
                   (woofer.band_is_own ? ": the woofer's own, within 10 dB of its loudest" : ""));
}

void draw_forces(Canvas& canvas, const Results& results) {
  const WooferPlay& woofer = *results.woofer;
  const CurveChart chart = force_chart(results);
  shade_band(canvas, chart, results);
  draw_left_axis(canvas, chart, "Force, N rms");
  draw_frequency_axis(canvas, chart);
  draw_curve(canvas, chart, results.freq_hz, woofer.frame_force_n, kFrame);
  draw_curve(canvas, chart, results.freq_hz, woofer.skin_force_n, kPressure);
  canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
  Strip strip(canvas, {chart.low.x, chart.high.y + 3.2});
  if (any_force(woofer.skin_force_n)) {
    strip.add(kPressure, "even pressure of the shut-in air on the whole skin");
  }
  strip.add(kFrame, "reaction of motor and suspension on the woofer's frame");
}

}  // namespace

RgbaImage draw_woofer(RenderWindow& window, const Results& results) {
  std::string caption = "The woofer in the bare door, tones of " +
                        number(results.woofer->voltage_v, 1) + " V rms, " +
                        number(results.woofer->nominal_power_w, 0) + " W into " +
                        plain_number(results.woofer->nominal_ohm) + " ohm. ";
  if (results.woofer->xmax_mm) caption += "Beyond Xmax it cannot follow. ";
  caption += any_force(results.woofer->skin_force_n)
                 ? "Below: the two ways by which it shakes the skin; the frame's reaction gets "
                   "there only if the woofer is screwed to the skin."
                 : "Below: the frame's reaction, which shakes the skin only if the woofer is "
                   "screwed to it.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "How the woofer works in this door", caption);
    draw_travel(canvas, results);
    draw_forces(canvas, results);
  });
}

}  // namespace calmplate::picture
