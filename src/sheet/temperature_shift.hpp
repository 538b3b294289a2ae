// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace calmplate::sheet {

/// How a material's clock runs with temperature: G*(f, T) = G*(f a_T, T_ref).
///
///   none       log10 a_T = 0
///   wlf        log10 a_T = -C1 (T - Tr) / (C2 + T - Tr)       (Williams, Landel, Ferry)
///   arrhenius  log10 a_T = (Q / R) (1/T - 1/Tr) / ln 10
///
/// The first formula has a pole at T = Tr - C2, deep in the glassy range where it means nothing:
/// below the pole plus min(5 K, C2 / 2) the value there is held. Every value is kept within
/// +-30 decades, so the factor is finite and never rises with temperature, at any T above 0.
///
/// Source: memory, J. D. Ferry, Viscoelastic Properties of Polymers; forms held by tests by hand.
struct TemperatureShift {
  enum class Kind { none, wlf, arrhenius };

  Kind kind = Kind::none;
  double reference_k = 293.15;    ///< Tr, K
  double c1 = 0.0;                ///< WLF, decades
  double c2_k = 0.0;              ///< WLF, K
  double activation_j_mol = 0.0;  ///< Arrhenius, Q, J/mol

  /// @param temp_k  K, above 0, finite
  /// @return        log10 of a_T, from -30 to 30; 0 at the reference temperature
  /// @throws std::invalid_argument if temp_k is out of range
  double log10_factor(double temp_k) const;

  /// @throws std::invalid_argument unless reference_k is above 0 and, for its kind, c1 is at or
  ///         above 0 and c2_k above 0, or activation_j_mol at or above 0; all of them finite
  void check() const;
};

}  // namespace calmplate::sheet
