// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/sheet.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <map>
#include <set>
#include <stdexcept>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

constexpr double kWeldShare = 1e-6;
constexpr double kSmallest = 0.020;  // m across
constexpr double kLargest = 4.0;     // m across

[[noreturn]] void refuse(const std::string& name,
                         const std::string& wrong,
                         const std::string& allowed) {
  throw base::InputError({name, 0, ""}, wrong, allowed);
}

void check_raw(const Mesh& raw, const std::string& name) {
  if (raw.triangles.rows() == 0) refuse(name, "holds no triangle", "a surface of triangles");
  if (raw.triangles.minCoeff() < 0 || raw.triangles.maxCoeff() >= raw.nodes.rows())
    throw std::invalid_argument("make_panel: a triangle names a node that is not there");
  for (Eigen::Index i = 0; i < raw.nodes.rows(); ++i)
    if (!raw.nodes.row(i).allFinite())
      refuse(name, "node " + std::to_string(i) + " has a coordinate that is not finite", "numbers");
}

/// For every node the first node within the tolerance (itself if there is none).
std::vector<int> welded(const Nodes& nodes, double tolerance) {
  using Cell = std::array<std::int64_t, 3>;
  std::map<Cell, std::vector<int>> cells;  // of nodes that stay
  std::vector<int> stands_for(static_cast<std::size_t>(nodes.rows()));
  const Eigen::RowVector3d low = nodes.colwise().minCoeff();
  for (int i = 0; i < static_cast<int>(nodes.rows()); ++i) {
    const Eigen::RowVector3d at = (nodes.row(i) - low) / (2.0 * tolerance);
    // With cells of twice the tolerance, a node's ball meets at most two cells each way.
    int found = -1;
    Cell from, to;
    for (int a = 0; a < 3; ++a) {
      from[static_cast<std::size_t>(a)] = static_cast<std::int64_t>(std::floor(at[a] - 0.5));
      to[static_cast<std::size_t>(a)] = static_cast<std::int64_t>(std::floor(at[a] + 0.5));
    }
    for (std::int64_t x = from[0]; x <= to[0]; ++x)
      for (std::int64_t y = from[1]; y <= to[1]; ++y)
        for (std::int64_t z = from[2]; z <= to[2]; ++z) {
          const auto cell = cells.find({x, y, z});
          if (cell == cells.end()) continue;
          for (const int other : cell->second)
            if ((nodes.row(i) - nodes.row(other)).norm() <= tolerance &&
                (found < 0 || other < found))
              found = other;
        }
    stands_for[static_cast<std::size_t>(i)] = found < 0 ? i : found;
    if (found < 0)
      cells[{static_cast<std::int64_t>(std::floor(at[0])),
             static_cast<std::int64_t>(std::floor(at[1])),
             static_cast<std::int64_t>(std::floor(at[2]))}]
          .push_back(i);
  }
  return stands_for;
}

/// Keeps the listed triangles and the nodes they use, both in their order.
Mesh kept(const Nodes& nodes, const std::vector<Eigen::RowVector3i>& triangles) {
  std::vector<int> number(static_cast<std::size_t>(nodes.rows()), -1);
  for (const auto& t : triangles)
    for (int k = 0; k < 3; ++k) number[static_cast<std::size_t>(t[k])] = 0;
  Mesh mesh;
  int count = 0;
  for (int& n : number)
    if (n == 0) n = count++;
  mesh.nodes.resize(count, 3);
  for (Eigen::Index i = 0; i < nodes.rows(); ++i)
    if (number[static_cast<std::size_t>(i)] >= 0)
      mesh.nodes.row(number[static_cast<std::size_t>(i)]) = nodes.row(i);
  mesh.triangles.resize(static_cast<Eigen::Index>(triangles.size()), 3);
  for (std::size_t t = 0; t < triangles.size(); ++t)
    for (int k = 0; k < 3; ++k)
      mesh.triangles(static_cast<Eigen::Index>(t), k) =
          number[static_cast<std::size_t>(triangles[t][k])];
  return mesh;
}

/// Welds, and drops triangles with two equal corners and doubled ones.
std::vector<Eigen::RowVector3i> without_doubles(const Mesh& raw, PanelReport& report) {
  const double diagonal = (raw.nodes.colwise().maxCoeff() - raw.nodes.colwise().minCoeff()).norm();
  const std::vector<int> stands_for = welded(raw.nodes, std::max(kWeldShare * diagonal, 1e-300));
  std::vector<char> used(stands_for.size(), 0);
  for (Eigen::Index i = 0; i < raw.triangles.size(); ++i)
    used[static_cast<std::size_t>(raw.triangles.data()[i])] = 1;
  for (std::size_t i = 0; i < stands_for.size(); ++i)
    if (used[i] && stands_for[i] != static_cast<int>(i)) ++report.duplicate_nodes;
  std::vector<Eigen::RowVector3i> triangles;
  std::set<std::array<int, 3>> seen;
  for (Eigen::Index t = 0; t < raw.triangles.rows(); ++t) {
    std::array<int, 3> node;
    for (int k = 0; k < 3; ++k)
      node[static_cast<std::size_t>(k)] = stands_for[static_cast<std::size_t>(raw.triangles(t, k))];
    std::array<int, 3> sorted = node;
    std::sort(sorted.begin(), sorted.end());
    const bool flat = sorted[0] == sorted[1] || sorted[1] == sorted[2];
    if (flat || !seen.insert(sorted).second) {
      ++report.degenerate_triangles;
      continue;
    }
    triangles.emplace_back(node[0], node[1], node[2]);
  }
  return triangles;
}

