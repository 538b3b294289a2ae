// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "panel/cover.hpp"
#include "placement/benefit_map.hpp"
#include "response/third_octaves.hpp"
#include "sheet/sheet.hpp"
#include "study/sound_results.hpp"
#include "study/sureness_results.hpp"

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

/// A knock on the skin by which layouts are heard.
struct TapInput {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< m on the flat map
  Eigen::Index node = 0;                         ///< of the mesh, the one at that place
  double impulse_ns = 0.02;                      ///< area under the half-sine pulse, N s
  double contact_s = 0.004;                      ///< its length, s
  double up_to_hz = 0.0;                         ///< tones above are left out
};

/// One ringing tone of a tap: amplitude exp(-decay t) cos(2 pi f t + phase), 1 m in front of the
/// skin.
struct TapTone {
  double freq_hz = 0.0;
  double decay_per_s = 0.0;
  double amplitude_pa = 0.0;
  double phase_rad = 0.0;
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
  Eigen::VectorXd velocity_db;  ///< [n_node] band mean square velocity, as the band level
  std::vector<TapTone> tap;     ///< what a tap sounds like
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
  TapInput tap;
  std::string answer;              ///< one paragraph in plain words
  std::vector<std::string> notes;  ///< what the reader should know, one sentence each
};

}  // namespace calmplate::study
