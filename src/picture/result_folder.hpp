// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "picture/area_image.hpp"

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
  std::string working_field;     ///< array of panel.vtu; empty: no working map
  std::vector<double> level_db;  ///< [n_freq] the layout's curve
};

struct BenefitMap {
  std::string sheet;
  double piece_mm = 0.0;
  std::string field;  ///< array of panel.vtu
  Point best_centre_mm;
  double best_db = 0.0;
};

struct Results {
  std::string title;
  std::string note;
  PanelSheet panel;
  double band_low_hz = 0.0;
  double band_high_hz = 0.0;
  std::string drive_text;
  std::optional<Point> drive_at_mm;
  std::vector<double> freq_hz;  ///< [n_freq] ascending
  std::string level_unit;
  std::vector<Layout> layouts;
  std::optional<BenefitMap> benefit;
};

/// Reads results.json of a result folder.
/// @throws base::InputError naming file, key, what is wrong and what is allowed
Results read_results(const std::filesystem::path& file);

}  // namespace calmplate::picture
