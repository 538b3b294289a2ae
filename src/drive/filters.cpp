// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/filters.hpp"

#include <cmath>
#include <stdexcept>

#include "base/units.hpp"

namespace calmplate::drive {
namespace {

using Complex = std::complex<double>;

/// B_n(i ratio), or of its reciprocal for a high-pass: the poles are each other's reciprocals.
Complex butterworth(int order, double ratio, bool high_pass) {
  const Complex s(0.0, ratio);
  Complex h = 1.0;
  for (int k = 1; k <= order; ++k) {
    const Complex pole = std::polar(1.0, base::kPi * (2 * k + order - 1) / (2.0 * order));
    h *= (high_pass ? s : -pole) / (s - pole);
  }
  return h;
}

Complex slope_response(const FilterSlope& slope, double freq_hz, bool high_pass) {
  const double ratio = freq_hz / slope.freq_hz;
  if (slope.type == FilterType::butterworth || slope.order == 1)
    return butterworth(slope.order, ratio, high_pass);
  const Complex half = butterworth(slope.order / 2, ratio, high_pass);
  return half * half;
}

}  // namespace

Complex filter_response(const FilterInput& filter, double freq_hz) {
  if (!(freq_hz >= 0.0) || !std::isfinite(freq_hz))
    throw std::invalid_argument("filter_response: freq_hz must be finite and at or above 0");
  if (const auto fault = fault_of(filter))
    throw std::invalid_argument("filter_response: " + fault->key + " " + fault->problem);
  Complex h = 1.0;
  if (filter.high_pass) h *= slope_response(*filter.high_pass, freq_hz, true);
  if (filter.low_pass) h *= slope_response(*filter.low_pass, freq_hz, false);
  return h;
}

}  // namespace calmplate::drive
