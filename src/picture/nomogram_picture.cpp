// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cctype>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/sheet_pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

const Stroke kModulusStroke{0.9, grey(0.0), {}};
const Stroke kLossStroke{0.9, from_lch(50.0, 70.0, 40.0), {4.0, 1.4}};
const Stroke kIsothermStroke{0.3, from_lch(45.0, 45.0, 275.0), {}};
const Stroke kExampleStroke{0.45, from_lch(45.0, 55.0, 145.0), {1.6, 1.0}};

Axis decades(double lowest_power, double highest_power) {
  Axis axis;
  axis.logarithmic = true;
  for (int n = int(lowest_power); n <= int(highest_power); ++n) {
    axis.ticks.push_back(std::pow(10.0, n));
  }
  axis.low = axis.ticks.front();
  axis.high = axis.ticks.back();
  return axis;
}

double largest(const std::vector<double>& values) {
  return *std::max_element(values.begin(), values.end());
}

double smallest(const std::vector<double>& values) {
  return *std::min_element(values.begin(), values.end());
}

/// Modulus, loss factor and frequency on one height: each has as many decades, so that one set of
/// level lines serves all three.
struct Scales {
  CurveChart modulus;
  CurveChart loss;
  CurveChart freq;
};

Scales scales_of(const ReducedFrequency& reduced) {
  const double low = std::floor(std::log10(smallest(reduced.modulus_mpa)) + 1e-9);
  const double count =
      std::max(4.0, std::ceil(std::log10(largest(reduced.modulus_mpa)) - 1e-9) - low);
  // A curve that would run along the upper edge gets room above it.
  const double loss_top = std::ceil(std::log10(largest(reduced.loss_factor)) + 0.05);
  constexpr double kFreqTop = 4.0;
  Scales scales;
  CurveChart& chart = scales.modulus;
  chart.low = {kContentLow.x + 45.0, kContentLow.y + 14.0};
  chart.high = {kContentHigh.x - 19.0, kContentHigh.y - 13.0};
  chart.x = decades(std::floor(std::log10(reduced.reduced_hz.front()) + 1e-9),
                    std::ceil(std::log10(reduced.reduced_hz.back()) - 1e-9));
  chart.y = decades(low, low + count);
  scales.loss = scales.freq = chart;
  scales.loss.y = decades(loss_top - count, loss_top);
  scales.freq.y = decades(kFreqTop - count, kFreqTop);
  return scales;
}

/// The part of a curve inside the chart; what leaves it is left out.
std::vector<double> inside_of(const CurveChart& chart, std::vector<double> values) {
  for (double& value : values) {
    if (value < chart.y.low || value > chart.y.high) value = std::nan("");
  }
  return values;
}

void draw_side_scales(Canvas& canvas, const Scales& scales, const std::string& quantity) {
  draw_left_axis(canvas, scales.modulus, quantity + ", MPa (full line)", 17.0);
  const double x_loss = scales.modulus.low.x - 27.0;
  const Colour red = kLossStroke.colour;
  canvas.line({{x_loss, scales.loss.low.y}, {x_loss, scales.loss.high.y}}, {0.35, red, {}});
  const Type left{10.0, false, red, Across::right, Upright::middle, 0.0};
  for (const double tick : scales.loss.y.ticks) {
    const double y = scales.loss.at(scales.loss.x.low, tick).y;
    canvas.line({{x_loss, y}, {x_loss + 1.2, y}}, {0.3, red, {}});
    draw_tick_value(canvas, {x_loss - 1.5, y}, tick, left);
  }
  const Type upright{10.0, true, red, Across::middle, Upright::middle, 90.0};
  const double middle = 0.5 * (scales.loss.low.y + scales.loss.high.y);
  canvas.text({x_loss - 15.0, middle}, "Loss factor, no unit (dashed line)", upright);
  const Type right{10.0, false, kBlack, Across::left, Upright::middle, 0.0};
  for (const double tick : scales.freq.y.ticks) {
    const double y = scales.freq.at(scales.freq.x.low, tick).y;
    canvas.line({{scales.freq.high.x, y}, {scales.freq.high.x + 1.2, y}}, {0.3, kBlack, {}});
    draw_tick_value(canvas, {scales.freq.high.x + 3.5, y}, tick, right);
  }
  const Type down{10.0, true, kBlack, Across::middle, Upright::middle, 90.0};
  canvas.text({scales.freq.high.x + 15.0, middle}, "Frequency, Hz", down);
}

