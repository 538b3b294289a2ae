// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/fractional_zener.hpp"

#include <cmath>
#include <stdexcept>

#include "base/units.hpp"

namespace calmplate::sheet {
namespace {

constexpr double kLn10 = 2.302585092994046;

}  // namespace

FractionalZener::FractionalZener(const FractionalZenerParameters& parameters) : p_(parameters) {
  if (!(p_.low_pa > 0.0) || !(p_.high_pa >= p_.low_pa) || !std::isfinite(p_.high_pa))
    throw std::invalid_argument("FractionalZener: must be 0 < low_pa <= high_pa, finite");
  if (!(p_.time_s > 0.0) || !std::isfinite(p_.time_s))
    throw std::invalid_argument("FractionalZener: time_s must be finite and above 0");
  if (!(p_.exponent > 0.0) || !(p_.exponent <= 1.0))
    throw std::invalid_argument("FractionalZener: exponent must be above 0, up to 1");
  p_.shift.check();
}

std::complex<double> FractionalZener::modulus(double freq_hz, double temp_k) const {
  if (!(freq_hz > 0.0) || !std::isfinite(freq_hz))
    throw std::invalid_argument("FractionalZener: freq_hz must be finite and above 0");
  if (!(temp_k > 0.0) || !std::isfinite(temp_k))
    throw std::invalid_argument("FractionalZener: temp_k must be finite and above 0");
  // z = r e^{i angle}; with q = min(r, 1/r) no term is above 1:
  //   z / (1 + z) = (r^2 + r cos + i r sin) / (1 + 2 r cos + r^2)
  const double log_r = p_.exponent * (std::log(base::kTwoPi) + std::log(freq_hz) +
                                      std::log(p_.time_s) + kLn10 * p_.shift.log10_factor(temp_k));
  const double angle = 0.5 * base::kPi * p_.exponent;
  const double q = std::exp(-std::abs(log_r)), c = std::cos(angle), s = std::sin(angle);
  const double below = 1.0 + 2.0 * q * c + q * q;
  const double real = log_r <= 0.0 ? q * (q + c) / below : (1.0 + q * c) / below;
  const double step_pa = p_.high_pa - p_.low_pa;
  return {p_.low_pa + step_pa * real, step_pa * q * s / below};
}

}  // namespace calmplate::sheet
