// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

/// What the page shows of results.json (schema "calmplate-results", version 1), in the file's own
/// units. A figure that the file gives as null, or that an older file does not have, is NaN.
namespace calmplate::page {

/// One ringing tone of a tap: amplitude exp(-decay t) cos(2 pi f t + phase).
struct Tone {
  double freq_hz = 0.0;
  double decay_per_s = 0.0;
  double amplitude_pa = 0.0;
  double phase_rad = 0.0;
};

struct Piece {
  int number = 0;
  std::string sheet;
  std::string face;
  double width_mm = 0.0, height_mm = 0.0;  ///< NaN unless it is a rectangle
  double area_m2 = 0.0;
  double mass_kg = 0.0;
};

struct Band {
  double nominal_hz = 0.0;
  double level_db = 0.0;
  double reduction_db = 0.0;
};

struct Mode {
  double freq_hz = 0.0;
  double loss_factor = 0.0;
  double ring_time_s = 0.0;
};

struct ListenPoint {
  std::string name;
  double reduction_db = 0.0;
};

struct Sound {
  double nominal_hz = 0.0;
  double skin_level_db = 0.0;
  double woofer_level_db = 0.0;
  double skin_under_woofer_db = 0.0;
};

struct Rattle {
  std::string name;
  double limit_m_s2 = 0.0;
  double sweep_peak_m_s2 = 0.0;
  double sweep_hz = 0.0;
  double sweep_margin_db = 0.0;
  double pink_noise_margin_db = 0.0;
};

struct AtTemperature {
  double temperature_c = 0.0;
  double reduction_db = 0.0;
};

struct Layout {
  std::string name;
  std::vector<Piece> pieces;
  double area_m2 = 0.0;
  double share = 0.0;
  double mass_kg = 0.0;
  double cost = 0.0;          ///< 0: no price is known
  double stock_sheets = 0.0;  ///< by area; NaN if not known
  double band_level_db = 0.0;
  double band_reduction_db = 0.0;
  std::vector<Band> third_octaves;
  std::vector<ListenPoint> listen_at;
  std::vector<AtTemperature> temperature;
  std::vector<Mode> modes;
  std::vector<Sound> sound;
  std::vector<Rattle> rattles;
  std::vector<Tone> tap;
  std::vector<double> level_db;  ///< [n_freq]
};

struct Tap {
  double impulse_ns = 0.0;
  double distance_m = 0.0;
  double up_to_hz = 0.0;
};

struct ComparedSheet {
  std::string name;
  double mass_kg = 0.0;
  double cost = 0.0;
  std::vector<double> reduction_db;  ///< [n_temperature]
};

struct SheetComparison {
  std::string layout;
  std::string sentence;
  std::vector<double> temperature_c;
  std::vector<ComparedSheet> sheets;
};

struct CoveragePoint {
  int pieces = 0;
  double share = 0.0;
  double mass_kg = 0.0;
  double cost = 0.0;
  double reduction_db = 0.0;
};

struct Coverage {
  std::string layout;
  std::string sentence;
  int knee = -1;  ///< number of the point, from 0; below 0: none
  std::vector<CoveragePoint> points;
};

struct Range {
  double low = 0.0, high = 0.0;
};

struct LayoutRange {
  std::string name;
  Range reduction_db, first_hz, first_loss;
};

struct Unknowns {
  std::vector<std::string> ranges;
  int samples = 0;
  std::string sentence;
  std::vector<LayoutRange> layouts;
};

struct Convergence {
  double worst_hz_error = 0.0;  ///< relative
  double worst_db_error = 0.0;
};

struct RimPart {
  std::string name, hold;
  double length_mm = 0.0;
};

struct SheetOnShelf {
  std::string name, kind;
  double mass_kg_m2 = 0.0;
  double stock_width_mm = 0.0, stock_length_mm = 0.0;  ///< NaN if not known
  double price_per_sheet = 0.0;                        ///< NaN if not known
};

struct HandOver {
  std::string fitter, contact, logo, car, customer, question, proposal;  ///< empty: not given
};

struct Results {
  std::string program_version;
  std::string title, note, job_file, currency;
  double temperature_c = 0.0;
  HandOver hand_over;
  std::string answer;
  std::vector<std::string> notes, cautions;
  double panel_area_m2 = 0.0, panel_thickness_mm = 0.0, panel_loss_factor = 0.0,
         panel_mass_kg = 0.0;
  double element_size_mm = 0.0;
  std::string panel_material;
  std::vector<RimPart> rim;
  std::vector<std::string> keep_outs;
  std::vector<SheetOnShelf> sheets;
  double band_low_hz = 0.0, band_high_hz = 0.0;
  std::string drive_kind, drive_text;
  std::string level_unit;
  std::vector<double> freq_hz;  ///< [n_freq]
  std::vector<Layout> layouts;  ///< the bare panel first
  std::optional<Tap> tap;
  std::string woofer_sentence;  ///< empty without a woofer
  double woofer_travel_mm = 0.0, woofer_travel_hz = 0.0, woofer_xmax_mm = 0.0;
  std::optional<SheetComparison> comparison;
  std::optional<Coverage> coverage;
  std::optional<Unknowns> unknowns;
  std::optional<Convergence> convergence;

  /// The layout that the page puts forward: the job's proposal, else the one that calms the skin
  /// most; null if there is only the bare panel.
  const Layout* proposal() const;
};

/// @throws base::InputError naming file, key, what is wrong and what is allowed
Results read_results(const std::filesystem::path& file);

}  // namespace calmplate::page
