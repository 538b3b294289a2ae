// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/sheet.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <stdexcept>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "base/units.hpp"
#include "panel/gaps.hpp"
#include "panel/topology.hpp"
#include "panel/unit_guess.hpp"
#include "panel/weld.hpp"

namespace calmplate::panel {
namespace {

constexpr double kWeldShare = 1e-6;
constexpr double kSmallest = 0.020;  // m across
constexpr double kLargest = 4.0;     // m across
// What tells a scan of a skin from one of something else. Source: [practice] no source.
constexpr double kMostCrowded = 0.02;   // of the edges with three or more triangles
constexpr double kLargestShare = 0.25;  // of the area in the largest piece
constexpr double kNarrowest = 0.05;     // second extent over the first
constexpr double kShortestRim = 0.5;    // of a disc's rim with the same area

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
  std::vector<int> lowest;
  for (Eigen::Index t = 0; t < raw.triangles.rows(); ++t) {
    const Eigen::RowVector3i node = raw.triangles.row(t).unaryExpr(
        [&](int i) { return stands_for[static_cast<std::size_t>(i)]; });
    if (node[0] == node[1] || node[1] == node[2] || node[2] == node[0]) continue;
    triangles.push_back(node);
    lowest.push_back(node.minCoeff());
  }
  // Doubled ones lie in the group of one lowest node; the first of them stays.
  const Groups groups = grouped(lowest, static_cast<int>(raw.nodes.rows()));
  std::vector<char> doubled(triangles.size(), 0);
  std::vector<std::array<int, 3>> others;  // middle node, highest node, triangle
  for (std::size_t n = 0; n + 1 < groups.first.size(); ++n) {
    others.clear();
    for (int i = groups.first[n]; i < groups.first[n + 1]; ++i) {
      const int t = groups.list[static_cast<std::size_t>(i)];
      const Eigen::RowVector3i& node = triangles[static_cast<std::size_t>(t)];
      const int high = node.maxCoeff();
      others.push_back({node.sum() - high - static_cast<int>(n), high, t});
    }
    std::sort(others.begin(), others.end());
    for (std::size_t i = 0; i + 1 < others.size(); ++i)
      if (others[i][0] == others[i + 1][0] && others[i][1] == others[i + 1][1])
        doubled[static_cast<std::size_t>(others[i + 1][2])] = 1;
  }
  std::size_t kept_count = 0;
  for (std::size_t t = 0; t < triangles.size(); ++t)
    if (!doubled[t]) triangles[kept_count++] = triangles[t];
  triangles.resize(kept_count);
  report.degenerate_triangles +=
      static_cast<int>(raw.triangles.rows()) - static_cast<int>(kept_count);
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

/// @param least_share  refuse a heap of pieces whose largest holds less than this of the area
Mesh largest_piece(const Mesh& mesh,
                   PanelReport& report,
                   double least_share = 0.0,
                   const std::string& name = "") {
  const std::vector<int> piece = pieces(mesh.triangles, sorted_sides(mesh.triangles));
  const Eigen::VectorXd areas = triangle_areas(mesh);
  std::map<int, double> area;
  for (std::size_t t = 0; t < piece.size(); ++t)
    area[piece[t]] += areas[static_cast<Eigen::Index>(t)];
  int largest = area.begin()->first;
  for (const auto& [number, size] : area)
    if (size > area[largest]) largest = number;
  if (area[largest] < least_share * areas.sum())
    refuse(name,
           "is in " + std::to_string(area.size()) + " loose pieces, and the largest holds only " +
               std::to_string(static_cast<int>(100.0 * area[largest] / areas.sum())) +
               " % of the area",
           "one sheet with at least a quarter of it");
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
  const auto first_new = static_cast<int>(mesh.nodes.rows());
  const Groups corners = corners_by_node(mesh.triangles, first_new);
  std::vector<int> source;  // node that each new one copies
  std::vector<int> open, fan;
  for (int node = 0; node < first_new; ++node) {
    const auto begin = corners.list.begin() + corners.first[static_cast<std::size_t>(node)];
    const auto end = corners.list.begin() + corners.first[static_cast<std::size_t>(node) + 1];
    open.clear();
    for (auto c = begin; c != end; ++c) open.push_back(*c / 3);
    for (bool first = true; !open.empty(); first = false) {
      fan.assign(1, open.front());
      open.erase(open.begin());
      for (std::size_t i = 0; i < fan.size(); ++i)
        for (int side = 0; side < 3; ++side) {  // those that end at the node
          const int t = fan[i], other = across(t, side);
          if (mesh.triangles(t, side) != node && mesh.triangles(t, (side + 1) % 3) != node)
            continue;
          const auto found = std::find(open.begin(), open.end(), other);
          if (found == open.end()) continue;
          fan.push_back(other);
          open.erase(found);
        }
      if (first) continue;
      const int fresh = first_new + static_cast<int>(source.size());
      source.push_back(node);
      for (const int t : fan)
        for (int k = 0; k < 3; ++k)
          if (mesh.triangles(t, k) == node) mesh.triangles(t, k) = fresh;
    }
  }
  mesh.nodes.conservativeResize(first_new + static_cast<Eigen::Index>(source.size()), 3);
  for (std::size_t i = 0; i < source.size(); ++i)
    mesh.nodes.row(first_new + static_cast<Eigen::Index>(i)) = mesh.nodes.row(source[i]);
}

/// Box sides of a mesh, in its own axes.
Eigen::Vector3d box_of(const Mesh& mesh) {
  return (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).transpose();
}

void check_size(const Mesh& mesh, const std::string& name) {
  const double across = box_of(mesh).maxCoeff();
  if (across >= kSmallest && across <= kLargest) return;
  char text[80];
  std::snprintf(text, sizeof text, "is %.4g m across", across);
  refuse(name, text, "0.02 m to 4 m (is the unit of the file right?)");
}

/// Takes frames and ribs off a scan, unless it has so many that it is no sheet at all.
Mesh without_ribs(const Mesh& mesh, const std::string& name, PanelReport& report) {
  std::size_t edges = 0, crowded = 0;
  each_edge(sorted_sides(mesh.triangles), [&](std::size_t begin, std::size_t end) {
    ++edges;
    if (end - begin > 2) ++crowded;
  });
  if (crowded == 0) return mesh;
  if (static_cast<double>(crowded) > kMostCrowded * static_cast<double>(edges))
    refuse(name,
           "is no sheet: " + std::to_string(crowded) + " of its edges have three or more triangles",
           "one or two triangles at an edge");
  return without_crowded_edges(mesh, report);
}

/// Largest over smallest side in the mesh's own principal axes decide what is a rod; a rim far
/// shorter than that of a disc of the same area, what is all but closed.
void check_form(const Mesh& mesh, const std::string& name) {
  const Eigen::RowVector3d mean = mesh.nodes.colwise().mean();
  const Eigen::MatrixX3d from_mean = mesh.nodes.rowwise() - mean;
  const Eigen::Matrix3d axes =
      Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(from_mean.transpose() * from_mean)
          .eigenvectors();
  const Eigen::MatrixX3d turned = from_mean * axes;
  const Eigen::Vector3d box = (turned.colwise().maxCoeff() - turned.colwise().minCoeff());
  char text[120];
  if (box[1] < kNarrowest * box[2]) {
    std::snprintf(text,
                  sizeof text,
                  "is a rod or a strip, %.0f mm long and %.0f mm across",
                  1e3 * box[2],
                  1e3 * box[1]);
    refuse(name, text, "a skin at least a twentieth as wide as it is long");
  }
  double rim = 0.0;
  for (const std::vector<int>& loop : boundary_loops(mesh.triangles)) {
    double length = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i)
      length += (mesh.nodes.row(loop[i]) - mesh.nodes.row(loop[(i + 1) % loop.size()])).norm();
    rim = std::max(rim, length);
  }
  const double area = triangle_areas(mesh).sum();
  if (rim < kShortestRim * std::sqrt(4.0 * base::kPi * area)) {
    std::snprintf(text,
                  sizeof text,
                  "is all but a closed body: its longest rim is %.0f mm for %.2g m2 of surface",
                  1e3 * rim,
                  area);
    refuse(name, text, "an open sheet, such as the outer face alone");
  }
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

Mesh mend_sheet(const Mesh& raw,
                const std::string& name,
                PanelReport& report,
                const MendOptions& options) {
  check_raw(raw, name);
  Mesh mesh;
  {
    const std::vector<Eigen::RowVector3i> triangles = without_doubles(raw, report);
    if (triangles.empty()) refuse(name, "holds no triangle with area", "a surface of triangles");
    mesh = kept(raw.nodes, triangles);
  }
  if (options.scan) mesh = without_ribs(mesh, name, report);
  mesh = largest_piece(mesh, report, options.scan ? kLargestShare : 0.0, name);
  if (options.guess_unit) {
    const MeshUnit unit = guess_unit(box_of(mesh), name);
    report.guessed_unit = unit.name;
    mesh.nodes *= unit.metres;
  }
  check_size(mesh, name);
  check_edges(mesh, name);
  orient(mesh, name, report);
  if (options.scan) close_gaps(mesh, options.smallest_hole_m, report);
  split_touching_nodes(mesh);
  if (options.scan) check_form(mesh, name);
  return mesh;
}

}  // namespace calmplate::panel
