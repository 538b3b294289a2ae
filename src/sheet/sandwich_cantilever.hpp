// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <complex>

namespace calmplate::sheet {

/// A clamped-free bar under a soft core and a foil (or a second bar) from end to end: bending of
/// both faces, shear of the core, nothing else. Exact solution of the sixth-order beam, so it knows
/// what a sine wave does not: how the core's shear dies away at the clamp and at the tip.
///
///   w'''' - Y g (s + w')' = W w,   s'' = g (s + w')
///
/// with s the foil's slip over the lever d, lengths in the bar's length L and
///
///   K = E H of a face,  1/Keq = 1/K1 + 1/K3,  Dt = (E1 H1^3 + E3 H3^3) / 12,  d = H2 + (H1 + H3)/2
///   Y = d^2 Keq / Dt,   g = G* L^2 / (H2 Keq),   W = m omega*^2 L^4 / Dt
///
/// Clamp: w = w' = 0 and s = 0 (foil held) or s' = 0 (foil cut off at the clamp).
/// Tip: w'' = s' = 0, w''' = Y g (s + w').
///
/// Source: derived from the energy Dt w''^2 + Keq d^2 s'^2 + G d^2 / H2 (s + w')^2; equation as of
/// R. A. DiTaranto, 1965, and D. J. Mead and S. Markus, 1969 (names from memory). Held by Ritz
/// series on record and by finite elements in the tests.
class SandwichCantilever {
 public:
  /// @param geometry   Y, above 0
  /// @param mode       1 for the lowest bending mode, and up
  /// @param foil_held  the foil is clamped with the bar
  /// @throws std::invalid_argument if geometry or mode is out of range
  SandwichCantilever(double geometry, int mode, bool foil_held);

  /// W of the mode. @param shear  g, real part above 0
  /// @return NaN if no root is found that belongs to the mode
  std::complex<double> frequency(std::complex<double> shear) const;

  /// g from W, the inverse. @param near  g to start from, such as that of a long bar
  /// @return NaN if there is none: no core makes a bar of such a frequency and loss
  std::complex<double> shear(std::complex<double> frequency, std::complex<double> near) const;

  /// W of a long bar at the mode's wavenumber, l^4 [1 + Y g / (g + l^2)].
  std::complex<double> long_bar_frequency(std::complex<double> shear) const;
  /// Its inverse.
  std::complex<double> long_bar_shear(std::complex<double> frequency) const;

 private:
  std::complex<double> determinant(std::complex<double> shear,
                                   std::complex<double> frequency) const;

  double geometry_;
  double wavenumber_;  // of the bare bar over its length, no unit
  bool foil_held_;
};

/// l of a bare clamped-free bar, cos l cosh l = -1, so that
/// f = l^2 / (2 pi L^2) sqrt(E H^2 / 12 rho).
/// @param mode  1 and up @throws std::invalid_argument if it is not
double cantilever_wavenumber(int mode);

}  // namespace calmplate::sheet
