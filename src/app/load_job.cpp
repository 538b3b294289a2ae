// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/load_job.hpp"

#include <utility>

#include "job/element_rule.hpp"
#include "mesh_io/mesh_io.hpp"
#include "panel/drawn.hpp"
#include "panel/scan.hpp"

namespace calmplate::app {
namespace {

LoadedJob load_drawn(job::Job job) {
  job::settle_band(job, panel::drawn_area(*job.drawn));
  job::settle_elements(job);
  const panel::DrawnInput drawn = *job.drawn;
  const double corner_degrees = job.panel_options.corner_degrees;
  panel::PanelReport mending;
  panel::Panel panel = panel::make_drawn_panel(drawn, corner_degrees, &mending);
  const auto remade = [drawn, corner_degrees](double element_m) {
    panel::DrawnInput at_size = drawn;
    at_size.element_m = element_m;
    at_size.feature_factor = element_m / drawn.element_m;
    return panel::make_drawn_panel(at_size, corner_degrees);
  };
  return {std::move(job), std::move(panel), mending, remade, drawn.element_m};
}

LoadedJob load_mesh(job::Job job) {
  const panel::Mesh mesh = mesh_io::read_mesh(job.mesh_file, job.mesh_metres_per_unit);
  panel::PanelReport mending;
  panel::Panel panel =
      panel::make_panel(mesh, job.panel_options, job.mesh_file.filename().string(), &mending);
  job::settle_band(job, panel.area_m2);
  const auto remade = [mesh, options = job.panel_options, name = job.mesh_file.filename().string()](
                          double element_m) {
    panel::PanelOptions at_size = options;
    at_size.element_size_m = element_m;
    at_size.smallest_hole_m = panel::smallest_hole(options);  // the same holes at every size
    return panel::make_panel(mesh, at_size, name);
  };
  const double wanted = job.panel_options.element_size_m;
  const double element_m = wanted > 0.0 ? wanted : panel.element_size_m;
  return {std::move(job), std::move(panel), mending, remade, element_m};
}

}  // namespace

LoadedJob load_job(const std::filesystem::path& file) {
  job::Job job = job::read_job(file);
  LoadedJob loaded = job.drawn ? load_drawn(std::move(job)) : load_mesh(std::move(job));
  job::warn_if_coarse(loaded.job, loaded.element_m);
  job::check_against_panel(loaded.job, loaded.panel);
  return loaded;
}

}  // namespace calmplate::app
