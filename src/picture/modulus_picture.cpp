// SPDX-License-Identifier: GPL-3.0-or-later
#include <cctype>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/sheet_pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

std::vector<double> all_of(const SheetFile& sheet, bool modulus) {
  std::vector<double> values;
  for (const ModulusCurve& curve : sheet.curves) {
    const std::vector<double>& part = modulus ? curve.modulus_mpa : curve.loss_factor;
    values.insert(values.end(), part.begin(), part.end());
  }
  return values;
}

/// A modulus that hardly changes gets room above and below, so that it looks it.
Axis modulus_axis(const SheetFile& sheet) {
  std::vector<double> values = all_of(sheet, true);
  const Axis tight = log_axis(values);
  if (tight.high < 3.0 * tight.low) {
    values.push_back(0.4 * tight.low);
    values.push_back(2.5 * tight.high);
  }
  return log_axis(values);
}

std::string capital(std::string words) {
  if (!words.empty()) words[0] = char(std::toupper(static_cast<unsigned char>(words[0])));
  return words;
}

void draw_chart(Canvas& canvas,
                const CurveChart& chart,
                const SheetFile& sheet,
                bool modulus,
                const std::string& heading) {
  draw_left_axis(canvas, chart, heading, 14.0);
  draw_bottom_axis(canvas, chart, "Frequency, Hz");
  std::vector<EndLabel> labels;
  for (std::size_t k = 0; k < sheet.curves.size(); ++k) {
    const ModulusCurve& curve = sheet.curves[k];
    const std::vector<double>& values = modulus ? curve.modulus_mpa : curve.loss_factor;
    const Stroke stroke = temperature_stroke(k, sheet.curves.size());
    draw_curve(canvas, chart, sheet.freq_hz, values, stroke);
    EndLabel label{{}, celsius(curve.temperature_c), stroke};
    if (curve_end(chart, sheet.freq_hz, values, label.at)) labels.push_back(label);
  }
  canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
  draw_end_labels(canvas, chart, labels);
}

}  // namespace

std::string celsius(double temperature_c) { return plain_number(temperature_c) + " °C"; }

PageWords sheet_page(const SheetFile& sheet, const std::string& title, const std::string& caption) {
  std::string footer = sheet.name + ": " + sheet.kind + ", " + number(sheet.thickness_mm, 2) +
                       " mm thick, " + number(sheet.mass_kg_m2, 2) + " kg/m²";
  if (std::isfinite(sheet.price_per_m2)) {
    footer += ", " + number(sheet.price_per_m2, 2) + " " + sheet.currency + "/m²";
  }
  footer += ".";
  if (!sheet.range_text.empty()) footer += "  " + sheet.range_text;
  return {title, sheet.name + "  (" + sheet.what + ")", caption, footer};
}

RgbaImage draw_modulus(RenderWindow& window, const SheetFile& sheet) {
  CurveChart left;
  left.low = {kContentLow.x + 19.0, kContentLow.y + 13.0};
  left.high = {kContentLow.x + 117.0, kContentHigh.y - 9.0};
  left.x = log_axis(sheet.freq_hz);
  left.y = modulus_axis(sheet);
  CurveChart right = left;
  right.low.x = kContentLow.x + 154.0;
  right.high.x = kContentLow.x + 252.0;
  std::vector<double> losses = all_of(sheet, false);
  losses.push_back(0.0);
  right.y = even_axis(losses, 9);
  const std::string quantity = capital(sheet.modulus_name);
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(
        canvas,
        sheet_page(
            sheet,
            quantity + " and loss factor over frequency",
            "One curve a temperature. Cold and fast make the sheet stiff, warm and slow make "
            "it soft. The loss factor says how much of the motion it turns into heat."));
    const Type strong{10.0, true, kBlack, Across::left, Upright::bottom, 0.0};
    canvas.text({left.low.x, left.high.y + 2.0}, quantity, strong);
    canvas.text({right.low.x, right.high.y + 2.0}, "Loss factor", strong);
    draw_chart(canvas, left, sheet, true, quantity + ", MPa");
    draw_chart(canvas, right, sheet, false, "Loss factor, no unit");
  });
}

}  // namespace calmplate::picture
