// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cmath>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

#include "panel/mesh.hpp"
#include "panel/topology.hpp"

/// Makes a scan out of a mesh, for tests and benchmarks.
namespace calmplate::testing {

/// Every triangle cut into four at the middles of its sides, `times` over.
inline panel::Mesh subdivided(panel::Mesh mesh, int times) {
  for (; times > 0; --times) {
    const std::vector<panel::TriangleSide> sides = panel::sorted_sides(mesh.triangles);
    panel::Triangles middle(mesh.triangles.rows(), 3);  // node on each side
    std::vector<std::pair<int, int>> ends;
    auto next = static_cast<int>(mesh.nodes.rows()) - 1;
    for (std::size_t i = 0; i < sides.size(); ++i) {
      if (i == 0 || sides[i].low != sides[i - 1].low || sides[i].high != sides[i - 1].high) {
        ends.emplace_back(sides[i].low, sides[i].high);
        ++next;
      }
      middle(sides[i].triangle, sides[i].side) = next;
    }
    const Eigen::Index n = mesh.nodes.rows(), m = mesh.triangles.rows();
    mesh.nodes.conservativeResize(n + static_cast<Eigen::Index>(ends.size()), 3);
    for (std::size_t e = 0; e < ends.size(); ++e)
      mesh.nodes.row(n + static_cast<Eigen::Index>(e)) =
          0.5 * (mesh.nodes.row(ends[e].first) + mesh.nodes.row(ends[e].second));
    panel::Triangles fine(4 * m, 3);
    for (Eigen::Index t = 0; t < m; ++t) {
      const int a = middle(t, 0), b = middle(t, 1), c = middle(t, 2);
      fine.row(4 * t) << mesh.triangles(t, 0), a, c;
      fine.row(4 * t + 1) << a, mesh.triangles(t, 1), b;
      fine.row(4 * t + 2) << c, b, mesh.triangles(t, 2);
      fine.row(4 * t + 3) << a, b, c;
    }
    mesh.triangles = std::move(fine);
  }
  return mesh;
}

struct Roughness {
  double across_m = 0.0003;  ///< standard deviation of the noise along the normal
  double along_m = 0.0001;   ///< of the noise in each direction of the skin
  double missing = 0.05;     ///< share of the triangles left out
  double turned = 0.03;      ///< share of the triangles turned over
  double doubled = 0.05;     ///< share of the triangles' corners that get a node of their own
  std::uint32_t seed = 1;
};

/// The mesh as a scanner would give it; always the same for one seed, in every library.
inline panel::Mesh roughened(const panel::Mesh& mesh, const Roughness& rough) {
  std::mt19937 engine(rough.seed);
  const auto even = [&] { return (static_cast<double>(engine()) + 0.5) / 4294967296.0; };
  const auto normal = [&] {
    const double radius = std::sqrt(-2.0 * std::log(even()));
    return radius * std::cos(6.283185307179586 * even());
  };
  panel::Mesh scan = mesh;
  const panel::Nodes normals = panel::node_normals(mesh);
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i) {
    const Eigen::RowVector3d n = normals.row(i);
    Eigen::RowVector3d along(normal(), normal(), normal());
    along -= along.dot(n) * n;
    scan.nodes.row(i) += rough.across_m * normal() * n + rough.along_m * along;
  }
  Eigen::Index kept = 0;
  std::vector<int> source;  // of each doubled node
  const auto first_new = static_cast<int>(mesh.nodes.rows());
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    if (even() < rough.missing) continue;
    Eigen::RowVector3i corners = mesh.triangles.row(t);
    if (even() < rough.turned) std::swap(corners[1], corners[2]);
    for (int k = 0; k < 3; ++k) {
      if (even() >= rough.doubled) continue;
      source.push_back(corners[k]);
      corners[k] = first_new + static_cast<int>(source.size()) - 1;
    }
    scan.triangles.row(kept++) = corners;
  }
  scan.triangles.conservativeResize(kept, 3);
  scan.nodes.conservativeResize(first_new + static_cast<Eigen::Index>(source.size()), 3);
  for (std::size_t i = 0; i < source.size(); ++i)
    scan.nodes.row(first_new + static_cast<Eigen::Index>(i)) = scan.nodes.row(source[i]);
  return scan;
}

}  // namespace calmplate::testing
