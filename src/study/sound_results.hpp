// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "response/third_octaves.hpp"

/// What woofer, shut-in air and named points give.
namespace calmplate::study {

/// A damped mode of skin, shut-in air and cone together.
struct DoorModeResult {
  double freq_hz = 0.0;
  double loss_factor = 0.0;
  double skin_share = 0.0;  ///< of the kinetic energy, 0 to 1
  double cone_share = 0.0;
  double air_share = 0.0;
  int like = 0;  ///< number (from 1) of the mode in free air whose shape is nearest; 0: none
};

/// Sound of one one-third octave, as the mean over a sweep at the given voltage.
struct SoundBand {
  response::ThirdOctave band;
  double skin_power_db = 0.0;    ///< of the skin's outer face, re 1 pW
  double woofer_power_db = 0.0;  ///< of the cone's front, likewise
  double skin_level_db = 0.0;    ///< at 1 m in front of the skin's middle, re 20 uPa
  double woofer_level_db = 0.0;  ///< at 1 m in front of the cone, as if in a large wall
};

/// Frequencies of a sweep at which something rattles.
struct RattleSpan {
  double low_hz = 0.0, high_hz = 0.0;
  double worst_hz = 0.0;
  double over_db = 0.0;  ///< at the worst
};

/// One point with a limit.
struct RattleResult {
  std::string name;
  double limit_m_s2 = 0.0;
  double sweep_m_s2 = 0.0;  ///< largest peak acceleration of a sine sweep over the band
  double sweep_hz = 0.0;    ///< where
  double pink_m_s2 = 0.0;   ///< peak acceleration in pink noise over the band
  std::vector<RattleSpan> spans;
};

/// Peak over rms of pink noise. Source: common practice, no source: test noise is often clipped at
/// 12 dB.
constexpr double kCrest = 4.0;

/// The woofer in the door without sheet.
struct WooferResult {
  double voltage_v = 0.0;  ///< rms, before the filters
  double nominal_power_w =
      0.0;  ///< into the nominal impedance if given, else the coil's resistance
  double nominal_ohm = 0.0;
  bool band_is_own = false;  ///< the job's band is where the woofer plays
  double xmax_m = 0.0;       ///< 0: not known
  double travel_m = 0.0;     ///< largest peak travel one way over the curve
  double travel_hz = 0.0;
  Eigen::VectorXd travel_curve_m;  ///< [n_freq] peak
  Eigen::VectorXd level_db;        ///< [n_freq] of the cone's front at 1 m, re 20 uPa
  Eigen::VectorXd frame_force_n;   ///< [n_freq] rms force of motor and suspension on the frame
  Eigen::VectorXd skin_force_n;    ///< [n_freq] rms force of the even pressure behind the skin
};

}  // namespace calmplate::study
