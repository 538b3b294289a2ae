// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "page/results.hpp"

namespace calmplate::page {

constexpr int kSampleRate_hz = 11025;  ///< far above twice the highest tone of a door
constexpr double kSoundLength_s = 1.6;
constexpr double kSoundRise_s = 0.004;  ///< the pulse lasts as long: the tones hold after it
constexpr double kSoundFall_s =
    0.030;  ///< at the end, so that a tone that still rings does not click

/// Sound pressure of a tap, Pa, sample by sample from its arrival on:
///
///   p(t) = rise(t) fall(t) sum amplitude exp(-decay t) cos(2 pi f t + phase)
///
/// with rise and fall half-cosines over kSoundRise_s and kSoundFall_s. Tones above half the sample
/// rate are left out. Source: [derived] the tones are those of results.json.
std::vector<double> tap_pressure(const std::vector<Tone>& tones);

/// The one factor by which all pressures are multiplied, so that the loudest sample of all reaches
/// kLoudest of full scale and the sounds can be compared; 0 if all is silence.
constexpr double kLoudest = 0.9;
double common_gain(const std::vector<std::vector<double>>& pressures);

}  // namespace calmplate::page
