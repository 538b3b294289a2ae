// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace calmplate::testing {

struct Sound {
  int rate_hz = 0;
  int channels = 0;
  bool sixteen_bit = false;
  std::vector<double> samples;  ///< -1 to 1
};

/// A sound file's bytes read back by the sound library. Without samples if it is none.
Sound read_sound(const std::string& bytes);

/// One ringing tone found in a sound.
struct Ring {
  double freq_hz = 0.0;
  double decay_per_s = 0.0;
};

/// The tones of a sum of ringing tones, by the matrix pencil: the poles of the shift between two
/// Hankel matrices of the samples, on the singular vectors above the noise of 16 bits.
/// @param from_s,to_s  part of the sound that is looked at
/// @param top_hz       no tone lies above
/// Source: [memory] Hua and Sarkar's matrix pencil for damped sinusoids.
std::vector<Ring> rings_of(const Sound& sound, double from_s, double to_s, double top_hz);

/// The ring nearest in frequency; one of 0 Hz if there is none.
Ring nearest_ring(const std::vector<Ring>& rings, double freq_hz);

/// Bytes behind base 64; other letters are passed over.
std::string from_base64(const std::string& text);

}  // namespace calmplate::testing
