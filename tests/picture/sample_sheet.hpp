// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>

namespace calmplate::sample {

/// sheet.json of an invented sheet under foil, as the drawing program reads it.
nlohmann::json sheet_json();

/// Writes FOLDER/sheet.json; makes the folder.
void write_sheet(const std::filesystem::path& folder, const nlohmann::json& sheet);

/// Adds invented figures over temperature to results.json: four sheets on the layout "partial",
/// two of them close together in the warm, and a curve for every layout.
void add_temperature(nlohmann::json& results);

}  // namespace calmplate::sample
