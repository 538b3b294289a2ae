// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/plane_mesh.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <stdexcept>
#include <utility>

#include "panel/plane_smooth.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;
using PlaneKernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<int, PlaneKernel>;
using FaceBase = CGAL::Triangulation_face_base_with_info_2<
    int,
    PlaneKernel,
    CGAL::Constrained_triangulation_face_base_2<PlaneKernel>>;
using Delaunay = CGAL::Constrained_Delaunay_triangulation_2<
    PlaneKernel,
    CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>,
    CGAL::No_constraint_intersection_requiring_constructions_tag>;

constexpr int kRounds = 15;
constexpr int kOpenRounds = 3;
constexpr double kFromRim = 0.6;   // of the spacing: nearest lattice point to the rim
constexpr int kFinestLattice = 6;  // halvings
constexpr int kUnknown = -1;

/// An edge of a loop between two points by number.
struct Edge {
  int from, to;
};

std::vector<Edge> edges_of(const std::vector<FlatPoints>& loops) {
  std::vector<Edge> edges;
  int first = 0;
  for (const FlatPoints& loop : loops) {
    const auto n = static_cast<int>(loop.rows());
    for (int i = 0; i < n; ++i) edges.push_back({first + i, first + (i + 1) % n});
    first += n;
  }
  return edges;
}

/// Even-odd rule.
bool inside(const Vector2d& p,
            const std::vector<Vector2d>& points,
            const std::vector<Edge>& edges) {
  bool odd = false;
  for (const Edge& e : edges) {
    const Vector2d& a = points[static_cast<std::size_t>(e.from)];
    const Vector2d& b = points[static_cast<std::size_t>(e.to)];
    if ((a.y() > p.y()) != (b.y() > p.y()) &&
        p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x()))
      odd = !odd;
  }
  return odd;
}

