// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "picture/area_image.hpp"
#include "picture/coverage_picture.hpp"
#include "picture/door_figures.hpp"

namespace calmplate::picture {

/// What a picture needs of results.json (schema "calmplate-results", version 1), in the file's own
/// units, which are those of the drawing. A level that the file gives as null is NaN.

struct RimPart {
  std::string name;
  std::string hold;
  double length_mm = 0.0;
  std::vector<Point> line_mm;  ///< where it runs on the flat map; may be empty
};

struct KeepOut {
  std::string name;
  Outline outline_mm;
};

struct PanelSheet {
  double width_mm = 0.0;
  double height_mm = 0.0;
  double area_m2 = 0.0;
  double thickness_mm = 0.0;
  Outlines outlines_mm;  ///< outer rim first, then holes
  std::vector<RimPart> rim;
  std::vector<KeepOut> keep_outs;
};

struct Piece {
  int number = 0;
  std::string sheet;
  std::string face;
  Outlines outlines_mm;
  std::optional<Point> size_mm;  ///< width and height of a rectangle
  double area_m2 = 0.0;
  double mass_kg = 0.0;
};

struct Band {
  double centre_hz = 0.0;
  double level_db = 0.0;
  double reduction_db = 0.0;
};

struct Mode {
  double freq_hz = 0.0;
  double loss_factor = 0.0;
  double bending_share = 0.0;
  double ring_time_s = 0.0;
};

/// What a layout does at one temperature.
struct AtTemperature {
  double temperature_c = 0.0;
  double band_level_db = 0.0;
  double reduction_db = 0.0;
};

struct Layout {
  std::string name;
  std::vector<Piece> pieces;
  double area_m2 = 0.0;
  double share = 0.0;
  double mass_kg = 0.0;
  double band_level_db = 0.0;
  double band_reduction_db = 0.0;
  std::vector<Band> third_octaves;
  std::vector<Mode> modes;
  std::string working_field;               ///< array of panel.vtu; empty: no working map
  std::vector<double> level_db;            ///< [n_freq] the layout's curve
  std::vector<AtTemperature> temperature;  ///< ascending; may be empty
  std::vector<DoorMode> door_modes;        ///< with air shut in or a woofer, else empty
  std::vector<SoundBand> sound;            ///< with a woofer, else empty
  std::vector<double> skin_level_db;       ///< [n_freq] at 1 m with a woofer, else empty
  std::vector<Rattle> rattles;             ///< one a point with a limit
};

struct BenefitMap {
  std::string sheet;
  double piece_mm = 0.0;
  std::string field;  ///< array of panel.vtu
  Point best_centre_mm;
  double best_db = 0.0;
};

/// One sheet on the layout on which sheets are compared.
struct ComparedSheet {
  std::string name;
  std::string kind;
  double mass_kg = 0.0;
  double cost = 0.0;
  std::vector<double> reduction_db;     ///< [n_temperature]
  std::vector<double> db_per_kg;        ///< [n_temperature]
  std::vector<double> db_per_currency;  ///< [n_temperature]
};

/// The sheets of the job on one and the same layout.
struct SheetComparison {
  std::string layout;
  std::vector<double> temperature_c;  ///< [n_temperature] ascending
  double tell_apart_db = 0.0;         ///< sheets nearer to one another are the same to a person
  std::string sentence;
  std::vector<ComparedSheet> sheets;
};

struct Results {
  std::string title;
  std::string note;
  std::string currency;                 ///< empty if the file names none
  std::optional<double> temperature_c;  ///< of the figures that name none
  PanelSheet panel;
  double band_low_hz = 0.0;
  double band_high_hz = 0.0;
  std::string drive_text;
  bool driven_by_woofer = false;
  std::optional<Point> drive_at_mm;  ///< of a woofer: where its cone faces the air behind the skin
  std::vector<double> freq_hz;       ///< [n_freq] ascending
  std::string level_unit;
  std::vector<Layout> layouts;
  std::optional<BenefitMap> benefit;
  std::optional<SheetComparison> comparison;
  std::optional<WooferPlay> woofer;
  std::optional<Coverage> coverage;
};

/// Reads results.json of a result folder.
/// @throws base::InputError naming file, key, what is wrong and what is allowed
Results read_results(const std::filesystem::path& file);

/// What a picture needs of check.json (schema "calmplate-check", version 1).
struct CheckFile {
  std::string title;
  std::string note;
  PanelSheet panel;
};

/// Reads check.json, as `calmplate check -o` writes it.
/// @throws base::InputError naming file, key, what is wrong and what is allowed
CheckFile read_check(const std::filesystem::path& file);

}  // namespace calmplate::picture
