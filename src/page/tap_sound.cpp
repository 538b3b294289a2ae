// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/tap_sound.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::page {
namespace {

/// From 0 to 1 over a length, along half a cosine.
double half_cosine(double t_s, double length_s) {
  return t_s >= length_s ? 1.0 : 0.5 - 0.5 * std::cos(base::kPi * t_s / length_s);
}

}  // namespace

std::vector<double> tap_pressure(const std::vector<Tone>& tones) {
  const auto count = static_cast<std::size_t>(std::lround(kSoundLength_s * kSampleRate_hz));
  std::vector<double> out(count, 0.0);
  for (const Tone& tone : tones) {
    if (tone.freq_hz >= 0.5 * kSampleRate_hz) continue;
    for (std::size_t i = 0; i < count; ++i) {
      const double t = static_cast<double>(i) / kSampleRate_hz;
      out[i] += tone.amplitude_pa * std::exp(-tone.decay_per_s * t) *
                std::cos(base::kTwoPi * tone.freq_hz * t + tone.phase_rad);
    }
  }
  for (std::size_t i = 0; i < count; ++i) {
    const double t = static_cast<double>(i) / kSampleRate_hz;
    const double left = static_cast<double>(count - 1 - i) / kSampleRate_hz;
    out[i] *= half_cosine(t, kSoundRise_s) * half_cosine(left, kSoundFall_s);
  }
  return out;
}

double common_gain(const std::vector<std::vector<double>>& pressures) {
  double largest = 0.0;
  for (const auto& pressure : pressures)
    for (const double p : pressure) largest = std::max(largest, std::abs(p));
  return largest > 0.0 && std::isfinite(largest) ? kLoudest / largest : 0.0;
}

}  // namespace calmplate::page
