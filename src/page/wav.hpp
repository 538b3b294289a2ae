// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace calmplate::page {

/// A WAV file of one channel, 16 bit.
/// @param samples  -1 to 1; values beyond are held at the ends
/// @throws std::runtime_error if the sound library cannot write it
std::string wav_bytes(const std::vector<double>& samples, int sample_rate_hz);

}  // namespace calmplate::page
