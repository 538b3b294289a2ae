// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/units.hpp"
#include "report/results_json.hpp"

namespace calmplate::report {

ResultFields result_fields(const job::Job& job,
                           const panel::Panel& panel,
                           const study::Results& results) {
  ResultFields out;
  Eigen::MatrixXd flat = Eigen::MatrixXd::Zero(panel.mesh.nodes.rows(), 3);
  flat.leftCols(2) = 1e3 * panel.flat.points();
  out.nodes.push_back({"flat_map_mm", flat});
  if (results.map) out.nodes.push_back({"benefit_dB", results.map->at_nodes});
  for (const study::LayoutResult& layout : results.layouts) {
    for (Eigen::Index k = 0; k < layout.mode_shapes.cols(); ++k)
      out.nodes.push_back(
          {"mode_" + layout.name + "_" + std::to_string(k + 1), layout.mode_shapes.col(k)});
    if (layout.velocity_db.size() > 0)
      out.nodes.push_back({"velocity_" + layout.name, layout.velocity_db});
    out.triangles.push_back({"cover_" + layout.name, layout.cover});
    if (layout.working.size() > 0)
      out.triangles.push_back({working_field(job, layout.name), layout.working});
  }
  return out;
}

}  // namespace calmplate::report
