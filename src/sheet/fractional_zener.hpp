// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "sheet/complex_modulus.hpp"
#include "sheet/temperature_shift.hpp"

namespace calmplate::sheet {

/// Numbers of a fractional Zener material; shear or Young's modulus, as the sheet says.
struct FractionalZenerParameters {
  double low_pa = 0.0;    ///< G0: modulus at frequency 0, Pa
  double high_pa = 0.0;   ///< Ginf: modulus at infinite frequency, Pa
  double time_s = 0.0;    ///< tau at the reference temperature, s
  double exponent = 1.0;  ///< alpha, no unit; 1 is the standard linear solid
  TemperatureShift shift;
};

/// Four-parameter fractional Zener material with a shift over temperature:
///
///   G* = [G0 + Ginf z] / [1 + z],   z = (i 2 pi f a_T tau)^alpha
///
/// Loss peaks at 2 pi f a_T tau = (Ginf/G0)^(-1/(2 alpha)). Computed as
/// G0 + (Ginf - G0) z / (1 + z) with |z| kept as its logarithm: it never overflows and never
/// gives energy, at any frequency and temperature.
///
/// Source: memory, R. L. Bagley, P. J. Torvik, 1983, and T. Pritz, 1996, for the form; what
/// follows from it is derived in the tests.
class FractionalZener final : public ComplexModulus {
 public:
  /// @throws std::invalid_argument unless 0 < low_pa <= high_pa, time_s > 0, 0 < exponent <= 1, all
  ///         finite, and the shift passes its own check
  explicit FractionalZener(const FractionalZenerParameters& parameters);

  std::complex<double> modulus(double freq_hz, double temp_k) const override;
  bool constant() const noexcept override { return p_.low_pa == p_.high_pa; }

  const FractionalZenerParameters& parameters() const noexcept { return p_; }

 private:
  FractionalZenerParameters p_;
};

}  // namespace calmplate::sheet
