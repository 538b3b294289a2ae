// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/panel.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "base/input_error.hpp"
#include "panel/coarsen.hpp"
#include "panel/gaps.hpp"
#include "panel/remesh.hpp"
#include "panel/rim.hpp"
#include "panel/scan.hpp"
#include "panel/scan_points.hpp"
#include "panel/sheet.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr const char* kAllowedSkin = "a skin that a sheet of paper would follow with few creases";

/// A crown lower than this share of the diagonal has no side to which it bulges.
constexpr double kFlatCrown = 1e-6;

Vector3d mean_normal(const Mesh& mesh) {
  Vector3d sum = Vector3d::Zero();
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    const Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)).transpose();
    const Vector3d b = mesh.nodes.row(mesh.triangles(t, 1)).transpose();
    const Vector3d c = mesh.nodes.row(mesh.triangles(t, 2)).transpose();
    sum += (b - a).cross(c - a);
  }
  return sum.normalized();
}

/// Mean height of the sheet over the mean place of its boundary, along the mean normal.
double bulge(const Mesh& mesh, const Vector3d& normal) {
  const Eigen::VectorXd areas = triangle_areas(mesh);
  const Eigen::VectorXd height = mesh.nodes * normal;
  double over = 0.0, rim = 0.0, length = 0.0;
  for (Eigen::Index t = 0; t < areas.size(); ++t)
    over += areas[t] *
            (height[mesh.triangles(t, 0)] + height[mesh.triangles(t, 1)] +
             height[mesh.triangles(t, 2)]) /
            3.0;
  for (const std::vector<int>& loop : boundary_loops(mesh.triangles))
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const int a = loop[i], b = loop[(i + 1) % loop.size()];
      const double edge = (mesh.nodes.row(a) - mesh.nodes.row(b)).norm();
      rim += edge * 0.5 * (height[a] + height[b]);
      length += edge;
    }
  return over / areas.sum() - rim / length;
}

/// Turns the whole sheet so that its triangles run anticlockwise seen from outside the car.
void face_outward(Mesh& mesh, const PanelOptions& options, const std::string& name) {
  const Vector3d normal = mean_normal(mesh);
  double side = 1.0;
  if (options.outward.norm() > 0.0) {
    side = normal.dot(options.outward.normalized());
    if (std::abs(side) < 1e-3)
      throw base::InputError({name, 0, ""},
                             "the direction out of the car lies along the skin",
                             "a direction away from the skin");
  } else {
    const double height = bulge(mesh, normal);
    const double diagonal =
        (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).norm();
    if (std::abs(height) > kFlatCrown * diagonal) side = height;
  }
  if (side < 0.0) mesh.triangles.col(1).swap(mesh.triangles.col(2));
}

void check_along(const Mesh& mesh, const PanelOptions& options, const std::string& name) {
  if (!(mean_normal(mesh).cross(options.along.normalized()).norm() > 1e-3))
    throw base::InputError({name, 0, ""},
                           "the direction along the panel is normal to the skin",
                           "a direction that runs along the skin");
}

FlatMap laid_flat(const Mesh& mesh, const PanelOptions& options, const std::string& name) {
  check_along(mesh, options, name);
  try {
    return FlatMap(mesh, options.along);
  } catch (const std::invalid_argument& fault) {
    throw base::InputError({name, 0, ""}, fault.what(), kAllowedSkin);
  }
}

/// Share of the diagonal; a map that is good enough to mesh on.
constexpr double kRoughTolerance = 1e-4;

/// A mesh with edges shorter than this share of the wanted size is made coarser first, to edges of
/// about 1.3 times the second share.
constexpr double kFine = 0.3;
constexpr double kCarrier = 0.33;
/// Share of the size that may be left of a scan's noise before it is laid flat.
constexpr double kCarrierNoise = 0.004;
constexpr double kLeastNoise = 1e-7;  // m

/// A map of the sheet for meshing on. Shreds and slivers of a rough mesh may turn over on the map:
/// then shreds are taken off; if that is not enough the sheet is evened out.
FlatMap rough_map(Mesh& sheet,
                  const PanelOptions& options,
                  const std::string& name,
                  PanelReport& report) {
  try {
    return FlatMap(sheet, options.along, kRoughTolerance);
  } catch (const std::invalid_argument&) {
    sheet = with_small_holes_closed(without_shreds(sheet, report), smallest_hole(options), report);
  }
  try {
    return FlatMap(sheet, options.along, kRoughTolerance);
  } catch (const std::invalid_argument&) {
    sheet =
        evened_out(sheet, std::min(0.5 * options.element_size_m, 2.0 * mean_edge_length(sheet)));
  }
  try {
    return FlatMap(sheet, options.along, kRoughTolerance);
  } catch (const std::invalid_argument& fault) {
    throw base::InputError({name, 0, ""}, fault.what(), kAllowedSkin);
  }
}

/// The sheet in larger triangles if it has far more than are needed to lay it flat.
Mesh carrier_of(Mesh sheet, const PanelOptions& options, PanelReport& report) {
  if (report.smoothed) close_bites(sheet, smallest_hole(options), report);
  const double size = options.element_size_m;
  const bool fine = mean_edge_length(sheet) < kFine * size;
  return with_small_holes_closed(
      without_slivers(fine ? coarsened(sheet, kCarrier * size) : sheet, report),
      smallest_hole(options),
      report);
}

