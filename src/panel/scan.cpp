// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/scan.hpp"

#include <CGAL/Polygon_mesh_processing/remesh.h>
#include <CGAL/Polygon_mesh_processing/repair_degeneracies.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "base/units.hpp"
#include "panel/cgal_mesh.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

namespace processing = CGAL::Polygon_mesh_processing;

constexpr double kSliver = 1e-6;          // height, share of the diagonal
constexpr double kLargestFilled = 0.040;  // m across
constexpr double kSlitWidth = 0.001;      // m
constexpr double kNoise = 5e-5;           // m

int slivers(const Mesh& mesh) {
  const double diagonal =
      (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).norm();
  const Eigen::VectorXd areas = triangle_areas(mesh);
  int count = 0;
  for (Eigen::Index t = 0; t < areas.size(); ++t) {
    double longest = 0.0;
    for (int k = 0; k < 3; ++k)
      longest = std::max(
          longest,
          (mesh.nodes.row(mesh.triangles(t, k)) - mesh.nodes.row(mesh.triangles(t, (k + 1) % 3)))
              .norm());
    if (2.0 * areas[t] < kSliver * diagonal * longest) ++count;
  }
  return count;
}

struct Loop {
  double length = 0.0, across = 0.0, area = 0.0;
};

Loop measure(const Nodes& nodes, const std::vector<int>& loop) {
  Loop found;
  Eigen::Vector3d area = Eigen::Vector3d::Zero();
  const Eigen::Vector3d origin = nodes.row(loop[0]).transpose();
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Eigen::Vector3d a = nodes.row(loop[i]).transpose();
    const Eigen::Vector3d b = nodes.row(loop[(i + 1) % loop.size()]).transpose();
    found.length += (b - a).norm();
    area += 0.5 * (a - origin).cross(b - origin);
    for (std::size_t j = 0; j < i; ++j)
      found.across = std::max(found.across, (nodes.row(loop[j]) - nodes.row(loop[i])).norm());
  }
  found.area = area.norm();
  return found;
}

}  // namespace

Mesh without_slivers(const Mesh& mesh, PanelReport& report) {
  const int count = slivers(mesh);
  if (count == 0) return mesh;
  const double diagonal =
      (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).norm();
  SurfaceMesh surface = to_surface(mesh);
  const double cap_cosine = std::cos(base::from_degrees(179.9));
  processing::experimental::remove_almost_degenerate_faces(
      surface, cap_cosine, 1000.0, 10.0 * kSliver * diagonal);
  report.degenerate_triangles += count;
  return from_surface(surface);
}

Mesh with_small_holes_closed(const Mesh& mesh, double across_m, PanelReport& report) {
  const std::vector<std::vector<int>> loops = boundary_loops(mesh.triangles);
  std::vector<Loop> sizes;
  for (const std::vector<int>& loop : loops) sizes.push_back(measure(mesh.nodes, loop));
  std::size_t outer = 0;
  for (std::size_t i = 1; i < loops.size(); ++i)
    if (sizes[i].length > sizes[outer].length) outer = i;
  SurfaceMesh surface;
  int filled = 0;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    const bool slit = 2.0 * sizes[i].area < kSlitWidth * sizes[i].length;
    if (i == outer || (sizes[i].across > across_m && !slit)) continue;
    if (filled++ == 0) surface = to_surface(mesh);
    using Vertex = SurfaceMesh::Vertex_index;
    const auto index = [](int node) { return Vertex(static_cast<SurfaceMesh::size_type>(node)); };
    // The border runs against the loop, which has the triangles on its left.
    const auto border = surface.halfedge(index(loops[i][1]), index(loops[i][0]));
    std::vector<SurfaceMesh::Face_index> faces;
    std::vector<Vertex> vertices;
    processing::triangulate_refine_and_fair_hole(
        surface, border, std::back_inserter(faces), std::back_inserter(vertices));
  }
  if (filled == 0) return mesh;
  report.holes_filled += filled;
  return from_surface(surface);
}

double smallest_hole(const PanelOptions& options) {
  return options.smallest_hole_m.value_or(std::min(2.0 * options.element_size_m, kLargestFilled));
}

bool is_noisy(double noise_m, const Mesh& mesh, double element_size_m) {
  return noise_m > kNoise && mean_edge_length(mesh) < 0.7 * element_size_m;
}

Mesh evened_out(const Mesh& mesh, double size_m) {
  SurfaceMesh surface = to_surface(mesh);
  processing::isotropic_remeshing(
      surface.faces(),
      size_m,
      surface,
      CGAL::parameters::number_of_iterations(3).collapse_constraints(false));
  return from_surface(surface);
}

}  // namespace calmplate::panel
