// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <functional>

#include "job/job.hpp"
#include "panel/panel.hpp"

namespace calmplate::app {

/// A job with its panel, both checked.
struct LoadedJob {
  job::Job job;
  panel::Panel panel;
  panel::PanelReport mending;
  /// The same skin meshed anew with another mean edge length, m.
  std::function<panel::Panel(double element_m)> make_panel;
  double element_m = 0.0;  ///< side of an element that this panel was meshed with
};

/// @throws base::InputError for whatever is wrong with job file, mesh file or panel
LoadedJob load_job(const std::filesystem::path& file);

}  // namespace calmplate::app
