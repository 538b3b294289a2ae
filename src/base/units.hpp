// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cmath>
#include <limits>

/// Inside the library everything is SI. These are the doors through which other units pass.
namespace calmplate::base {

constexpr double kPi = 3.14159265358979323846;
constexpr double kTwoPi = 2.0 * kPi;

/// Air at 20 degrees C and 1013 hPa. Source: [memory] handbook values, used by physics checks too.
constexpr double kAirDensity = 1.204;  ///< kg/m3
constexpr double kAirSound = 343.2;    ///< m/s

/// Reference for velocity levels: 1 nm/s. Source: [memory] ISO 1683, preferred reference values.
constexpr double kVelocityReference = 1e-9;  ///< m/s

constexpr double from_mm(double mm) { return mm * 1e-3; }
constexpr double to_mm(double m) { return m * 1e3; }
constexpr double from_celsius(double c) { return c + 273.15; }
constexpr double to_celsius(double k) { return k - 273.15; }
constexpr double from_degrees(double deg) { return deg * kPi / 180.0; }

/// Level of a ratio of powers (or squared amplitudes), dB. Minus infinity for zero.
inline double to_db(double power_ratio) {
  return power_ratio > 0.0 ? 10.0 * std::log10(power_ratio)
                           : -std::numeric_limits<double>::infinity();
}

}  // namespace calmplate::base
