// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "panel/cover.hpp"
#include "placement/benefit_map.hpp"
#include "response/third_octaves.hpp"
#include "sheet/sheet.hpp"

namespace calmplate::study {

/// One damped mode of a layout, with air if the job has it.
struct ModeResult {
  double freq_hz = 0.0;
  double loss_factor = 0.0;
  double loss_factor_energy = 0.0;  ///< by modal strain energy: a diagnostic
  double bending_share = 0.0;       ///< of the skin's strain energy, 0 to 1
  double ring_time_s = 0.0;         ///< infinite for a mode without loss
};

struct BandResult {
  response::ThirdOctave band;
  double level_db = 0.0;
};

struct PieceResult {
  int number = 0;                   ///< from 1, in the order of the job
  std::vector<std::string> sheets;  ///< from the skin outwards
  bool outer_face = false;
  std::vector<panel::Polygon> outlines;  ///< m on the flat map
  double area_m2 = 0.0;
  double mass_kg = 0.0;
};

struct ListenResult {
  std::string name;
  double level_db = 0.0;  ///< normal velocity there over the band, as the band level
};

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

/// A layout's answer at one temperature of the sweep.
struct TemperatureResult {
  double temp_k = 0.0;
  double band_level_db = 0.0;
};

/// What still sounds most: the damped mode at whose frequency the skin answers most.
struct LoudestMode {
  double freq_hz = 0.0;
  double level_db = 0.0;                         ///< of the curve there
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< where the skin moves most, m on the flat map
};

/// All that is known of one layout.
struct LayoutResult {
  std::string name;
  std::vector<PieceResult> pieces;
  double area_m2 = 0.0;
  double share = 0.0;             ///< of the skin's area; above 1 only if both faces are covered
  double mass_kg = 0.0;           ///< of the sheet
  double cost = 0.0;              ///< by area, without offcuts; 0 if no price is given
  std::vector<ModeResult> modes;  ///< up to the top of the band, at least those below it
  double band_level_db = 0.0;
  std::vector<BandResult> third_octaves;
  std::vector<ListenResult> listen;
  std::optional<LoudestMode> loudest;
  std::vector<DoorModeResult> door_modes;  ///< with cavity or woofer only
  std::vector<SoundBand> sound;            ///< with a woofer only
  Eigen::VectorXd skin_level_db;           ///< [n_freq] at 1 m, with a woofer only
  std::vector<RattleResult> rattles;
  std::vector<TemperatureResult> temperatures;  ///< empty without a sweep
  Eigen::VectorXd curve_db;                     ///< [n_freq]
  Eigen::MatrixXd mode_shapes;  ///< [n_node x n_drawn] normal displacement, largest value 1
  Eigen::VectorXd cover;        ///< [n_tri] covered share, 0 to 1
  Eigen::VectorXd working;      ///< [n_tri] W/m2 (tap: J/m2); empty for the bare panel
  int full_size = 0;            ///< degrees of freedom of the full model
  int basis_size = 0;           ///< of the reduced one
  bool modes_complete = true;   ///< the count of modes agrees with the inertia count
  double worst_residual = 0.0;  ///< of the undamped modes
};

/// One sheet laid in the places of one layout.
struct SheetResult {
  std::string name;
  sheet::Kind kind = sheet::Kind::constrained;
  double mass_kg = 0.0;
  double cost = 0.0;                 ///< by area; 0 if no price is given
  std::vector<double> reduction_db;  ///< one a temperature, against the bare panel
};

/// Sheets side by side on the same places.
struct SheetComparison {
  std::string layout;
  std::vector<double> temperatures_k;
  double tell_apart_db = 1.0;  ///< closer than this two sheets cannot be told apart
  std::vector<SheetResult> sheets;
  std::string sentence;  ///< which sheet wins at which temperature
};

/// How the pieces of a placed layout were found.
struct PlaceResult {
  std::string layout;
  double gain_db = 0.0;  ///< on the quick model; the record is the layout's own reduction
  int places = 0;        ///< that were free
  int screened = 0, solved = 0;
  bool stopped = false;  ///< on request, with the best so far
};

struct CoveragePoint {
  int pieces = 0;
  double share = 0.0;
  double mass_kg = 0.0;
  double cost = 0.0;
  double reduction_db = 0.0;
};

/// Benefit against coverage, each point a layout on the model of record.
struct CoverageCurve {
  std::string layout;                 ///< whose pieces were laid one after the other
  std::vector<CoveragePoint> points;  ///< nothing first, a full cover last if there is one
  int knee = 0;
  std::string sentence;
};

struct LowHigh {
  double low = 0.0, high = 0.0;
};

/// What the unknowns leave open of one layout.
struct LayoutRange {
  std::string name;
  LowHigh reduction_db;
  LowHigh first_hz, first_loss;  ///< of the lowest mode
};

struct UnknownsResult {
  std::vector<std::string> ranges;  ///< what was varied, in words
  int samples = 0;
  int solves = 0;              ///< full eigen-solves that it took
  int degrees_of_freedom = 0;  ///< of the bare panel in each
  std::vector<LayoutRange> layouts;
  std::string sentence;  ///< whether the order of the layouts holds
};

/// A figure at three element sizes, coarse to fine, and its limit.
struct Extrapolated {
  std::array<double, 3> value{};
  double limit = 0.0;
};

struct ConvergenceResult {
  std::array<double, 3> element_m{};
  std::vector<Extrapolated> bare_hz;       ///< lowest modes of the bare panel
  std::vector<std::string> layouts;        ///< names
  std::vector<Extrapolated> reduction_db;  ///< one a layout
  double worst_hz_error = 0.0;             ///< of the finest size against the limit, relative
  double worst_db_error = 0.0;             ///< likewise, dB
};

struct Results {
  std::vector<LayoutResult> layouts;  ///< bare first, then as in the job
  Eigen::VectorXd freq_hz;            ///< [n_freq] of the curves
  std::optional<placement::BenefitMap> map;
  std::string map_sheet;
  std::optional<SheetComparison> comparison;
  std::vector<PlaceResult> places;
  std::optional<CoverageCurve> curve;
  std::optional<UnknownsResult> unknowns;
  std::optional<ConvergenceResult> convergence;
  std::optional<WooferResult> woofer;
  std::string answer;              ///< one paragraph in plain words
  std::vector<std::string> notes;  ///< what the reader should know, one sentence each
};

}  // namespace calmplate::study
