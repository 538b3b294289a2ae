// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/gaps.hpp"

#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>
#include <CGAL/utility.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <exception>
#include <iterator>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "panel/cgal_mesh.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector3d;

constexpr std::size_t kMostEdges = 40;
constexpr double kBite = 0.3;  // least area of a bite over its width squared

Vector3d at(const Mesh& mesh, int node) { return mesh.nodes.row(node).transpose(); }

Vector3d area_vector(const Mesh& mesh, int t) {
  const Vector3d a = at(mesh, mesh.triangles(t, 0));
  return (at(mesh, mesh.triangles(t, 1)) - a).cross(at(mesh, mesh.triangles(t, 2)) - a);
}

/// The free sides of a sheet, and how they follow one another round the gaps.
class GapRims {
 public:
  explicit GapRims(const Mesh& mesh) : mesh_(mesh), across_(neighbours(mesh.triangles)) {
    std::vector<int> from;
    for (int t = 0; t < static_cast<int>(across_.rows()); ++t)
      for (int k = 0; k < 3; ++k)
        if (across_(t, k) < 0) {
          sides_.push_back({t, k});
          from.push_back(mesh.triangles(t, k));
        }
    std::vector<int> to;
    for (const Side& side : sides_)
      to.push_back(mesh.triangles(side.triangle, (side.side + 1) % 3));
    leaving_ = grouped(from, static_cast<int>(mesh.nodes.rows()));
    const Groups arriving = grouped(to, static_cast<int>(mesh.nodes.rows()));
    next_.assign(sides_.size(), -1);
    for (std::size_t node = 0; node + 1 < leaving_.first.size(); ++node) {
      std::vector<int> in(arriving.list.begin() + arriving.first[node],
                          arriving.list.begin() + arriving.first[node + 1]);
      std::vector<int> out(leaving_.list.begin() + leaving_.first[node],
                           leaving_.list.begin() + leaving_.first[node + 1]);
      if (!in.empty()) join(in, out);
    }
  }

  /// Nodes of each gap in the sense of the sheet's sides, the gap on their right.
  std::vector<std::vector<int>> loops() const {
    std::vector<std::vector<int>> loops;
    std::vector<char> seen(sides_.size(), 0);
    for (std::size_t s = 0; s < sides_.size(); ++s) {
      std::vector<int> loop;
      for (std::size_t here = s; !seen[here]; here = std::size_t(next_[here])) {
        seen[here] = 1;
        loop.push_back(from(here));
      }
      if (!loop.empty()) loops.push_back(std::move(loop));
    }
    return loops;
  }

 private:
  struct Side {
    int triangle, side;
  };
  int from(std::size_t s) const { return mesh_.triangles(sides_[s].triangle, sides_[s].side); }
  int to(std::size_t s) const {
    return mesh_.triangles(sides_[s].triangle, (sides_[s].side + 1) % 3);
  }

  /// The free side at which the triangles round the end of free side `s` begin.
  int own_fan(std::size_t s) const {
    const int node = to(s);
    int t = sides_[s].triangle, k = (sides_[s].side + 1) % 3;  // side k leaves the node
    while (across_(t, k) >= 0) {
      t = across_(t, k);
      k = 0;
      while (mesh_.triangles(t, k) != node) ++k;
    }
    for (int i = leaving_.first[std::size_t(node)];; ++i) {
      const int out = leaving_.list[std::size_t(i)];
      if (sides_[std::size_t(out)].triangle == t && sides_[std::size_t(out)].side == k) return out;
    }
  }

  /// Anticlockwise angle at a node, seen from outside, from where free side `in` comes to where
  /// `out` goes.
  double gap_angle(int in, int out, const Vector3d& normal) const {
    const Vector3d here = at(mesh_, to(std::size_t(in)));
    const Vector3d back = at(mesh_, from(std::size_t(in))) - here;
    const Vector3d ahead = at(mesh_, to(std::size_t(out))) - here;
    const double angle = std::atan2(back.cross(ahead).dot(normal),
                                    back.dot(ahead) - back.dot(normal) * ahead.dot(normal));
    return angle <= 0.0 ? angle + base::kTwoPi : angle;
  }

