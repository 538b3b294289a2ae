// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/load_job.hpp"

#include <utility>

#include "mesh_io/mesh_io.hpp"

namespace calmplate::app {

LoadedJob load_job(const std::filesystem::path& file) {
  job::Job job = job::read_job(file);
  const panel::Mesh mesh = mesh_io::read_mesh(job.mesh_file, job.mesh_metres_per_unit);
  panel::PanelReport mending;
  panel::Panel panel =
      panel::make_panel(mesh, job.panel_options, job.mesh_file.filename().string(), &mending);
  job::settle_band(job, panel);
  job::check_against_panel(job, panel);
  const auto remade = [mesh, options = job.panel_options, name = job.mesh_file.filename().string()](
                          double element_m) {
    panel::PanelOptions at_size = options;
    at_size.element_size_m = element_m;
    return panel::make_panel(mesh, at_size, name);
  };
  return {std::move(job), std::move(panel), mending, remade};
}

}  // namespace calmplate::app
