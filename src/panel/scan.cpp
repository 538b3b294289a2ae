// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/scan.hpp"

#include <CGAL/Monge_via_jet_fitting.h>
#include <CGAL/Polygon_mesh_processing/remesh.h>
#include <CGAL/Polygon_mesh_processing/repair_degeneracies.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <utility>
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
constexpr double kMedianShare = 0.57;     // median residual over standard deviation
constexpr double kNoiseNeighbours = 18.0;
constexpr Eigen::Index kNoiseSamples = 2000;
constexpr std::size_t kFewestFitted = 8;
constexpr std::size_t kMostFitted = 200;

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

/// Points on the map in square cells, for finding those near a place.
class Neighbours {
 public:
  Neighbours(const FlatPoints& points, double cell) : points_(points), cell_(cell) {
    for (Eigen::Index i = 0; i < points.rows(); ++i)
      cells_[key(points(i, 0), points(i, 1))].push_back(static_cast<int>(i));
  }
  /// Numbers of the points within `radius` (at most a cell), cell by cell.
  std::vector<int> within(const Eigen::RowVector2d& place, double radius) const {
    std::vector<int> found;
    const auto [column, row] = key(place.x(), place.y());
    for (int r = row - 1; r <= row + 1; ++r)
      for (int c = column - 1; c <= column + 1; ++c) {
        const auto cell = cells_.find({c, r});
        if (cell == cells_.end()) continue;
        for (const int i : cell->second)
          if ((points_.row(i) - place).squaredNorm() <= radius * radius) found.push_back(i);
      }
    return found;
  }

 private:
  std::pair<int, int> key(double x, double y) const {
    return {static_cast<int>(std::floor(x / cell_)), static_cast<int>(std::floor(y / cell_))};
  }
  const FlatPoints& points_;
  double cell_;
  std::map<std::pair<int, int>, std::vector<int>> cells_;
};

/// Foot of `place` on the quadric fitted through it and the listed nodes (at least 8; otherwise the
/// place itself). Large sets are thinned evenly.
Eigen::Vector3d foot_on_fit(const Eigen::Vector3d& place,
                            const Nodes& nodes,
                            const std::vector<int>& near) {
  if (near.size() < kFewestFitted) return place;
  std::vector<Kernel::Point_3> points{Kernel::Point_3(place.x(), place.y(), place.z())};
  const std::size_t stride = 1 + near.size() / kMostFitted;
  for (std::size_t i = 0; i < near.size(); i += stride) {
    const auto p = nodes.row(near[i]);
    if ((p.transpose() - place).squaredNorm() > 0.0) points.emplace_back(p[0], p[1], p[2]);
  }
  CGAL::Monge_via_jet_fitting<Kernel> fitting;
  const auto form = fitting(points.begin(), points.end(), 2, 2);
  return {form.origin().x(), form.origin().y(), form.origin().z()};
}

/// Radius on the map within which about `count` nodes lie.
double radius_for(const Mesh& mesh, double count) {
  return std::sqrt(count / base::kPi * triangle_areas(mesh).sum() /
                   static_cast<double>(mesh.nodes.rows()));
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

Mesh with_small_holes_closed(const Mesh& mesh, double element_size_m, PanelReport& report) {
  const std::vector<std::vector<int>> loops = boundary_loops(mesh.triangles);
  std::vector<Loop> sizes;
  for (const std::vector<int>& loop : loops) sizes.push_back(measure(mesh.nodes, loop));
  std::size_t outer = 0;
  for (std::size_t i = 1; i < loops.size(); ++i)
    if (sizes[i].length > sizes[outer].length) outer = i;
  const double limit = std::min(2.0 * element_size_m, kLargestFilled);
  SurfaceMesh surface;
  int filled = 0;
  for (std::size_t i = 0; i < loops.size(); ++i) {
    const bool slit = 2.0 * sizes[i].area < kSlitWidth * sizes[i].length;
    if (i == outer || (sizes[i].across > limit && !slit)) continue;
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

double scan_noise(const Mesh& mesh, const FlatPoints& flat) {
  const double radius = radius_for(mesh, kNoiseNeighbours);
  const Neighbours grid(flat, radius);
  std::vector<double> moved;
  const Eigen::Index stride = 1 + mesh.nodes.rows() / kNoiseSamples;
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); i += stride) {
    const std::vector<int> near = grid.within(flat.row(i), radius);
    if (near.size() < kFewestFitted) continue;
    const Eigen::Vector3d place = mesh.nodes.row(i).transpose();
    moved.push_back((foot_on_fit(place, mesh.nodes, near) - place).norm());
  }
  if (moved.empty()) return 0.0;
  const auto middle = moved.begin() + static_cast<std::ptrdiff_t>(moved.size() / 2);
  std::nth_element(moved.begin(), middle, moved.end());
  return *middle / kMedianShare;
}

bool is_noisy(double noise_m, const Mesh& mesh, double element_size_m) {
  return noise_m > kNoise && mean_edge_length(mesh) < 0.7 * element_size_m;
}

void move_onto_fit(const Mesh& scan,
                   const FlatPoints& scan_flat,
                   double radius_m,
                   const FlatPoints& flat,
                   Nodes& nodes) {
  const double radius = std::max(radius_m, radius_for(scan, kNoiseNeighbours));
  const Neighbours grid(scan_flat, radius);
  for (Eigen::Index i = 0; i < nodes.rows(); ++i) {
    const Eigen::Vector3d place = nodes.row(i).transpose();
    nodes.row(i) = foot_on_fit(place, scan.nodes, grid.within(flat.row(i), radius)).transpose();
  }
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
