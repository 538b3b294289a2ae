// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <complex>
#include <string>
#include <vector>

#include "sheet/sheet.hpp"

namespace calmplate::sheet {

enum class BarKind {
  free_one_side,        ///< Oberst's bar: the layer's Young's modulus is looked for
  free_both_sides,      ///< the same layer on both faces; Young's modulus
  sandwich,             ///< core between two equal bars; the core's shear modulus is looked for
  constrained_one_side  ///< core and foil on one face; shear modulus
};

enum class BarEnds {
  long_bar,   ///< many half waves, or ends that are not known: taken as a sine wave all along
  cantilever  ///< clamped at one end, free at the other
};

/// What was tested, and how. SI units; what does not exist is 0.
struct BarTest {
  std::string name;  ///< of the sheet to derive
  BarKind kind = BarKind::constrained_one_side;
  BarEnds ends = BarEnds::long_bar;
  Material bar;                  ///< of one bar; its own loss is left out
  double bar_thickness_m = 0.0;  ///< of one bar
  double free_length_m = 0.0;    ///< outside the clamp; 0: not given
  double layer_thickness_m = 0.0;
  double layer_density = 0.0;     ///< kg/m3
  double layer_poisson = 0.3;     ///< free layer only, for the sheet that comes out
  double foil_thickness_m = 0.0;  ///< constrained_one_side; for a sandwich that of the sheet
  Material foil;
  bool foil_held = false;  ///< cantilever: the foil is clamped with the bar

  bool shear() const noexcept {
    return kind == BarKind::sandwich || kind == BarKind::constrained_one_side;
  }
};

/// One reading of the coated bar.
struct BarTestRow {
  double temp_k = 0.0;
  double freq_hz = 0.0;      ///< of the coated bar
  double loss_factor = 0.0;  ///< composite, above 0
  double freq_ratio = 0.0;   ///< coated over bare in the same mode; 0: not known
  int mode = 0;              ///< of a cantilever, from 1; 0: not known
};

/// What coated bar a modulus makes.
struct BarAnswer {
  double freq_ratio = 0.0;   ///< coated over bare at the same wavelength or mode
  double loss_factor = 0.0;  ///< composite
};

/// Forward: exact cantilever where kind shears, ends are cantilever and mode and length are known,
/// else coated_bar().
/// @param modulus  Pa, shear or Young's as the kind says; real part above 0, imaginary part >= 0
/// @return NaN in both if no bar of this kind has such a mode
/// @throws std::invalid_argument if the test or the row is out of range
BarAnswer bar_answer(const BarTest& test, const BarTestRow& row, std::complex<double> modulus);

/// Frequency of the bare cantilever, l_n^2 / (2 pi L^2) sqrt(E H^2 / 12 rho), Hz.
/// @throws std::invalid_argument if the length is not given or mode is below 1
double bare_cantilever_hz(const BarTest& test, int mode);

/// The inverse equations of the standard test (ASTM E756), small-loss form for one free layer.
/// With T = layer over bar thickness, D = layer over bar density, M = E1 / E, e the composite loss:
///
///   one side    a = (fc/fn)^2 (1 + D T),  b = 4 + 6T + 4T^2,
///               E1 = E / (2 T^3) [(a - b) + sqrt((a - b)^2 - 4 T^2 (1 - a))],
///               loss = e (1 + MT)(1 + 4MT + 6MT^2 + 4MT^3 + M^2T^4)
///                      / [MT (3 + 6T + 4T^2 + 2MT^3 + M^2T^4)]
///   both sides  E1 = E [(fc/fn)^2 (1 + 2DT) - 1] / q,  q = 8T^3 + 12T^2 + 6T,
///               loss = e [1 + E / (E1 q)]
///   sandwich    A = (fc/fn)^2 (2 + DT) B / 2,  B = 1 / [6 (1 + T)^2],  z = A (1 + i e) - B,
///               G1* = z / (1 - 2z) k^2 E H H1
///
/// and for core and foil on one side the same derivation with unequal faces. k is the bare bar's
/// wavenumber at fn. Real and imaginary part may come out at or below 0: then no material does it.
///
/// Source: memory for the standard's formulas (its scope and title were read, the equations were
/// not); all are derived from bonded layers and from a core in shear, and proven by round trips.
///
/// @param freq_ratio  above 0
/// @return Pa
std::complex<double> standard_inverse(const BarTest& test,
                                      const BarTestRow& row,
                                      double freq_ratio);

/// Why a row's answer is to be read with care. In the order in which they are told.
enum class RowFlag {
  no_ratio,            ///< no frequency ratio: one number cannot give two; left to the fit
  ratio_computed,      ///< ratio from the bare bar's computed frequency
  bare_frequency_off,  ///< bare frequency more than 3 % off the bar's own
  first_mode,          ///< a cantilever's first mode, which the standard leaves out
  taken_as_long,       ///< a core in shear on a cantilever of unknown mode
  outside_scope,       ///< frequency outside the standard's 50 to 5000 Hz
  layer_too_weak,      ///< (fc/fn)^2 (1 + DT) below 1.01: the layer hardly stiffens the bar
  core_too_soft,       ///< the shear hardly stiffens the bar
  core_too_stiff,      ///< the bar is as stiff as it can get: the denominator nears 0
  large_loss,          ///< small-loss form 1 % off or more, or composite loss above 0.3
  sensitive,           ///< 1 % in the ratio or 5 % in the loss changes the answer by over 20 %
  no_material          ///< no material gives these readings
};

struct RowResult {
  bool determined = false;        ///< modulus_pa and loss_factor are there
  double freq_ratio = 0.0;        ///< as used; 0: none
  double modulus_pa = 0.0;        ///< NaN if not determined
  double loss_factor = 0.0;       ///< of the material; NaN if not determined
  std::complex<double> standard;  ///< standard_inverse, Pa; NaN without a ratio
  /// Largest relative change of modulus and of loss factor for 1 % more or less in the frequency
  /// ratio and for 5 % in the composite loss; infinite where there is no answer any more.
  double modulus_by_ratio = 0.0, modulus_by_loss = 0.0;
  double loss_by_ratio = 0.0, loss_by_loss = 0.0;
  std::vector<RowFlag> flags;

  bool has(RowFlag flag) const;
};

/// Modulus and loss factor from one row by itself: the inverse of bar_answer(). For free layers the
/// standard's equation with a complex modulus, which holds at any loss.
/// @throws std::invalid_argument if the test or the row is out of range
RowResult invert_row(const BarTest& test, const BarTestRow& row);

}  // namespace calmplate::sheet