/// A line of constant temperature: frequency = reduced frequency / shift factor.
void draw_isotherm(Canvas& canvas, const Scales& scales, const Isotherm& isotherm, double& last) {
  const CurveChart& chart = scales.freq;
  const double from = std::max(chart.x.low, chart.y.low * isotherm.shift_factor);
  const double to = std::min(chart.x.high, chart.y.high * isotherm.shift_factor);
  if (!(to > from)) return;
  const Point start = chart.at(from, from / isotherm.shift_factor);
  const Point end = chart.at(to, to / isotherm.shift_factor);
  canvas.line({start, end}, kIsothermStroke);
  // The temperature stands where the line leaves the chart at its top, or on a line that leaves it
  // at the right.
  const Type type{9.5, true, kIsothermStroke.colour, Across::middle, Upright::bottom, 0.0};
  const std::string words = plain_number(isotherm.temperature_c);
  if (end.y < chart.high.y - 1e-6) {
    if (end.y < chart.low.y + 12.0) return;
    Type middle = type;
    middle.upright = Upright::middle;
    const double slope = (end.y - start.y) / (end.x - start.x);
    canvas.boxed_text({end.x - 7.0, end.y - 7.0 * slope}, words, middle);
    return;
  }
  const double width = canvas.text_size(words, type).first;
  if (std::abs(end.x - last) < width + 1.5) return;
  last = end.x;
  canvas.line({end, {end.x, end.y + 1.0}}, kIsothermStroke);
  canvas.text({end.x, end.y + 1.6}, words, type);
}

/// How to read it: from the frequency to the slanting line, then up or down to both curves.
void draw_example(Canvas& canvas, const Scales& scales, const ReducedFrequency& reduced) {
  const double reduced_hz = reduced.example_hz * reduced.example.shift_factor;
  const Point meet = scales.freq.at(reduced_hz, reduced.example_hz);
  const Point modulus = scales.modulus.at(reduced_hz, reduced.example_mpa);
  const Point loss = scales.loss.at(reduced_hz, reduced.example_loss);
  canvas.line({{scales.freq.high.x, meet.y}, meet}, kExampleStroke);
  const double low = std::min({meet.y, modulus.y, loss.y});
  const double high = std::max({meet.y, modulus.y, loss.y});
  canvas.line({{meet.x, low}, {meet.x, high}}, kExampleStroke);
  canvas.line({modulus, {scales.modulus.low.x, modulus.y}}, kExampleStroke);
  canvas.line({loss, {scales.loss.low.x, loss.y}}, kExampleStroke);
  for (const Point& p : {meet, modulus, loss}) canvas.disc(p, 1.1, kExampleStroke.colour);
}

std::string example_text(const ReducedFrequency& reduced) {
  return "Thin dashes: at " + plain_number(reduced.example_hz) + " Hz and " +
         celsius(reduced.example.temperature_c) + " read " + three_digits(reduced.example_mpa) +
         " MPa and " + number(reduced.example_loss, 2) + ".";
}

}  // namespace

RgbaImage draw_nomogram(RenderWindow& window, const SheetFile& sheet) {
  const ReducedFrequency& reduced = *sheet.reduced;
  const Scales scales = scales_of(reduced);
  std::string quantity = sheet.modulus_name;
  quantity[0] = char(std::toupper(static_cast<unsigned char>(quantity[0])));
  const std::string caption =
      "From the frequency at the right go level to the slanting line of the temperature, then "
      "straight up or down to the two curves, then level to their scales at the left. " +
      example_text(reduced);
  PageWords words = sheet_page(sheet, "Reduced-frequency nomogram", caption);
  words.footer += "  " + reduced.shift_text;
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, words);
    draw_bottom_axis(
        canvas,
        scales.modulus,
        "Reduced frequency, Hz (frequency shifted to " + celsius(reduced.reference_c) + ")");
    draw_side_scales(canvas, scales, quantity);
    double last = -1e9;
    for (const Isotherm& isotherm : reduced.isotherms) {
      draw_isotherm(canvas, scales, isotherm, last);
    }
    const Type type{10.0, true, kIsothermStroke.colour, Across::middle, Upright::bottom, 0.0};
    canvas.text({0.5 * (scales.freq.low.x + scales.freq.high.x), scales.freq.high.y + 6.4},
                "Temperature, °C (slanting lines)",
                type);
    draw_curve(canvas,
               scales.modulus,
               reduced.reduced_hz,
               inside_of(scales.modulus, reduced.modulus_mpa),
               kModulusStroke);
    draw_curve(canvas,
               scales.loss,
               reduced.reduced_hz,
               inside_of(scales.loss, reduced.loss_factor),
               kLossStroke);
    draw_example(canvas, scales, reduced);
    canvas.frame(scales.modulus.low, scales.modulus.high, {0.35, kBlack, {}});
  });
}

}  // namespace calmplate::picture