  /// Says which free side leaving a node follows each one arriving there, round the same gap: with
  /// several gaps never one of the same triangles, and the narrowest gap first.
  void join(const std::vector<int>& in, std::vector<int> out) {
    if (in.size() == 1) {
      next_[std::size_t(in[0])] = out[0];
      return;
    }
    Vector3d normal = Vector3d::Zero();
    for (const int i : in) normal += area_vector(mesh_, sides_[std::size_t(i)].triangle);
    normal.normalize();
    std::vector<std::tuple<bool, double, int, int>> pairs;
    for (const int i : in) {
      const int own = own_fan(std::size_t(i));
      for (const int o : out) pairs.emplace_back(o == own, gap_angle(i, o, normal), i, o);
    }
    std::sort(pairs.begin(), pairs.end());
    std::set<int> taken;
    for (const auto& [own, angle, i, o] : pairs)
      if (next_[std::size_t(i)] < 0 && taken.insert(o).second) next_[std::size_t(i)] = o;
  }

  const Mesh& mesh_;
  Triangles across_;
  std::vector<Side> sides_;
  Groups leaving_;         // free sides by the node they leave
  std::vector<int> next_;  // free side after each one
};

struct Measure {
  double length = 0.0, across = 0.0;
};

Measure measure(const Mesh& mesh, const std::vector<int>& loop) {
  Measure found;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vector3d p = at(mesh, loop[i]);
    found.length += (at(mesh, loop[(i + 1) % loop.size()]) - p).norm();
    if (loop.size() > kMostEdges) continue;
    for (std::size_t j = 0; j < i; ++j)
      found.across = std::max(found.across, (at(mesh, loop[j]) - p).norm());
  }
  return found;
}

/// Triangles over a loop, their sense against that of the loop; none if CGAL finds none.
std::vector<std::array<int, 3>> cover_of(const Mesh& mesh, const std::vector<int>& loop) {
  if (loop.size() == 3) return {{loop[2], loop[1], loop[0]}};
  std::vector<Kernel::Point_3> rim;
  for (const int node : loop)
    rim.emplace_back(mesh.nodes(node, 0), mesh.nodes(node, 1), mesh.nodes(node, 2));
  std::vector<CGAL::Triple<int, int, int>> cut;
  try {
    CGAL::Polygon_mesh_processing::triangulate_hole_polyline(rim, std::back_inserter(cut));
  } catch (const std::exception&) {
    return {};
  }
  if (cut.size() + 2 != loop.size()) return {};
  std::vector<std::array<int, 3>> cover;
  for (const auto& t : cut) {
    // CGAL does not promise the rim's own sense; numbers along the rim tell it.
    std::array<std::size_t, 3> along{
        std::size_t(t.first), std::size_t(t.second), std::size_t(t.third)};
    std::sort(along.begin(), along.end());
    cover.push_back({loop[along[2]], loop[along[1]], loop[along[0]]});
  }
  return cover;
}

using Edge = std::pair<int, int>;

/// Edges inside a cover, lower node first.
std::vector<Edge> inner_edges(const std::vector<std::array<int, 3>>& cover) {
  std::vector<Edge> edges, inner;
  for (const auto& t : cover)
    for (std::size_t k = 0; k < 3; ++k) edges.push_back(std::minmax(t[k], t[(k + 1) % 3]));
  std::sort(edges.begin(), edges.end());
  for (std::size_t i = 0; i + 1 < edges.size(); ++i)
    if (edges[i] == edges[i + 1]) inner.push_back(edges[i]);
  return inner;
}

