// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>

#include "job/job.hpp"
#include "mesh_io/mesh_io.hpp"
#include "panel/panel.hpp"

namespace calmplate::testing {

struct JobOnPanel {
  job::Job job;
  panel::Panel panel;
};

/// A job of the folder meshes on elements of another size, coarse for a quick test. Without air and
/// cavity, which the direct system does not have, and with a force in place of a woofer.
inline JobOnPanel demo_job(const std::string& name, double element_m) {
  job::Job job = job::read_job(std::string(CALMPLATE_MESHES) + "/" + name);
  job.air = job::Air::none;
  job.cavity.wanted = false;
  if (job.drive.kind == drive::Kind::woofer) {
    job.drive.kind = drive::Kind::force;
    job.drive.at = {0.23, 0.20};
  }
  job.panel_options.element_size_m = element_m;
  panel::Panel panel = panel::make_panel(
      mesh_io::read_mesh(job.mesh_file, job.mesh_metres_per_unit), job.panel_options, name);
  return {std::move(job), std::move(panel)};
}

/// The layout of that name. @throws std::out_of_range
inline const job::Layout& layout_named(const job::Job& job, const std::string& name) {
  for (const job::Layout& layout : job.layouts)
    if (layout.name == name) return layout;
  throw std::out_of_range("no layout " + name);
}

}  // namespace calmplate::testing
