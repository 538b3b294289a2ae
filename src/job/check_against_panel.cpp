// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "job/check_pieces.hpp"
#include "job/job.hpp"
#include "job/table_reader.hpp"

namespace calmplate::job {
namespace {

constexpr double kRimReach_m = 0.030;  ///< from a point that means a rim point to the panel

std::string in_mm(const Eigen::Vector2d& at) {
  return "[" + plain_number(base::to_mm(at.x())) + ", " + plain_number(base::to_mm(at.y())) +
         "] mm";
}

void check_point(const panel::Panel& panel, const Eigen::Vector2d& at, const base::Where& where) {
  if (panel.flat.to_skin(at)) return;
  throw base::InputError(where,
                         "is " + in_mm(at) + ", which is off the panel or in a hole",
                         "a point on the skin; the flat map runs from " + map_extent(panel));
}

void check_rim_point(const panel::Panel& panel,
                     const Eigen::Vector2d& at,
                     const base::Where& where) {
  const Eigen::Vector2d nearest = panel.flat.to_flat(panel.flat.nearest(at));
  if ((nearest - at).norm() <= kRimReach_m) return;
  throw base::InputError(where,
                         "is " + in_mm(at) + ", " +
                             std::to_string(std::lround(base::to_mm((nearest - at).norm()))) +
                             " mm off the panel",
                         "a point within 30 mm of it; the flat map runs from " + map_extent(panel));
}

void check_edges(const Job& job, const panel::Panel& panel) {
  std::vector<std::string> names;
  for (const panel::RimPart& part : panel.rim) names.push_back(part.name);
  names.emplace_back("rim");
  if (std::any_of(panel.rim.begin(), panel.rim.end(), [](const auto& p) { return p.hole; }))
    names.emplace_back("holes");
  names.emplace_back("all");
  for (std::size_t i = 0; i < job.edges.size(); ++i) {
    const shell::EdgeInput& edge = job.edges[i];
    const base::Where& where = job.edge_where[i];
    if (panel::parts_named(panel, edge.part).empty()) {
      const std::string near = base::nearest_word(edge.part, names.data(), names.size());
      throw base::InputError(where_in(where, "part"),
                             "is " + in_quotes(edge.part) +
                                 ", and the panel has no rim part of that name" +
                                 (near.empty() ? "" : " (did you mean " + in_quotes(near) + "?)"),
                             list_in_quotes(names));
    }
    if (edge.from) check_rim_point(panel, *edge.from, where_in(where, "from_mm"));
    if (edge.to) check_rim_point(panel, *edge.to, where_in(where, "to_mm"));
  }
}

void check_beams(const Job& job, const panel::Panel& panel) {
  for (std::size_t i = 0; i < job.beams.size(); ++i) {
    const shell::BeamInput& beam = job.beams[i];
    const base::Where& where = job.beam_where[i];
    check_point(panel, beam.from, where_in(where, "from_mm"));
    check_point(panel, beam.to, where_in(where, "to_mm"));
    const double length_m = (beam.to - beam.from).norm();
    for (std::size_t p = 0; p < beam.pads_m.size(); ++p) {
      const base::Where at = where_in(where, "pads_mm[" + std::to_string(p + 1) + "]");
      const double place_m = beam.pads_m[p];
      // A tape reads to a millimetre.
      if (place_m > length_m + base::from_mm(1.0))
        throw base::InputError(
            at,
            "is " + plain_number(base::to_mm(place_m)) + " mm, beyond the end of the beam",
            "0 to " + std::to_string(std::lround(base::to_mm(length_m))) + " mm");
      const double share = std::min(1.0, place_m / length_m);
      const Eigen::Vector2d pad = beam.from + share * (beam.to - beam.from);
      if (!panel.flat.to_skin(pad))
        throw base::InputError(at,
                               "puts a pad at " + in_mm(pad) + ", where there is no skin",
                               "distances at which the beam runs over the skin");
    }
  }
}

/// True in a hole of the skin.
bool in_hole(const panel::Panel& panel, const Eigen::Vector2d& at) {
  for (const panel::RimPart& part : panel.rim) {
    if (!part.hole) continue;
    bool inside = false;  // by how often a ray to the right crosses the rim
    for (std::size_t i = 0; i + 1 < part.nodes.size(); ++i) {
      const Eigen::Vector2d a = panel.flat.points().row(part.nodes[i]);
      const Eigen::Vector2d b = panel.flat.points().row(part.nodes[i + 1]);
      if ((a.y() > at.y()) != (b.y() > at.y()) &&
          at.x() < a.x() + (b.x() - a.x()) * (at.y() - a.y()) / (b.y() - a.y()))
        inside = !inside;
    }
    if (inside) return true;
  }
  return false;
}

void check_woofer(const Job& job, const panel::Panel& panel) {
  const drive::WooferInput& woofer = *job.woofer;
  const bool on_skin = woofer.mounting == drive::Mounting::skin;
  // On the skin the cone may stand in its own hole.
  if (woofer.cone_centre && !in_hole(panel, *woofer.cone_centre))
    check_point(panel, *woofer.cone_centre, where_in(job.woofer_where, "cone_centre_mm"));
  if (!on_skin) return;
  const auto ring = drive::ring_points(woofer);
  for (Eigen::Index i = 0; i < ring.rows(); ++i)
    if (!panel.flat.to_skin(ring.row(i)))
      throw base::InputError(where_in(job.woofer_where, "ring_centre_mm"),
                             "puts a point of the ring at " + in_mm(ring.row(i).transpose()) +
                                 ", where there is no skin",
                             "a ring of " + plain_number(base::to_mm(woofer.ring_diameter_m)) +
                                 " mm that lies on the skin all round; the flat map runs from " +
                                 map_extent(panel));
}

/// A keep-out may hang over (a drain at the hem), or lie on a hole, but not be somewhere else.
void check_keep_outs(const Job& job, const panel::Panel& panel) {
  const Eigen::Vector2d least = panel.flat.low(), most = least + panel.flat.size();
  for (const KeepOut& keep_out : job.keep_outs) {
    const Eigen::RowVector2d low = keep_out.outline.colwise().minCoeff();
    const Eigen::RowVector2d high = keep_out.outline.colwise().maxCoeff();
    if (high.x() < least.x() || high.y() < least.y() || low.x() > most.x() || low.y() > most.y())
      throw base::InputError(
          keep_out.where, "lies off the panel", "at least partly within " + map_extent(panel));
  }
}

}  // namespace

void check_against_panel(const Job& job, const panel::Panel& panel) {
  check_edges(job, panel);
  check_beams(job, panel);
  for (std::size_t i = 0; i < job.springs.size(); ++i)
    check_point(panel, job.springs[i].at, where_in(job.spring_where[i], "at_mm"));
  for (std::size_t i = 0; i < job.masses.size(); ++i)
    check_point(panel, job.masses[i].at, where_in(job.mass_where[i], "at_mm"));
  check_keep_outs(job, panel);
  check_pieces(job, panel);
  if (job.drive.kind == drive::Kind::force || job.drive.kind == drive::Kind::tap)
    check_point(panel, job.drive.at, where_in(job.drive_where, "at_mm"));
  if (job.woofer) check_woofer(job, panel);
  // A leak may be the window slot along the skin's edge.
  if (job.cavity.leak_centre && !in_hole(panel, *job.cavity.leak_centre))
    check_rim_point(panel, *job.cavity.leak_centre, where_in(job.cavity_where, "leak_centre_mm"));
  for (const ListenPoint& point : job.listen_at)
    check_point(panel, point.at, where_in(point.where, "at_mm"));
}

}  // namespace calmplate::job
