// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "drive/woofer_input.hpp"

namespace calmplate::drive {

enum class Kind {
  force,     ///< a steady force out of the skin at one point, same amplitude at every frequency
  pressure,  ///< a pressure, the same everywhere on the skin and at every frequency
  tap,       ///< one knock at a point: a half-sine force pulse
  woofer     ///< a woofer on its amplifier, behind its filters
};

/// What shakes the skin.
struct DriveInput {
  Kind kind = Kind::force;
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< force and tap: place on the flat map, m
  double force_n = 1.0;                          ///< force: rms amplitude, N
  double pressure_pa = 1.0;                      ///< pressure: rms amplitude, Pa
  double impulse_ns = 0.02;                      ///< tap: area under the pulse, N s
  double contact_s = 0.004;                      ///< tap: length of the half-sine pulse, s
  double voltage_v = 0.0;                        ///< woofer: rms before the filters, V
  double drive_n_per_volt = 0.0;                 ///< woofer: force of the motor at rest, Bl/Re
  FilterInput filter;                            ///< woofer: before the amplifier
};

/// The frequencies that count.
struct BandInput {
  double low_hz = 40.0;
  double high_hz = 250.0;
  double step_hz = 0.5;  ///< of the drawn curves only; band levels do not depend on it
};

}  // namespace calmplate::drive