bool is_edge(const Mesh& mesh, const Groups& corners, const Edge& edge) {
  const auto node = static_cast<std::size_t>(edge.first);
  for (int i = corners.first[node]; i < corners.first[node + 1]; ++i) {
    const int t = corners.list[std::size_t(i)] / 3;
    for (int k = 0; k < 3; ++k)
      if (mesh.triangles(t, k) == edge.second) return true;
  }
  return false;
}

bool repeats_a_node(std::vector<int> loop) {
  std::sort(loop.begin(), loop.end());
  return std::adjacent_find(loop.begin(), loop.end()) != loop.end();
}

/// Triangles laid over gaps of a mesh, kept apart from it until all are laid.
class Covers {
 public:
  explicit Covers(const Mesh& mesh)
      : mesh_(mesh), corners_(corners_by_node(mesh.triangles, mesh.nodes.rows())) {}

  /// Covers a loop, or a stretch whose ends are joined by a new edge (`open`).
  /// @return false if there is no cover, or a third triangle would come to lie on an edge
  bool lay(const std::vector<int>& loop, bool open) {
    const auto cover = cover_of(mesh_, loop);
    std::vector<Edge> fresh = inner_edges(cover);
    if (open) fresh.push_back(std::minmax(loop.front(), loop.back()));
    const bool clear = std::none_of(fresh.begin(), fresh.end(), [&](const Edge& e) {
      return laid_.count(e) > 0 || is_edge(mesh_, corners_, e);
    });
    if (cover.empty() || !clear) return false;
    laid_.insert(fresh.begin(), fresh.end());
    triangles_.insert(triangles_.end(), cover.begin(), cover.end());
    return true;
  }

  void add_to(Mesh& mesh) const {
    const Eigen::Index before = mesh.triangles.rows();
    mesh.triangles.conservativeResize(before + static_cast<Eigen::Index>(triangles_.size()), 3);
    for (std::size_t t = 0; t < triangles_.size(); ++t)
      mesh.triangles.row(before + static_cast<Eigen::Index>(t)) << triangles_[t][0],
          triangles_[t][1], triangles_[t][2];
  }

 private:
  const Mesh& mesh_;
  Groups corners_;
  std::set<Edge> laid_;
  std::vector<std::array<int, 3>> triangles_;
};

/// A stretch of a loop round a bite.
struct Bite {
  double depth = 0.0;  ///< area over width, m
  std::size_t from = 0, steps = 0;
};

/// The deepest bite that begins at position `i` of a loop; without steps if there is none.
Bite bite_from(const Mesh& mesh,
               const Nodes& normals,
               const std::vector<int>& loop,
               std::size_t i,
               double across_m) {
  const std::size_t n = loop.size();
  const Vector3d first = at(mesh, loop[i]);
  Vector3d area = Vector3d::Zero(), normal = normals.row(loop[i]).transpose();
  double length = 0.0;
  Bite best{0.0, i, 0};
  Vector3d here = first;
  for (std::size_t steps = 1; steps < std::min(n - 1, kMostEdges); ++steps) {
    const int node = loop[(i + steps) % n];
    const Vector3d next = at(mesh, node);
    length += (next - here).norm();
    if (length > 4.0 * across_m) break;
    area += 0.5 * (here - first).cross(next - first);
    normal += normals.row(node).transpose();
    here = next;
    // The skin is on the left, so a bite is gone round clockwise.
    const double chord = (next - first).norm(), bite = -area.dot(normal.normalized());
    if (steps < 2 || chord > across_m || bite < kBite * chord * chord) continue;
    if (bite > best.depth * chord) best = {bite / chord, i, steps};
  }
  return best;
}

}  // namespace

