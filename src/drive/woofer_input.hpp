// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>

/// What a job says of the woofer, its amplifier, its filters and the air behind it. SI units.
namespace calmplate::drive {

/// What carries the woofer's frame. On the inner panel its reaction does not reach the skin.
enum class Mounting { inner_panel, skin };

/// A woofer by its Thiele-Small parameters, as far as a datasheet gives them.
/// Needed: fs, Re, Sd; two of Qms, Qes, Qts; one of Mms, Cms, Vas, Bl. What is given beyond that
/// must agree within kWooferTolerance.
struct WooferInput {
  double fs_hz = 0.0;                   ///< resonance in free air
  double re_ohm = 0.0;                  ///< resistance of the voice coil to direct current
  double sd_m2 = 0.0;                   ///< area of the cone
  std::optional<double> qms, qes, qts;  ///< mechanical, electrical and total Q at fs
  std::optional<double> mms_kg;         ///< moving mass with the air on the cone
  std::optional<double> cms_m_n;        ///< compliance of the suspension, m/N
  std::optional<double> vas_m3;         ///< air as compliant as the suspension
  std::optional<double> bl_tm;          ///< force factor, T m = N/A
  std::optional<double> rms_ns_m;       ///< mechanical resistance, N s/m = kg/s
  std::optional<double> xmax_m;         ///< largest travel one way, peak
  std::optional<double> nominal_ohm;    ///< impedance on the label; only to turn power into voltage
  int count = 1;                        ///< 1 or 2 alike, in parallel, moving alike

  Mounting mounting = Mounting::inner_panel;
  Eigen::Vector2d ring_centre = Eigen::Vector2d::Zero();  ///< skin: on the flat map, m
  double ring_diameter_m = 0.0;                           ///< skin: of the circle of screws
  double frame_mass_kg = 0.0;                             ///< skin: frame and magnet, without cone
  std::optional<Eigen::Vector2d> cone_centre;  ///< where it faces the cavity, on the flat map, m
};

/// Places evenly along the circle of screws, at which the skin carries the frame: its motion there
/// is the mean over them. Only for a woofer on the skin. [24 x 2] m on the flat map
Eigen::Matrix<double, 24, 2> ring_points(const WooferInput& woofer);

constexpr double kWooferTolerance = 0.05;  ///< Source: [practice] spread of datasheet figures

/// Exactly one of the two. Power is the nominal one of all woofers together, into the impedance of
/// the label if that is given, otherwise into the resistance of the coils.
struct AmplifierInput {
  std::optional<double> voltage_v;  ///< rms
  std::optional<double> power_w;
};

enum class FilterType { butterworth, linkwitz_riley };

/// One side of the band. Linkwitz-Riley has order 1 (there the same as Butterworth), 2, 4 or 8.
struct FilterSlope {
  double freq_hz = 0.0;  ///< corner: -3 dB (Butterworth) or -6 dB (Linkwitz-Riley of order 2 to 8)
  int order = 2;         ///< 1 to 8: 6 dB an octave for each
  FilterType type = FilterType::butterworth;
};

/// Filters before the amplifier.
struct FilterInput {
  std::optional<FilterSlope> high_pass;  ///< takes the lows off
  std::optional<FilterSlope> low_pass;   ///< takes the highs off
};

/// The air between the skin and the inner panel.
struct CavityInput {
  bool wanted = false;              ///< false: open at the back
  std::optional<double> volume_m3;  ///< this or the depth, not both
  std::optional<double> depth_m;    ///< mean distance from the skin to the inner panel
  /// Depth at the lowest and the highest point of the skin, straight in between; both or neither.
  std::optional<double> depth_bottom_m, depth_top_m;
  double leak_area_m2 = 0.0;                   ///< all holes together; 0: tight
  std::optional<Eigen::Vector2d> leak_centre;  ///< on the flat map, m; else the middle of the skin
  std::optional<double> leak_length_m;         ///< of the air that moves in them, ends included
  double lining_loss_factor = 0.0;             ///< of the air's stiffness
};

/// Why an input cannot be used.
struct Fault {
  std::string key;      ///< as the job file calls it, unit and all: "Vas_l"
  std::string problem;  ///< "is 20 l, but Cms_mm_per_N and Sd_cm2 make it 10.03 l"
  std::string allowed;  ///< "9.526 to 10.53 l, or another Cms_mm_per_N or Sd_cm2"
};

/// The first thing that is wrong, or nothing: a value that is not finite or not above 0, Qts above
/// Qms or Qes, too little given, figures that contradict each other.
std::optional<Fault> fault_of(const WooferInput& woofer);
/// A corner not above 0, an order that the type does not have, a high-pass at or above the
/// low-pass.
std::optional<Fault> fault_of(const FilterInput& filter);
/// Wanted with neither volume nor depth or with both; a volume, depth or length of 0; negatives; a
/// leak's length or place without an area.
std::optional<Fault> fault_of(const CavityInput& cavity);
/// Neither voltage nor power, or both; a value that is not finite or not above 0.
std::optional<Fault> fault_of(const AmplifierInput& amplifier);

}  // namespace calmplate::drive
