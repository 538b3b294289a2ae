// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/colour_scale.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::picture {
namespace {

/// A row of the matrix that turns linear sRGB into CIE XYZ, and the matrix back.
/// Source: [memory] sRGB with D65 white; the rows of kToXyz sum to the white point below.
constexpr double kToXyz[3][3] = {{0.4124564, 0.3575761, 0.1804375},
                                 {0.2126729, 0.7151522, 0.0721750},
                                 {0.0193339, 0.1191920, 0.9503041}};
constexpr double kFromXyz[3][3] = {{3.2404542, -1.5371385, -0.4985314},
                                   {-0.9692660, 1.8760108, 0.0415560},
                                   {0.0556434, -0.2040259, 1.0572252}};
constexpr double kWhiteXyz[3] = {0.95047, 1.0, 1.08883};
constexpr double kKnee = 6.0 / 29.0;  ///< where the cube root of L*a*b* turns into a line

double encode(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055;
}

double decode(double share) {
  return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
}

double lab_inverse(double f) {
  return f > kKnee ? f * f * f : 3.0 * kKnee * kKnee * (f - 4.0 / 29.0);
}

double lab_forward(double share) {
  return share > kKnee * kKnee * kKnee ? std::cbrt(share)
                                       : share / (3.0 * kKnee * kKnee) + 4.0 / 29.0;
}

std::array<double, 3> linear_rgb(double lightness_value, double chroma, double hue_deg) {
  const double hue = base::from_degrees(hue_deg);
  const double fy = (lightness_value + 16.0) / 116.0;
  const double fx = fy + chroma * std::cos(hue) / 500.0;
  const double fz = fy - chroma * std::sin(hue) / 200.0;
  const double xyz[3] = {kWhiteXyz[0] * lab_inverse(fx),
                         kWhiteXyz[1] * lab_inverse(fy),
                         kWhiteXyz[2] * lab_inverse(fz)};
  std::array<double, 3> rgb{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) rgb[i] += kFromXyz[i][j] * xyz[j];
  }
  return rgb;
}

bool can_be_shown(const std::array<double, 3>& rgb) {
  return std::all_of(
      rgb.begin(), rgb.end(), [](double part) { return part >= -1e-6 && part <= 1.0 + 1e-6; });
}

Colour sequential_path(double t) {
  const double hump = (t - 0.76) / 0.2;
  return from_lch(24.0 + 70.0 * t, 26.0 + 34.0 * std::exp(-hump * hump), 282.0 - 182.0 * t);
}

Colour diverging_path(double t) {
  const double s = std::abs(2.0 * t - 1.0);
  if (t < 0.5) return from_lch(98.0 - 70.0 * s, 70.0 * s * (1.0 - 0.5 * s), 275.0);
  return from_lch(98.0 - 40.0 * s, 66.0 * s, 58.0);
}

}  // namespace

Colour from_lch(double lightness_value, double chroma, double hue_deg) {
  std::array<double, 3> rgb = linear_rgb(lightness_value, chroma, hue_deg);
  if (!can_be_shown(rgb)) {
    double low = 0.0;
    double high = chroma;
    for (int i = 0; i < 40; ++i) {
      const double middle = 0.5 * (low + high);
      (can_be_shown(linear_rgb(lightness_value, middle, hue_deg)) ? low : high) = middle;
    }
    rgb = linear_rgb(lightness_value, low, hue_deg);
  }
  for (double& part : rgb) part = encode(std::clamp(part, 0.0, 1.0));
  return {rgb[0], rgb[1], rgb[2]};
}

double lightness(const Colour& colour) {
  const double luminance = kToXyz[1][0] * decode(colour.r) + kToXyz[1][1] * decode(colour.g) +
                           kToXyz[1][2] * decode(colour.b);
  return 116.0 * lab_forward(luminance) - 16.0;
}

ColourScale::ColourScale(Path path) {
  for (int i = 0; i <= kSteps; ++i) table_[static_cast<std::size_t>(i)] = path(double(i) / kSteps);
}

const ColourScale& ColourScale::sequential() {
  static const ColourScale scale(sequential_path);
  return scale;
}

const ColourScale& ColourScale::diverging() {
  static const ColourScale scale(diverging_path);
  return scale;
}

Colour ColourScale::at(double t) const {
  if (!(t > 0.0)) return table_.front();
  if (t >= 1.0) return table_.back();
  const double place = t * kSteps;
  const auto i = static_cast<std::size_t>(place);
  const double s = place - double(i);
  const Colour& a = table_[i];
  const Colour& b = table_[i + 1];
  return {a.r + s * (b.r - a.r), a.g + s * (b.g - a.g), a.b + s * (b.b - a.b)};
}

}  // namespace calmplate::picture
