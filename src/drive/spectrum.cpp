// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/spectrum.hpp"

#include <cmath>
#include <stdexcept>

#include "base/units.hpp"
#include "drive/filters.hpp"

namespace calmplate::drive {
namespace {

double tap_transform(double impulse_ns, double contact_s, double freq_hz) {
  const double x = base::kPi * freq_hz * contact_s;  // w T / 2
  const double h = base::kPi / 2.0;
  const double gap = h - x;
  // Near w T = pi both cos and the denominator vanish: cos x = sin(gap).
  const double ratio = std::abs(gap) < 1e-6 ? 1.0 - gap * gap / 6.0 : std::sin(gap) / gap;
  return impulse_ns * h * h * ratio / (h + x);
}

}  // namespace

double strength(const DriveInput& drive, double freq_hz) {
  if (!(freq_hz >= 0.0) || !std::isfinite(freq_hz))
    throw std::invalid_argument("strength: freq_hz must be finite and at or above 0");
  double amplitude = drive.force_n;
  if (drive.kind == Kind::woofer)
    amplitude =
        drive.voltage_v * drive.drive_n_per_volt * std::abs(filter_response(drive.filter, freq_hz));
  if (drive.kind == Kind::pressure) amplitude = drive.pressure_pa;
  if (drive.kind == Kind::tap)
    amplitude = tap_transform(drive.impulse_ns, drive.contact_s, freq_hz);
  return amplitude * amplitude;
}

}  // namespace calmplate::drive
