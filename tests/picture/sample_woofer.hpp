// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <string>

namespace calmplate::sample {

/// Adds to results.json what an invented woofer at 10 V does in the sample's door: sound of skin
/// and woofer, levels at 1 m, travel and forces, two points that may rattle, and modes in the door.
void add_woofer(nlohmann::json& results);

/// One point that rattles in two spans of the sweep.
nlohmann::json rattle_json(const std::string& name);

}  // namespace calmplate::sample