Mesh without_crowded_edges(const Mesh& mesh, PanelReport& report) {
  const std::vector<TriangleSide> sides = sorted_sides(mesh.triangles);
  std::vector<char> gone(static_cast<std::size_t>(mesh.triangles.rows()), 0);
  for (std::size_t begin = 0, end = 0; begin < sides.size(); begin = end) {
    while (end < sides.size() && sides[end].low == sides[begin].low &&
           sides[end].high == sides[begin].high)
      ++end;
    if (end - begin < 3) continue;
    // Directions across the edge into each triangle: those that go on smoothly are opposite.
    const Vector3d low = at(mesh, sides[begin].low);
    const Vector3d edge = (at(mesh, sides[begin].high) - low).normalized();
    std::vector<Vector3d> into;
    for (std::size_t i = begin; i < end; ++i) {
      const Vector3d tip =
          at(mesh, mesh.triangles(sides[i].triangle, (sides[i].side + 2) % 3)) - low;
      into.push_back((tip - tip.dot(edge) * edge).normalized());
    }
    std::size_t first = 0, second = 1;
    for (std::size_t i = 0; i < into.size(); ++i)
      for (std::size_t j = i + 1; j < into.size(); ++j)
        if (into[i].dot(into[j]) < into[first].dot(into[second]) - 1e-9) first = i, second = j;
    for (std::size_t i = 0; i < into.size(); ++i)
      if (i != first && i != second) gone[std::size_t(sides[begin + i].triangle)] = 1;
  }
  Mesh out{mesh.nodes, Triangles(mesh.triangles.rows(), 3)};
  Eigen::Index kept = 0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    if (!gone[std::size_t(t)]) out.triangles.row(kept++) = mesh.triangles.row(t);
  report.dropped_triangles += static_cast<int>(mesh.triangles.rows() - kept);
  out.triangles.conservativeResize(kept, 3);
  return out;
}

void close_gaps(Mesh& mesh, double across_m, PanelReport& report) {
  const std::vector<std::vector<int>> loops = GapRims(mesh).loops();
  std::vector<Measure> sizes;
  for (const std::vector<int>& loop : loops) sizes.push_back(measure(mesh, loop));
  std::size_t rim = 0;
  for (std::size_t i = 1; i < loops.size(); ++i)
    if (sizes[i].length > sizes[rim].length) rim = i;
  Covers covers(mesh);
  for (std::size_t i = 0; i < loops.size(); ++i) {
    if (i == rim || loops[i].size() > kMostEdges || sizes[i].across > across_m) continue;
    if (loops[i].size() < 3 || repeats_a_node(loops[i])) continue;
    if (covers.lay(loops[i], false)) ++report.holes_filled;
  }
  covers.add_to(mesh);
}

void close_bites(Mesh& mesh, double across_m, PanelReport& report) {
  const Nodes normals = node_normals(mesh);
  Covers covers(mesh);
  std::vector<int> rim;
  double longest = 0.0;
  for (const std::vector<int>& loop : boundary_loops(mesh.triangles)) {
    const double length = measure(mesh, loop).length;
    if (length > longest) rim = loop;
    longest = std::max(longest, length);
  }
  std::vector<Bite> bites;
  for (std::size_t i = 0; i < rim.size(); ++i) {
    bites.push_back(bite_from(mesh, normals, rim, i, across_m));
    if (bites.back().steps == 0) bites.pop_back();
  }
  std::stable_sort(
      bites.begin(), bites.end(), [](const Bite& a, const Bite& b) { return a.depth > b.depth; });
  std::vector<char> taken(rim.size(), 0);
  for (const Bite& bite : bites) {
    std::vector<int> nodes;
    bool clear = true;
    for (std::size_t k = 0; k <= bite.steps; ++k) {
      nodes.push_back(rim[(bite.from + k) % rim.size()]);
      clear = clear && !taken[(bite.from + k) % rim.size()];
    }
    if (!clear || !covers.lay(nodes, true)) continue;
    for (std::size_t k = 0; k <= bite.steps; ++k) taken[(bite.from + k) % rim.size()] = 1;
    ++report.holes_filled;
  }
  covers.add_to(mesh);
}

}  // namespace calmplate::panel