/// The sheet in even triangles, a scan's noise taken off.
Mesh meshed_anew(const Mesh& sheet,
                 const PanelOptions& options,
                 const std::string& name,
                 PanelReport& report) {
  check_along(sheet, options, name);
  const double size = options.element_size_m;
  report.remeshed = true;
  report.scan_triangles = static_cast<int>(sheet.triangles.rows());
  const ScanPoints points(sheet.nodes, triangle_areas(sheet).sum());
  report.noise_m = options.scan_noise_m.value_or(points.noise());
  report.smoothed =
      options.scan_noise_m ? *options.scan_noise_m > 0.0 : is_noisy(report.noise_m, sheet, size);
  const RimPlane plane = rim_plane(sheet, options.along);
  if (report.smoothed) report.scanned = crown_of(sheet, plane);
  Mesh mesh = carrier_of(sheet, options, report);
  ScanSkin scan;
  scan.noise_m = std::max(report.noise_m, kLeastNoise);
  scan.ragged = report.smoothed;
  const bool coarser = mesh.nodes.rows() < sheet.nodes.rows() / 2;
  if (report.smoothed || (coarser && !options.scan_noise_m)) scan.points = &points;
  if (report.smoothed)
    for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
      mesh.nodes.row(i) =
          points.foot(mesh.nodes.row(i).transpose(), scan.noise_m, kCarrierNoise * size)
              .transpose();
  const FlatMap map = rough_map(mesh, options, name, report);
  Mesh made;
  try {
    made = remeshed(mesh, map, size, scan);
  } catch (const std::invalid_argument& fault) {
    throw base::InputError({name, 0, ""}, fault.what(), "a smaller element size");
  }
  if (report.smoothed) report.kept = crown_of(made, plane);
  return made;
}

/// Distance on the map from every node to the nearest of the loops; infinite without a loop.
Eigen::VectorXd distances(const FlatPoints& points, const std::vector<std::vector<int>>& loops) {
  Eigen::VectorXd distance =
      Eigen::VectorXd::Constant(points.rows(), std::numeric_limits<double>::infinity());
  for (Eigen::Index i = 0; i < points.rows(); ++i) {
    const Vector2d here = points.row(i).transpose();
    double square = std::numeric_limits<double>::infinity();
    for (const std::vector<int>& loop : loops)
      for (std::size_t e = 0; e < loop.size(); ++e) {
        const Vector2d a = points.row(loop[e]).transpose();
        const Vector2d ab = points.row(loop[(e + 1) % loop.size()]).transpose() - a;
        const double share = std::clamp((here - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
        square = std::min(square, (a + share * ab - here).squaredNorm());
      }
    distance[i] = std::sqrt(square);
  }
  return distance;
}

}  // namespace

Panel make_panel(const Mesh& raw,
                 const PanelOptions& options,
                 const std::string& name,
                 PanelReport* report) {
  for (const double length : {options.element_size_m,
                              options.smallest_hole_m.value_or(0.0),
                              options.scan_noise_m.value_or(0.0)})
    if (!(length >= 0.0) || !std::isfinite(length))
      throw std::invalid_argument("make_panel: a length is negative or not finite");
  PanelReport found;
  const bool anew = options.element_size_m > 0.0;
  Mesh mesh = mend_sheet(raw, name, found, {options.guess_unit, anew, smallest_hole(options)});
  if (!anew) mesh = without_slivers(mesh, found);
  face_outward(mesh, options, name);
  if (anew) mesh = meshed_anew(mesh, options, name, found);
  FlatMap flat = laid_flat(mesh, options, name);
  Panel panel = panel_on_map(std::move(mesh), std::move(flat), options.corner_degrees, &found);
  if (report != nullptr) *report = found;
  return panel;
}

Panel panel_on_map(Mesh mesh, FlatMap flat, double corner_degrees, PanelReport* report) {
  Panel panel{std::move(mesh), {}, std::move(flat), {}, {}, {}, 0.0, 0.0};
  panel.normals = node_normals(panel.mesh);
  panel.rim = rim_parts(panel.mesh, panel.flat.points(), corner_degrees);
  std::vector<std::vector<int>> loops = ordered_loops(panel.mesh.triangles, panel.flat.points());
  panel.rim_distance_m = distances(panel.flat.points(), {loops.front()});
  loops.erase(loops.begin());
  panel.hole_distance_m = distances(panel.flat.points(), loops);
  panel.area_m2 = triangle_areas(panel.mesh).sum();
  panel.element_size_m = mean_edge_length(panel.mesh);
  if (report != nullptr) {
    report->worst_angle_deg = worst_angle_degrees(panel.mesh);
    report->worst_stretch = panel.flat.worst_stretch();
  }
  return panel;
}

std::vector<int> parts_named(const Panel& panel, const std::string& name) {
  std::vector<int> found;
  for (std::size_t i = 0; i < panel.rim.size(); ++i) {
    const RimPart& part = panel.rim[i];
    const bool group =
        name == "all" || (name == "rim" && !part.hole) || (name == "holes" && part.hole);
    if (group || part.name == name) found.push_back(static_cast<int>(i));
  }
  return found;
}

}  // namespace calmplate::panel
