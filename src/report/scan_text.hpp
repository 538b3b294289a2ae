// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "panel/panel.hpp"

namespace calmplate::report {

/// What was found and mended in a mesh on the way to the panel, for `check`: unit, faults, noise,
/// and whether smoothing kept the crown. Empty for a mesh without fault.
std::string scan_text(const panel::Panel& panel, const panel::PanelReport& mending);

/// The same as figures: the key "mending" of docs/results-file.md.
nlohmann::ordered_json mending_json(const panel::Panel& panel, const panel::PanelReport& mending);

}  // namespace calmplate::report
