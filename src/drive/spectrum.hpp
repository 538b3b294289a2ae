// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "drive/drive_input.hpp"

namespace calmplate::drive {

/// Strength of the drive over frequency, relative to a unit load (1 N at the point or
/// in the motor, or 1 Pa).
///
/// Force and pressure: the squared rms amplitude, the same at every frequency: N2 or Pa2.
/// Tap: the squared magnitude of the half-sine pulse's Fourier transform, N2 s2, with
///
///   F(w) = J (pi/2)^2 / ((pi/2)^2 - (w T/2)^2) cos(w T/2),   J impulse, T contact time
///
/// which is J at low frequency and J pi/4 at w T = pi.
///
/// Woofer: the squared rms force of its motor after the filters, N2.
///
/// @param freq_hz  Hz, at or above 0
/// @throws std::invalid_argument if freq_hz is below 0 or not finite
/// Source: [derived] integral of (pi J / 2T) sin(pi t / T) exp(-i w t) over 0 to T.
double strength(const DriveInput& drive, double freq_hz);

}  // namespace calmplate::drive
