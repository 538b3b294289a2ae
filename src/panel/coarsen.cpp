// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/coarsen.hpp"

#include <CGAL/boost/graph/Euler_operations.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "base/units.hpp"
#include "panel/cgal_mesh.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Vertex = SurfaceMesh::Vertex_index;
using EdgeIndex = SurfaceMesh::Edge_index;
constexpr double kGrowth = 1.4;
constexpr double kRimShare = 0.3;
/// Least (2 area / sum of squared sides)^2 of a triangle after a collapse: an eighth of the even
/// triangle's 2 area / sum, squared.
constexpr double kForm = 1.0 / 12.0 / 64.0;
const double kStraight = std::cos(base::from_degrees(25.0));
constexpr unsigned kMostNeighbours = 10;  // of a node after a collapse

/// A mesh while its edges are collapsed.
class Collapsing {
 public:
  Collapsing(const Mesh& mesh, double rim_limit)
      : surface_(to_surface(mesh)),
        rim_limit_squared_(rim_limit * rim_limit),
        weight_(static_cast<std::size_t>(mesh.nodes.rows()), 1.0),
        on_rim_(weight_.size(), 0) {
    for (const auto h : surface_.halfedges())
      if (surface_.is_border(h)) on_rim_[surface_.target(h)] = 1;
  }

  /// Collapses what it may of the edges shorter than the limit, in order of their numbers.
  void round(double limit) {
    const auto n = static_cast<SurfaceMesh::size_type>(surface_.num_edges());
    for (SurfaceMesh::size_type e = 0; e < n; ++e) collapse_if_short(EdgeIndex(e), limit * limit);
  }

  Mesh take() { return from_surface(surface_); }

 private:
  void collapse_if_short(EdgeIndex e, double limit_squared) {
    if (surface_.is_removed(e)) return;
    const auto h = surface_.halfedge(e);
    const Vertex a = surface_.source(h), b = surface_.target(h);
    const bool rim_edge = surface_.is_border(e);
    const double square = CGAL::squared_distance(surface_.point(a), surface_.point(b));
    if (square >= (rim_edge ? std::min(limit_squared, rim_limit_squared_) : limit_squared)) return;
    if (surface_.degree(a) + surface_.degree(b) > kMostNeighbours + 4) return;
    // Refuses edges across the sheet between two rim nodes as well: they would pinch it.
    if (!CGAL::Euler::does_satisfy_link_condition(e, surface_)) return;
    // The rim leads; along the rim its corners do.
    bool a_leads = on_rim_[a] && !on_rim_[b], b_leads = on_rim_[b] && !on_rim_[a];
    if (rim_edge) {
      const bool a_turns = turns_at(a), b_turns = turns_at(b);
      a_leads = a_turns && !b_turns;
      b_leads = b_turns && !a_turns;
    }
    const double wa = b_leads ? 0.0 : weight_[a], wb = a_leads ? 0.0 : weight_[b];
    const Kernel::Point_3 middle =
        CGAL::barycenter(surface_.point(a), wa / (wa + wb), surface_.point(b), wb / (wa + wb));
    if (!stays_sound(h, middle) || !stays_sound(surface_.opposite(h), middle)) return;
    const char rim = on_rim_[a] | on_rim_[b];
    const Vertex kept = CGAL::Euler::collapse_edge(e, surface_);
    surface_.point(kept) = middle;
    weight_[kept] = wa + wb;
    on_rim_[kept] = rim;
  }

  /// Whether the triangles round the end of h, but for the two at its edge, keep their side and
  /// some form when that end moves.
  bool stays_sound(SurfaceMesh::Halfedge_index h, const Kernel::Point_3& moved) const {
    const Vertex gone = surface_.source(h), v = surface_.target(h);
    const Kernel::Point_3& here = surface_.point(v);
    Kernel::Vector_3 facing(0.0, 0.0, 0.0);
    const auto others = [&](const auto& visit) {
      for (const auto round : surface_.halfedges_around_target(surface_.halfedge(v))) {
        if (surface_.is_border(round)) continue;
        const Vertex a = surface_.source(round), b = surface_.target(surface_.next(round));
        if (!visit(surface_.point(a), surface_.point(b), a == gone || b == gone)) return false;
      }
      return true;
    };
    others([&](const auto& a, const auto& b, bool) {
      facing = facing + CGAL::cross_product(b - here, a - here);
      return true;
    });
    return others([&](const auto& a, const auto& b, bool at_edge) {
      if (at_edge) return true;
      const Kernel::Vector_3 u = b - moved, w = a - moved, now = CGAL::cross_product(u, w);
      if (now * facing <= 0.0) return false;
      const Kernel::Vector_3 before = CGAL::cross_product(b - here, a - here);
      const double form = now.squared_length() / square(u * u + w * w + (b - a).squared_length());
      return form > kForm || form >= before.squared_length() / square((b - here).squared_length() +
                                                                      (a - here).squared_length() +
                                                                      (b - a).squared_length());
    });
  }
  static double square(double x) { return x * x; }

  /// Whether the rim turns sharply at a node of it.
  bool turns_at(Vertex v) const {
    auto h = surface_.halfedge(v);
    while (!surface_.is_border(h)) h = surface_.prev(surface_.opposite(h));
    const auto before = surface_.point(surface_.source(h));
    const auto here = surface_.point(v);
    const auto after = surface_.point(surface_.target(surface_.next(h)));
    const auto in = here - before, out = after - here;
    return in * out < kStraight * std::sqrt(in.squared_length() * out.squared_length());
  }

  SurfaceMesh surface_;
  double rim_limit_squared_;
  std::vector<double> weight_;  // nodes that each one stands for
  std::vector<char> on_rim_;
};

}  // namespace

Mesh coarsened(const Mesh& mesh, double edge_m) {
  Collapsing collapsing(mesh, kRimShare * edge_m);
  for (double limit = mean_edge_length(mesh); limit < edge_m; limit *= kGrowth)
    collapsing.round(limit);
  collapsing.round(edge_m);
  return collapsing.take();
}

}  // namespace calmplate::panel
