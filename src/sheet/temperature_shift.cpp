// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/temperature_shift.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace calmplate::sheet {
namespace {

// Source: [memory] molar gas constant, SI of 2019.
constexpr double kGasConstant = 8.314462618;  // J/(mol K)
constexpr double kLn10 = 2.302585092994046;
constexpr double kMostDecades = 30.0;
constexpr double kPoleMargin = 5.0;  // K, how far above the pole the formula of WLF is left

double wlf(const TemperatureShift& s, double temp_k) {
  const double above_pole = s.c2_k + temp_k - s.reference_k;
  const double used = std::max(above_pole, std::min(kPoleMargin, 0.5 * s.c2_k));
  return -s.c1 * (used - s.c2_k) / used;
}

double arrhenius(const TemperatureShift& s, double temp_k) {
  if (s.activation_j_mol == 0.0) return 0.0;  // 0 times an infinite 1/T is no number
  return s.activation_j_mol / kGasConstant * (1.0 / temp_k - 1.0 / s.reference_k) / kLn10;
}

}  // namespace

double TemperatureShift::log10_factor(double temp_k) const {
  if (!(temp_k > 0.0) || !std::isfinite(temp_k))
    throw std::invalid_argument("TemperatureShift: temp_k must be finite and above 0");
  double decades = 0.0;
  if (kind == Kind::wlf) decades = wlf(*this, temp_k);
  if (kind == Kind::arrhenius) decades = arrhenius(*this, temp_k);
  return std::clamp(decades, -kMostDecades, kMostDecades);
}

void TemperatureShift::check() const {
  const auto positive = [](double x) { return x > 0.0 && std::isfinite(x); };
  const auto not_negative = [](double x) { return x >= 0.0 && std::isfinite(x); };
  if (kind == Kind::none) return;
  if (!positive(reference_k))
    throw std::invalid_argument("TemperatureShift: reference_k must be finite and above 0");
  if (kind == Kind::wlf && (!not_negative(c1) || !positive(c2_k)))
    throw std::invalid_argument(
        "TemperatureShift: c1 must be finite and at or above 0, c2_k finite and above 0");
  if (kind == Kind::arrhenius && !not_negative(activation_j_mol))
    throw std::invalid_argument(
        "TemperatureShift: activation_j_mol must be finite and at or above 0");
}

}  // namespace calmplate::sheet
