// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/complex_modulus.hpp"

#include <cmath>
#include <stdexcept>
#include <utility>

namespace calmplate::sheet {

ConstantModulus::ConstantModulus(double storage_pa, double loss_factor)
    : modulus_(storage_pa, storage_pa * loss_factor) {
  if (!(storage_pa > 0.0) || !std::isfinite(storage_pa))
    throw std::invalid_argument("ConstantModulus: storage_pa must be finite and above 0");
  if (!(loss_factor >= 0.0) || !std::isfinite(loss_factor))
    throw std::invalid_argument("ConstantModulus: loss_factor must be finite and at or above 0");
}

std::complex<double> ConstantModulus::modulus(double freq_hz, double temp_k) const {
  if (!(freq_hz > 0.0) || !std::isfinite(freq_hz))
    throw std::invalid_argument("ConstantModulus: freq_hz must be finite and above 0");
  if (!(temp_k > 0.0) || !std::isfinite(temp_k))
    throw std::invalid_argument("ConstantModulus: temp_k must be finite and above 0");
  return modulus_;
}

ScaledModulus::ScaledModulus(ModulusPtr of, double factor) : of_(std::move(of)), factor_(factor) {
  if (!of_) throw std::invalid_argument("ScaledModulus: there is no modulus to scale");
  if (!(factor > 0.0) || !std::isfinite(factor))
    throw std::invalid_argument("ScaledModulus: factor must be finite and above 0");
}

}  // namespace calmplate::sheet
