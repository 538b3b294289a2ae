// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>

#include "drive/woofer.hpp"

namespace calmplate::drive {

/// Reference of sound pressure levels. Source: [memory] the usual 20 micropascal.
constexpr double kPressureReference = 20e-6;  ///< Pa

/// The air shut in behind the cone, as one spring: the same pressure everywhere. That holds below
/// about a fifth of the first standing wave, some 40 Hz in a door 0.9 m long (derived: 1-D tube).
struct Box {
  double volume_m3 = 0.0;
  double loss_factor = 0.0;    ///< of the air's stiffness, from the lining
  double leak_area_m2 = 0.0;   ///< of all holes together; 0: tight
  double leak_length_m = 0.0;  ///< of the air that moves in them, its ends included
};

/// Length of the air that moves in a round hole of this area through a thin wall: 8 r/(3 pi) on
/// either side, as in front of a rigid disc in a baffle.
/// Source: [derived] that disc's mass is 8 rho r^3/3 a face.
double thin_leak_length(double area_m2);

/// The box of a cavity; nothing if it is not wanted (open at the back).
/// @param skin_area_m2  above 0; needed where the cavity is given by its depth
/// @throws std::invalid_argument if fault_of(cavity) finds a fault or the area is not above 0
std::optional<Box> make_box(const CavityInput& cavity, double skin_area_m2);

/// Steady motion at each frequency. Amplitudes are complex rms values, e^{+i w t}, with the voltage
/// before the filters as the real reference; motion and force count positive into the cavity. The
/// frame's force is that beside a pressure on the whole wall, the cone's place included; where the
/// wall has a hole there, -Sd p comes on top.
struct WooferResponse {
  Eigen::VectorXd freq_hz;            ///< [n_freq]
  Eigen::VectorXcd voltage_v;         ///< [n_freq] on the coil, after the filters
  Eigen::VectorXcd impedance_ohm;     ///< [n_freq] of coil and motion
  Eigen::VectorXcd velocity_m_s;      ///< [n_freq] of the cone, rms
  Eigen::VectorXcd displacement_m;    ///< [n_freq] of the cone, rms; peak is sqrt(2) times it
  Eigen::VectorXcd volume_m3_s;       ///< [n_freq] Sd v of all cones, rms
  Eigen::VectorXcd pressure_pa;       ///< [n_freq] in the box, rms; 0 if open at the back
  Eigen::VectorXcd leak_volume_m3_s;  ///< [n_freq] out of the box through the leak, rms
  Eigen::VectorXcd frame_force_n;     ///< [n_freq] on the frame, rms: -Mms a, see below
  Eigen::VectorXd power_in_w;         ///< [n_freq] electrical, into the coil
  Eigen::VectorXd coil_loss_w;        ///< [n_freq] heat in the coil
  Eigen::VectorXd suspension_loss_w;  ///< [n_freq] heat in the suspension, Rms |v|^2
  Eigen::VectorXd box_loss_w;         ///< [n_freq] heat in the box's lining
  Eigen::VectorXd level_db;    ///< [n_freq] of the cone's front at 1 m, half space, re 20 uPa
  Eigen::VectorXd radiated_w;  ///< [n_freq] sound power of the cone's front into half space
};

/// The woofer in a box or, without one, in an infinite baffle:
///
///   v = (Bl e/Re) / (Rms + Bl^2/Re + i w Mms + 1/(i w Cms) + Sd^2/Y),
///   Y = i w V/(rho c^2 (1 + i eta)) + A/(i w rho l)
///
/// Power in = coil + suspension + box. The sound sent out is not taken off the motion: it is at
/// most a percent or so. Left out: the coil's inductance (wrong above a few hundred hertz), the
/// cone's break-up, directivity, heating and travel limits; the frame stands still. The front
/// radiates as a small source (monopole) in a large wall; the leak's sound is not in the level.
///
/// @param voltage_v  rms before the filters, at or above 0, finite
/// @param freq_hz    [n_freq] Hz, above 0, finite
/// @throws std::invalid_argument if an argument is out of range or fault_of(filter) finds a fault
/// Source: [derived] docs/theory.md "The woofer".
WooferResponse woofer_response(const Woofer& woofer,
                               double voltage_v,
                               const FilterInput& filter,
                               const std::optional<Box>& box,
                               const Eigen::VectorXd& freq_hz);

/// The largest travel over the frequencies of a response, each as a steady sine.
struct Travel {
  double peak_m = 0.0;            ///< one way, sqrt(2) times rms
  double at_hz = 0.0;             ///< the first frequency at which it is reached
  std::optional<double> of_xmax;  ///< peak_m / Xmax, if Xmax is known: above 1 is too far
};
/// @throws std::invalid_argument if the response has no frequency
Travel largest_travel(const WooferResponse& response, const Woofer& woofer);

/// Where a woofer plays: within `below_db` of the peak of its own level at 1 m after the filters.
struct WooferBand {
  double low_hz = 0.0, high_hz = 0.0;
  double peak_hz = 0.0;
  bool open_low = false;   ///< it reaches the lower end of the search; low_hz is that end
  bool open_high = false;  ///< likewise at the upper end, as without a low-pass
};

struct BandSearch {
  double low_hz = 10.0;
  double high_hz = 500.0;  ///< above, the coil's inductance and directivity count
  double below_db = 10.0;  ///< above 0
};

/// The lowest and the highest frequency at which the level is within `below_db` of its peak; a
/// notch between them, as a leak makes, does not split the band. The ends are found to 1e-9 of
/// themselves.
/// @throws std::invalid_argument if the search is empty or not finite, or as woofer_response
WooferBand woofer_band(const Woofer& woofer,
                       const FilterInput& filter,
                       const std::optional<Box>& box,
                       const BandSearch& search = {});

}  // namespace calmplate::drive
