// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

#include "base/progress.hpp"

namespace calmplate::app {

/// Runs the drawing program, which lies beside this one, on a result folder and waits for it. It is
/// a process of its own, so that a fault in a graphics driver cannot harm the results. It is ended
/// when `progress` says that the person wants to stop.
/// @return empty if all pictures were drawn, else one line that says why not
std::string draw_pictures(const std::filesystem::path& folder, const base::Progress& progress);

}  // namespace calmplate::app
