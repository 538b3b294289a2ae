// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/third_octaves.hpp"

#include <array>
#include <cmath>
#include <stdexcept>

namespace calmplate::response {

std::vector<ThirdOctave> third_octaves(double low_hz, double high_hz) {
  if (!(low_hz > 0.0) || !(high_hz > low_hz) || !(high_hz <= 20000.0))
    throw std::invalid_argument("third_octaves: 0 < low_hz < high_hz <= 20000 must hold");
  constexpr std::array<double, 10> kNames = {1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0};
  std::vector<ThirdOctave> out;
  for (int n = -30; n <= 13; ++n) {
    const int decade = static_cast<int>(std::floor(n / 10.0));
    ThirdOctave band;
    band.nominal_hz =
        1000.0 * kNames[static_cast<std::size_t>(n - 10 * decade)] * std::pow(10.0, decade);
    band.centre_hz = 1000.0 * std::pow(10.0, n / 10.0);
    band.low_hz = band.centre_hz * std::pow(10.0, -0.05);
    band.high_hz = band.centre_hz * std::pow(10.0, 0.05);
    constexpr double kRounding = 1e-9;
    if (band.nominal_hz >= low_hz * (1.0 - kRounding) &&
        band.nominal_hz <= high_hz * (1.0 + kRounding))
      out.push_back(band);
  }
  return out;
}

}  // namespace calmplate::response
