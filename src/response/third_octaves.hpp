// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

namespace calmplate::response {

/// One one-third-octave band of the base-ten series.
struct ThirdOctave {
  double nominal_hz = 0.0;  ///< the name: 63, 80, 100 ...
  double centre_hz = 0.0;   ///< exact: 1000 * 10^(n/10)
  double low_hz = 0.0;      ///< centre / 10^(1/20)
  double high_hz = 0.0;
};

/// The bands whose nominal frequency lies in [low_hz, high_hz], ascending.
/// @throws std::invalid_argument unless 0 < low_hz < high_hz, both finite and at most 20 kHz
/// Source: [memory] IEC 61260-1, base-ten system; edges [derived] from the definition.
std::vector<ThirdOctave> third_octaves(double low_hz, double high_hz);

}  // namespace calmplate::response
