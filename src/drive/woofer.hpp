// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "drive/woofer_input.hpp"

namespace calmplate::drive {

/// A whole set of Thiele-Small parameters that agree exactly: of one woofer, or of the single
/// woofer that stands for two in parallel.
struct Woofer {
  double fs_hz = 0.0, qms = 0.0, qes = 0.0, qts = 0.0;
  double re_ohm = 0.0;
  double bl_tm = 0.0;     ///< N/A
  double mms_kg = 0.0;    ///< with the air on the cone
  double cms_m_n = 0.0;   ///< m/N
  double rms_ns_m = 0.0;  ///< suspension alone, without the coil's brake
  double sd_m2 = 0.0;
  double vas_m3 = 0.0;
  std::optional<double> xmax_m;
  std::optional<double> nominal_ohm;
  int count = 1;  ///< how many real ones it stands for
};

/// Suspension, moving mass and the coil's brake as one mass on one spring, for a model that couples
/// it to the air and the skin:
///
///   (-w^2 mass + i w resistance + stiffness) x + sd p = drive e
///
/// x cone displacement and p pressure at its back, both positive where the cone moves into the
/// cavity; e voltage. At a fixed voltage the coil brakes by its own current, so Bl^2/Re is part of
/// the resistance, and the power lost in `resistance` is not the heat alone.
/// Source: [derived] Bl (e - Bl v)/Re on the cone; docs/theory.md "The woofer".
struct MovingPart {
  double mass_kg = 0.0;
  double stiffness_n_m = 0.0;     ///< of the suspension, without the air behind it
  double resistance_ns_m = 0.0;   ///< Rms + Bl^2/Re
  double drive_n_per_volt = 0.0;  ///< Bl/Re
  double sd_m2 = 0.0;
};

/// Air of this volume is as stiff to a cone as its suspension: rho c^2 Sd^2 Cms, m3.
double equivalent_volume(double cms_m_n, double sd_m2);

/// The whole set of one woofer, whatever `count` says, from fs, Re, Sd, two Q values and the first
/// that is given of Mms, Cms, Vas, Bl. What is given beyond is passed over.
/// @throws std::invalid_argument if too little is given
Woofer complete_set(const WooferInput& input);

/// The single woofer that stands for all of `count` on the same voltage, taken to move alike:
/// moving mass, suspension, cone area and nominal power `count` times, coil and nominal impedance
/// divided by it; fs, Q, Bl and Xmax as they are.
/// @throws std::invalid_argument if fault_of(input) finds a fault
Woofer make_woofer(const WooferInput& input);

MovingPart moving_part(const Woofer& woofer);

/// Voltage (rms) before the filters. From power: e^2 = P Z with Z the nominal impedance if given,
/// otherwise Re: the power that a plain resistor of that size would take, not what the moving coil
/// takes.
/// @throws std::invalid_argument if fault_of(amplifier) finds a fault
double amplifier_voltage(const AmplifierInput& amplifier, const Woofer& woofer);

/// Sound power into half space over e^2/Re, far above resonance: rho Bl^2 Sd^2 / (2 pi c Re Mms^2).
double reference_efficiency(const Woofer& woofer);

struct BoxResonance {
  double fc_hz = 0.0;
  double qtc = 0.0;
};

/// In a tight box without loss: fc = fs sqrt(1 + Vas/V), Qtc = Qts fc/fs.
/// @param volume_m3  above 0, finite
/// @throws std::invalid_argument otherwise
BoxResonance box_resonance(const Woofer& woofer, double volume_m3);

}  // namespace calmplate::drive
