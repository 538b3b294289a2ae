// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Geometry>
#include <string>

#include "base/units.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr Range kThickness{0.2, 5.0};       // mm
constexpr Range kElement{2.0, 60.0, true};  // mm; 0 keeps the mesh
constexpr Range kScanNoise{0.0, 3.0};       // mm
constexpr Range kSmallestHole{0.0, 300.0};  // mm
constexpr Range kSkinLoss{0.0, 0.5};        // no unit
constexpr Range kCorner{5.0, 120.0};        // degrees
constexpr Range kEdgeStiffness{0.0, 1e6};   // N/mm per mm of rim
constexpr Range kEdgeRotation{0.0, 1e7};    // N mm/rad per mm of rim

void read_directions(TableReader& panel, panel::PanelOptions& options) {
  options.along = panel.direction_or("along", options.along);
  options.outward = panel.direction_or("outward", options.outward);
  // A hundredth of a radian: closer than that, x on the flat map has no direction to follow.
  if (options.along.cross(options.outward).norm() < 0.01 && options.outward.norm() > 0.0)
    panel.fail(panel.has("along") ? "along" : "outward",
               "along and outward point the same way",
               "along runs along the skin, outward out of it");
}

void read_edge_springs(TableReader& reader, shell::EdgeInput& edge) {
  edge.normal_stiffness = reader.number_or("normal_N_per_mm2", kEdgeStiffness, 0.0);
  edge.in_plane_stiffness = reader.number_or("in_plane_N_per_mm2", kEdgeStiffness, 0.0);
  edge.rotation_stiffness = reader.number_or("rotation_N_per_rad", kEdgeRotation, 0.0);
  edge.loss_factor = reader.number_or("loss_factor", kLoss, 0.0);
  if (edge.normal_stiffness + edge.in_plane_stiffness + edge.rotation_stiffness <= 0.0)
    reader.fail("hold",
                "is \"springs\", but no stiffness above 0 is given",
                "normal_N_per_mm2, in_plane_N_per_mm2 or rotation_N_per_rad");
}

shell::EdgeInput read_edge(TableReader& reader) {
  using shell::Hold;
  shell::EdgeInput edge;
  edge.part = reader.text("part");
  edge.hold = reader.choice<Hold>("hold",
                                  {{"clamped", Hold::clamped},
                                   {"pinned", Hold::pinned},
                                   {"simply-supported", Hold::simply_supported},
                                   {"free", Hold::free},
                                   {"springs", Hold::springs}});
  edge.from = reader.point_or_none("from_mm", kPosition);
  edge.to = reader.point_or_none("to_mm", kPosition);
  if (edge.from.has_value() != edge.to.has_value())
    reader.fail_missing(edge.from ? "to_mm" : "from_mm", "both from_mm and to_mm, or neither");
  if (edge.from && (*edge.from - *edge.to).norm() < base::from_mm(1.0))
    reader.fail("to_mm", "is the same point as from_mm", "at least 1 mm away from it");
  if (edge.hold == Hold::springs) read_edge_springs(reader, edge);
  reader.finish("hold = \"" + reader.text("hold") + "\"");
  return edge;
}

void read_edges(TableReader& panel, Job& job) {
  const bool free = panel.flag_or("free", false);
  for (TableReader& reader : panel.sections("edge", keys::kEdge)) {
    job.edges.push_back(read_edge(reader));
    job.edge_where.push_back(reader.where());
  }
  if (free && !job.edges.empty())
    panel.fail("free", "is true, but there is a [[panel.edge]] too", "one of the two");
  if (!free && job.edges.empty())
    panel.fail_missing("edge",
                       "at least one [[panel.edge]] that says what holds the rim, or free = true "
                       "in [panel] if nothing does");
}

/// Unit and mending of a mesh.
void read_scan(TableReader& panel, Job& job) {
  constexpr double kGuess = 0.0;
  const double metres = panel.choice_or<double>(
      "mesh_unit",
      {{"m", 1.0}, {"cm", 0.01}, {"mm", 1e-3}, {"inch", 0.0254}, {"guess", kGuess}},
      1.0);
  job.panel_options.guess_unit = metres == kGuess;
  job.mesh_metres_per_unit = metres == kGuess ? 1.0 : metres;
  if (panel.has("scan_noise_mm"))
    job.panel_options.scan_noise_m = panel.number("scan_noise_mm", kScanNoise);
  if (panel.has("smallest_hole_mm"))
    job.panel_options.smallest_hole_m = panel.number("smallest_hole_mm", kSmallestHole);
}

}  // namespace

void read_panel(TableReader& file, const Materials& materials, Job& job) {
  TableReader panel = file.required_section("panel", keys::kPanel);
  const bool drawn = panel.has("outline_mm");
  if (drawn && panel.has("mesh"))
    panel.fail("outline_mm", "stands beside mesh", "a mesh file or a drawn outline");
  if (!drawn && !panel.has("mesh"))
    panel.fail_missing("mesh", "a mesh file, or outline_mm for a skin drawn here");
  if (drawn) {
    job.drawn = read_drawn(panel);
  } else {
    job.mesh_file = job.file.parent_path() / panel.text("mesh");
    read_scan(panel, job);
    read_directions(panel, job.panel_options);
  }
  job.thickness_m = panel.number("thickness_mm", kThickness);
  job.material = material_named(panel, "material", "steel", materials);
  job.material.loss_factor = panel.number_or("loss_factor", kSkinLoss, 0.01);
  job.panel_options.element_size_m = panel.number_or("element_mm", kElement, drawn ? 0.0 : 12.0);
  job.panel_options.corner_degrees =
      panel.number_or("corner_deg", kCorner, 35.0) * 180.0 / base::kPi;
  job.air = panel.choice_or<Air>(
      "air",
      {{"both faces", Air::both_faces}, {"one face", Air::one_face}, {"none", Air::none}},
      Air::both_faces);
  read_edges(panel, job);
  panel.finish(drawn ? "outline_mm" : "mesh");
}

}  // namespace calmplate::job
