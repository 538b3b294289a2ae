// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace calmplate::picture {

/// Evenly spaced round numbers.
struct Ticks {
  double step = 1.0;
  std::vector<double> at;  ///< ascending multiples of step
};

/// Multiples of 1, 2 or 5 times a power of ten that enclose [low, high], at most `most` + 2 of
/// them; both ends are ticks.
/// @throws std::invalid_argument if low > high, one is not finite, or most < 1
Ticks round_ticks(double low, double high, int most);

/// Round numbers for a scale of logarithms: 1, 2 and 5 times powers of ten that enclose
/// [low, high], or powers of ten alone where that is more than two decades and a half; both ends
/// are ticks, and there are at least two.
/// @throws std::invalid_argument unless 0 < low <= high, both finite
std::vector<double> log_ticks(double low, double high);

/// Places as near as can be (least squares) to those wanted, in the same order, at least `gap`
/// apart and within [low, high]: labels that do not run into one another. Where there is no room
/// the last ones pass `high`.
/// @param wanted  ascending
std::vector<double> spread(const std::vector<double>& wanted, double gap, double low, double high);

/// A number for a person: `decimals` behind the point, no negative zero; "-" if it is not finite.
std::string number(double value, int decimals);

/// As above with as many decimals as a scale with this step needs.
std::string tick_label(double value, double step);

/// A number with three significant digits, without an exponent between 0.001 and 100000.
std::string three_digits(double value);

/// A number as short as it can be with at most four significant digits: "40", "62.5".
std::string plain_number(double value);

/// The nominal name of the one-third-octave band nearest to the frequency: "31.5", "100", "1250".
/// Source: [memory] ISO 266: mantissas 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8.
std::string third_octave_name(double centre_hz);

/// Exact centre frequencies 10^(n/10) Hz of the one-third octaves in [low_hz, high_hz].
/// Source: [memory] IEC 61260-1, base-ten system.
std::vector<double> third_octave_centres(double low_hz, double high_hz);

}  // namespace calmplate::picture
