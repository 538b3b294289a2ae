// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "sheet/sheet.hpp"

namespace calmplate::sheet {

/// A coated bar against the bare one, at one bending wavelength.
struct CoatedBar {
  double freq_hz = 0.0;      ///< the coated bar's own frequency, Hz
  double freq_ratio = 0.0;   ///< over the bare bar's frequency at the same wavelength, no unit
  double loss_factor = 0.0;  ///< composite, the bar's own included, no unit
};

/// Composite loss factor of a long bar covered from end to end with one sheet, in a sinusoidal
/// bending wave: what a datasheet's bar test reports.
///
///   constrained  section of Ross, Kerwin and Ungar with the core's own extension, core E = 3 G*;
///                laid on both faces, the neutral plane stays in the bar's middle
///   free layer   bonded layers about their common neutral plane (Oberst), complex
///   mass         mass alone
///
/// The wavenumber p follows from p^4 = w^2 m / Re(EI), found by iteration, with m the mass per area
/// of bar and sheet and EI per unit width. A bar's frequency is sqrt(Re w^2) / 2 pi, as everywhere.
/// Holds for cover over many wavelengths, not for a small patch.
///
/// @param bar              elastic; its own loss factor counts
/// @param bar_thickness_m  m, above 0
/// @param freq_hz          frequency of the coated bar, Hz, above 0
/// @param temp_k           K, above 0
/// @param both_sides       the same sheet on both faces
/// @throws std::invalid_argument if a number is out of range or the sheet lacks a modulus that its
///         kind needs
///
/// Source: memory for the section (form as in A. D. Nashif, D. I. G. Jones, J. P. Henderson,
/// Vibration Damping, 1985); held by an energy minimum and by finite elements in the tests.
CoatedBar coated_bar(const Sheet& sheet,
                     const Material& bar,
                     double bar_thickness_m,
                     double freq_hz,
                     double temp_k,
                     bool both_sides = false);

}  // namespace calmplate::sheet
