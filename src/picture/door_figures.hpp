// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "picture/json_reader.hpp"

namespace calmplate::picture {

/// What results.json says of the woofer, the air behind the skin and the points that may rattle.
/// Levels and figures that the file gives as null are NaN.

/// Sound of one one-third octave.
struct SoundBand {
  double nominal_hz = 0.0;
  double skin_power_db = 0.0;    ///< re 1 pW
  double woofer_power_db = 0.0;  ///< re 1 pW
  double skin_under_db = 0.0;    ///< below 0: the skin lies over the woofer
};

/// Frequencies of a sweep at which something rattles.
struct RattleSpan {
  double low_hz = 0.0;
  double high_hz = 0.0;
  double over_db = 0.0;  ///< over the limit at the worst
};

/// A named point with a limit.
struct Rattle {
  std::string name;
  double limit_m_s2 = 0.0;
  double sweep_m_s2 = 0.0;  ///< largest peak acceleration of a sine sweep over the band
  double sweep_hz = 0.0;
  double sweep_margin_db = 0.0;
  double noise_margin_db = 0.0;
  double crest = 0.0;  ///< of the noise: peak over rms
  std::vector<RattleSpan> spans;
};

/// A mode of skin, shut-in air and cone together. The shares of the kinetic energy sum to 1.
struct DoorMode {
  double freq_hz = 0.0;
  double loss_factor = 0.0;
  double skin_share = 0.0;
  double cone_share = 0.0;
  double air_share = 0.0;
  std::size_t like = 0;  ///< number from 1 of the mode in free air with the nearest shape; 0: none
};

/// How the woofer plays in the bare door. Curves are [n_freq].
struct WooferPlay {
  double voltage_v = 0.0;
  double nominal_power_w = 0.0;
  double nominal_ohm = 0.0;
  bool band_is_own = false;       ///< the band is where the woofer plays
  std::optional<double> xmax_mm;  ///< none: not known
  double travel_mm = 0.0;         ///< largest peak travel one way
  double travel_hz = 0.0;
  std::string sentence;
  std::vector<double> travel_curve_mm;
  std::vector<double> level_db;
  std::vector<double> frame_force_n;
  std::vector<double> skin_force_n;
};

std::vector<SoundBand> read_sound(const JsonReader& json);
/// @param modes_in_air  number of the layout's modes in free air
std::vector<DoorMode> read_door_modes(const JsonReader& json, std::size_t modes_in_air);
std::vector<Rattle> read_rattles(const JsonReader& json);
/// @param n_freq  number of frequencies of the curves
WooferPlay read_woofer(const JsonReader& json, std::size_t n_freq);

/// One number a frequency.
std::vector<double> read_curve(const JsonReader& json, std::size_t n_freq);

}  // namespace calmplate::picture