/// The sides of one edge after another: [begin, end) into the sorted list.
template <typename Visit>
void each_edge(const std::vector<TriangleSide>& sides, const Visit& visit) {
  for (std::size_t i = 0; i < sides.size();) {
    std::size_t end = i + 1;
    while (end < sides.size() && sides[end].low == sides[i].low && sides[end].high == sides[i].high)
      ++end;
    visit(i, end);
    i = end;
  }
}

/// Piece number of every triangle; triangles that share an edge are of one piece.
std::vector<int> pieces(const Triangles& triangles, const std::vector<TriangleSide>& sides) {
  std::vector<int> parent(static_cast<std::size_t>(triangles.rows()));
  for (std::size_t t = 0; t < parent.size(); ++t) parent[t] = static_cast<int>(t);
  const auto root = [&](int t) {
    while (parent[static_cast<std::size_t>(t)] != t)
      t = parent[static_cast<std::size_t>(t)] =
          parent[static_cast<std::size_t>(parent[static_cast<std::size_t>(t)])];
    return t;
  };
  each_edge(sides, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin + 1; i < end; ++i) {
      const int a = root(sides[begin].triangle), b = root(sides[i].triangle);
      parent[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    }
  });
  for (std::size_t t = 0; t < parent.size(); ++t) parent[t] = root(static_cast<int>(t));
  return parent;
}

Mesh largest_piece(const Mesh& mesh, PanelReport& report) {
  const std::vector<int> piece = pieces(mesh.triangles, sorted_sides(mesh.triangles));
  const Eigen::VectorXd areas = triangle_areas(mesh);
  std::map<int, double> area;
  for (std::size_t t = 0; t < piece.size(); ++t)
    area[piece[t]] += areas[static_cast<Eigen::Index>(t)];
  int largest = area.begin()->first;
  for (const auto& [number, size] : area)
    if (size > area[largest]) largest = number;
  std::vector<Eigen::RowVector3i> stay;
  for (std::size_t t = 0; t < piece.size(); ++t)
    if (piece[t] == largest) stay.push_back(mesh.triangles.row(static_cast<Eigen::Index>(t)));
  report.islands_dropped += static_cast<int>(area.size()) - 1;
  report.dropped_triangles += static_cast<int>(piece.size() - stay.size());
  return kept(mesh.nodes, stay);
}

void check_edges(const Mesh& mesh, const std::string& name) {
  const std::vector<TriangleSide> sides = sorted_sides(mesh.triangles);
  bool rim = false;
  each_edge(sides, [&](std::size_t begin, std::size_t end) {
    rim = rim || end - begin == 1;
    if (end - begin < 3) return;
    const Eigen::Vector3d middle =
        0.5 * (mesh.nodes.row(sides[begin].low) + mesh.nodes.row(sides[begin].high)).transpose();
    refuse(name,
           "has an edge with " + std::to_string(end - begin) + " triangles near " +
               place_in_mm(middle),
           "one or two triangles at an edge");
  });
  if (!rim)
    refuse(name, "is a closed body without a rim", "an open sheet, such as the outer face alone");
}

/// Turns triangles so that neighbours run the same way; the first triangle stays as it is.
void orient(Mesh& mesh, const std::string& name, PanelReport& report) {
  const Triangles across = neighbours(mesh.triangles);
  const auto has_side = [&](const Eigen::RowVector3i& t, int a, int b) {
    return (t[0] == a && t[1] == b) || (t[1] == a && t[2] == b) || (t[2] == a && t[0] == b);
  };
  // Whether each triangle is to be turned: -1 not known yet.
  std::vector<int> turned(static_cast<std::size_t>(mesh.triangles.rows()), -1);
  std::vector<int> queue{0};
  turned[0] = 0;
  int count = 0;
  for (std::size_t q = 0; q < queue.size(); ++q) {
    const int t = queue[q];
    for (int k = 0; k < 3; ++k) {
      const int other = across(t, k);
      if (other < 0) continue;
      const int a = mesh.triangles(t, k), b = mesh.triangles(t, (k + 1) % 3);
      const int same_way = has_side(mesh.triangles.row(other), a, b) ? 1 : 0;
      const int wanted = turned[static_cast<std::size_t>(t)] ^ same_way;
      int& state = turned[static_cast<std::size_t>(other)];
      if (state < 0) {
        state = wanted;
        count += wanted;
        queue.push_back(other);
      } else if (state != wanted) {
        refuse(name,
               "has no outer and inner face (it is twisted into itself) near " +
                   place_in_mm(mesh.nodes.row(a).transpose()),
               "a sheet with two faces");
      }
    }
  }
  const int n = static_cast<int>(mesh.triangles.rows());
  const int keep = 2 * count > n ? 1 : 0;  // the larger part keeps its sense
  for (int t = 0; t < n; ++t)
    if (turned[static_cast<std::size_t>(t)] != keep)
      std::swap(mesh.triangles(t, 1), mesh.triangles(t, 2));
  report.flipped_triangles += std::min(count, n - count);
}