bool clear_of(const Vector2d& p,
              const std::vector<Vector2d>& points,
              const std::vector<Edge>& edges,
              double distance) {
  return std::none_of(edges.begin(), edges.end(), [&](const Edge& e) {
    const Vector2d& a = points[static_cast<std::size_t>(e.from)];
    const Vector2d ab = points[static_cast<std::size_t>(e.to)] - a;
    const double share = std::clamp((p - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
    return (a + share * ab - p).squaredNorm() < distance * distance;
  });
}

/// Adds the lattice points that lie inside and clear of the loops.
void add_lattice(std::vector<Vector2d>& points, const std::vector<Edge>& edges, double spacing) {
  Vector2d low = points[0], high = points[0];
  for (const Vector2d& p : points) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  const std::vector<Vector2d> rim = points;
  const Vector2d middle = 0.5 * (low + high);
  const double rise = 0.5 * std::sqrt(3.0) * spacing;
  const int rows = static_cast<int>(0.5 * (high.y() - low.y()) / rise) + 1;
  const int columns = static_cast<int>(0.5 * (high.x() - low.x()) / spacing) + 1;
  for (int r = -rows; r <= rows; ++r)
    for (int c = -columns; c <= columns; ++c) {
      const Vector2d p = middle + Vector2d((c + (r % 2 == 0 ? 0.0 : 0.5)) * spacing, r * rise);
      if (inside(p, rim, edges) && clear_of(p, rim, edges, kFromRim * spacing)) points.push_back(p);
    }
}

/// Points kept apart by cells, so that a new one is compared with its neighbours only.
class Crowd {
 public:
  explicit Crowd(double cell) : cell_(cell) {}
  void add(const Vector2d& p) { cells_[key(p, 0, 0)].push_back(p); }
  bool clear(const Vector2d& p, double distance) const {
    const int reach = static_cast<int>(std::ceil(distance / cell_));
    for (int i = -reach; i <= reach; ++i)
      for (int j = -reach; j <= reach; ++j) {
        const auto found = cells_.find(key(p, i, j));
        if (found == cells_.end()) continue;
        for (const Vector2d& q : found->second)
          if ((q - p).squaredNorm() < distance * distance) return false;
      }
    return true;
  }

 private:
  std::pair<long, long> key(const Vector2d& p, int i, int j) const {
    return {std::lround(p.x() / cell_) + i, std::lround(p.y() / cell_) + j};
  }
  double cell_;
  std::map<std::pair<long, long>, std::vector<Vector2d>> cells_;
};

using SizeAt = std::function<double(const Vector2d&)>;

/// Adds the rows' points and then lattice points that lie inside, clear of the loops and of the
/// rows. @return how many of the rows' points were taken
std::size_t add_graded(std::vector<Vector2d>& points,
                       const std::vector<Edge>& edges,
                       const FlatPoints& rows,
                       double coarsest,
                       double finest,
                       const SizeAt& size) {
  const std::vector<Vector2d> rim = points;
  Vector2d low = rim[0], high = rim[0];
  for (const Vector2d& p : rim) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  const auto stands = [&](const Vector2d& p, double wanted) {
    return inside(p, rim, edges) && clear_of(p, rim, edges, kFromRim * wanted);
  };
  Crowd crowd(coarsest);
  for (Eigen::Index i = 0; i < rows.rows(); ++i) {
    const Vector2d p = rows.row(i).transpose();
    const double wanted = size(p);
    if (!crowd.clear(p, kFromRim * wanted) || !stands(p, wanted)) continue;
    crowd.add(p);
    points.push_back(p);
  }
  const std::size_t taken = points.size() - rim.size();
  int halvings = 0;
  while (halvings < kFinestLattice && coarsest / (1 << halvings) > std::sqrt(2.0) * finest)
    ++halvings;
  const int parts = 1 << halvings;
  const double step = coarsest / parts, rise = 0.5 * std::sqrt(3.0) * step;
  const Vector2d middle = 0.5 * (low + high), half = 0.5 * (high - low);
  const int rows_up = static_cast<int>(half.y() / rise) + 1;
  for (int r = -rows_up; r <= rows_up; ++r) {
    const int reach = static_cast<int>((half.x() + 0.5 * std::abs(r) * step) / step) + 1;
    for (int c = -reach; c <= reach; ++c) {
      const Vector2d p = middle + Vector2d((c + 0.5 * r) * step, r * rise);
      if (std::abs(p.x() - middle.x()) > half.x()) continue;
      // The coarsest lattice that has this point.
      int divisor = parts;
      while (divisor > 1 && (r % divisor != 0 || c % divisor != 0)) divisor /= 2;
      const double wanted = size(p);
      if (divisor < parts && wanted > std::sqrt(2.0) * step * divisor) continue;
      if (crowd.clear(p, kFromRim * wanted) && stands(p, wanted)) points.push_back(p);
    }
  }
  return taken;
}

[[noreturn]] void fail_crossing(const Vector2d& at) {
  char text[120];
  std::snprintf(text,
                sizeof text,
                "two stretches of rim meet near (%.1f, %.1f) mm on the flat map",
                1e3 * at.x(),
                1e3 * at.y());
  throw std::invalid_argument(text);
}

Delaunay triangulated(const std::vector<Vector2d>& points, const std::vector<Edge>& edges) {
  Delaunay plane;
  std::vector<Delaunay::Vertex_handle> handle;
  Delaunay::Face_handle hint;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto v = plane.insert(PlaneKernel::Point_2(points[i].x(), points[i].y()), hint);
    if (plane.number_of_vertices() != i + 1) fail_crossing(points[i]);  // two in one place
    v->info() = static_cast<int>(i);
    hint = v->face();
    handle.push_back(v);
  }
  for (const Edge& e : edges) {
    try {
      plane.insert_constraint(handle[static_cast<std::size_t>(e.from)],
                              handle[static_cast<std::size_t>(e.to)]);
    } catch (const Delaunay::Intersection_of_constraints_exception&) {
      fail_crossing(points[static_cast<std::size_t>(e.from)]);
    }
  }
  return plane;
}

/// Triangles that an odd number of loops separates from the outside.
std::vector<std::array<int, 3>> between_loops(Delaunay& plane) {
  for (auto f = plane.all_faces_begin(); f != plane.all_faces_end(); ++f) f->info() = kUnknown;
  std::vector<Delaunay::Face_handle> queue{plane.infinite_face()};
  queue[0]->info() = 0;
  for (std::size_t q = 0; q < queue.size(); ++q) {
    const Delaunay::Face_handle f = queue[q];
    for (int k = 0; k < 3; ++k) {
      const Delaunay::Face_handle other = f->neighbor(k);
      if (other->info() != kUnknown) continue;
      other->info() = f->info() ^ (plane.is_constrained({f, k}) ? 1 : 0);
      queue.push_back(other);
    }
  }
  std::vector<std::array<int, 3>> triangles;
  for (auto f = plane.finite_faces_begin(); f != plane.finite_faces_end(); ++f) {
    if (f->info() != 1) continue;
    std::array<int, 3> t{f->vertex(0)->info(), f->vertex(1)->info(), f->vertex(2)->info()};
    std::rotate(t.begin(), std::min_element(t.begin(), t.end()), t.end());
    triangles.push_back(t);
  }
  std::sort(triangles.begin(), triangles.end());
  return triangles;
}

std::vector<Vector2d> points_of(const std::vector<FlatPoints>& loops) {
  std::vector<Vector2d> points;
  for (const FlatPoints& loop : loops)
    for (Eigen::Index i = 0; i < loop.rows(); ++i) points.push_back(loop.row(i).transpose());
  return points;
}

/// Triangulates and smooths; the first `n_fixed` points stay.
/// @param open  sharp angles are opened too
PlaneMesh finished(std::vector<Vector2d> points,
                   const std::vector<Edge>& edges,
                   std::size_t n_fixed,
                   bool open) {
  PlaneTriangles triangles;
  const int rounds = kRounds + (open ? kOpenRounds : 0);
  for (int round = 0; round <= rounds; ++round) {
    Delaunay plane = triangulated(points, edges);
    triangles = between_loops(plane);
    if (round < kRounds)
      to_centroids(points, n_fixed, triangles);
    else if (round < rounds)
      open_angles(points, n_fixed, triangles);
  }
  PlaneMesh mesh;
  mesh.points.resize(static_cast<Eigen::Index>(points.size()), 2);
  mesh.triangles.resize(static_cast<Eigen::Index>(triangles.size()), 3);
  for (std::size_t i = 0; i < points.size(); ++i)
    mesh.points.row(static_cast<Eigen::Index>(i)) = points[i].transpose();
  for (std::size_t t = 0; t < triangles.size(); ++t)
    for (int k = 0; k < 3; ++k)
      mesh.triangles(static_cast<Eigen::Index>(t), k) = triangles[t][static_cast<std::size_t>(k)];
  return mesh;
}

}  // namespace

PlaneMesh mesh_between(const std::vector<FlatPoints>& loops, double spacing) {
  std::vector<Vector2d> points = points_of(loops);
  const std::size_t n_rim = points.size();
  const std::vector<Edge> edges = edges_of(loops);
  add_lattice(points, edges, spacing);
  return finished(std::move(points), edges, n_rim, false);
}

PlaneMesh mesh_between(const std::vector<FlatPoints>& loops,
                       const FlatPoints& rows,
                       double coarsest,
                       double finest,
                       const std::function<double(const Vector2d&)>& size) {
  std::vector<Vector2d> points = points_of(loops);
  const std::size_t n_rim = points.size();
  const std::vector<Edge> edges = edges_of(loops);
  const std::size_t n_rows = add_graded(points, edges, rows, coarsest, finest, size);
  return finished(std::move(points), edges, n_rim + n_rows, true);
}

}  // namespace calmplate::panel
