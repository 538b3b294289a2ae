// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

namespace calmplate::sample {

/// A result folder of an invented door skin, 1000 x 620 mm, with invented fields: what the drawing
/// program reads, without any computation behind it.
struct SampleOptions {
  int along = 90;  ///< triangles' grid lines along x
  int upright = 56;
  /// The benefit field: false: a few smooth hills; true: 10 dB in the left half, 0 dB in the right.
  bool left_half_high = false;
  bool with_holes_in_field = true;  ///< NaN near the rim, where no trial piece fits
  /// Velocity maps: bare 160 dB in the left half and 140 dB in the right, the others 150 dB all
  /// over with no level at all along the left side.
  bool with_velocity = false;
};

/// Writes FOLDER/results.json and FOLDER/panel.vtu; makes the folder.
/// @return the JSON as written, for tests that break it
nlohmann::json write_sample(const std::filesystem::path& folder, const SampleOptions& options = {});

/// Writes the JSON over FOLDER/results.json.
void write_json(const std::filesystem::path& folder, const nlohmann::json& json);

/// Gives an array of FOLDER/panel.vtu another name.
void rename_in_mesh(const std::filesystem::path& folder,
                    const std::string& from,
                    const std::string& to);

}  // namespace calmplate::sample