/// Gives every fan of triangles round a node, but the first, a node of its own.
void split_touching_nodes(Mesh& mesh) {
  const Triangles across = neighbours(mesh.triangles);
  std::vector<std::vector<std::pair<int, int>>> at(static_cast<std::size_t>(mesh.nodes.rows()));
  for (int t = 0; t < static_cast<int>(mesh.triangles.rows()); ++t)
    for (int k = 0; k < 3; ++k)
      at[static_cast<std::size_t>(mesh.triangles(t, k))].emplace_back(t, k);
  std::vector<int> source;  // node that each new one copies
  const auto first_new = static_cast<int>(mesh.nodes.rows());
  for (int node = 0; node < first_new; ++node) {
    const auto& corners = at[static_cast<std::size_t>(node)];
    std::set<int> open;
    for (const auto& corner : corners) open.insert(corner.first);
    for (bool first = true; !open.empty(); first = false) {
      std::vector<int> fan{*open.begin()};
      open.erase(open.begin());
      for (std::size_t i = 0; i < fan.size(); ++i)
        for (const auto& [t, k] : corners)
          if (t == fan[i])
            for (const int side : {k, (k + 2) % 3})  // the two sides that end at the node
              if (across(t, side) >= 0 && open.erase(across(t, side)) > 0)
                fan.push_back(across(t, side));
      if (first) continue;
      const int fresh = first_new + static_cast<int>(source.size());
      source.push_back(node);
      for (const auto& [t, k] : corners)
        if (std::find(fan.begin(), fan.end(), t) != fan.end()) mesh.triangles(t, k) = fresh;
    }
  }
  mesh.nodes.conservativeResize(first_new + static_cast<Eigen::Index>(source.size()), 3);
  for (std::size_t i = 0; i < source.size(); ++i)
    mesh.nodes.row(first_new + static_cast<Eigen::Index>(i)) = mesh.nodes.row(source[i]);
}

void check_size(const Mesh& mesh, const std::string& name) {
  const double across =
      (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).maxCoeff();
  if (across >= kSmallest && across <= kLargest) return;
  char text[80];
  std::snprintf(text, sizeof text, "is %.4g m across", across);
  refuse(name, text, "0.02 m to 4 m (is the unit of the file right?)");
}

}  // namespace

std::string place_in_mm(const Eigen::Vector3d& position_m) {
  char text[120];
  std::snprintf(text,
                sizeof text,
                "(%.1f, %.1f, %.1f) mm",
                1e3 * position_m.x() + 0.0,
                1e3 * position_m.y() + 0.0,
                1e3 * position_m.z() + 0.0);
  return text;
}

Mesh without_shreds(const Mesh& sheet, PanelReport& report) {
  Mesh out = sheet;
  for (int pass = 0; pass < 3; ++pass) {
    const Triangles across = neighbours(out.triangles);
    std::vector<Eigen::RowVector3i> firm;
    for (Eigen::Index t = 0; t < across.rows(); ++t)
      if ((across.row(t).array() < 0).count() < 2) firm.emplace_back(out.triangles.row(t));
    const auto before = static_cast<int>(out.triangles.rows());
    if (static_cast<int>(firm.size()) == before || firm.empty()) break;
    PanelReport loose;
    out = largest_piece(kept(out.nodes, firm), loose);
    split_touching_nodes(out);
    report.dropped_triangles += before - static_cast<int>(out.triangles.rows());
  }
  return out;
}

Mesh mend_sheet(const Mesh& raw, const std::string& name, PanelReport& report) {
  check_raw(raw, name);
  const std::vector<Eigen::RowVector3i> triangles = without_doubles(raw, report);
  if (triangles.empty()) refuse(name, "holds no triangle with area", "a surface of triangles");
  Mesh mesh = largest_piece(kept(raw.nodes, triangles), report);
  check_size(mesh, name);
  check_edges(mesh, name);
  orient(mesh, name, report);
  split_touching_nodes(mesh);
  return mesh;
}

}  // namespace calmplate::panel
