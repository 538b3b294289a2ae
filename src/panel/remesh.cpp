// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/remesh.hpp"

#include <cmath>
#include <vector>

#include "panel/plane_mesh.hpp"
#include "panel/rim_sampling.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

constexpr int kCorrections = 2;
constexpr double kSizeTolerance = 0.02;
/// Noise that may be left in a node, m: a fiftieth of a skin's thickness does not stiffen it.
constexpr double kEnough = 1.5e-5;

Mesh on_skin(const PlaneMesh& plane, const std::vector<RimSamples>& rim, const FlatMap& map) {
  Mesh mesh;
  mesh.triangles = plane.triangles;
  mesh.nodes.resize(plane.points.rows(), 3);
  Eigen::Index i = 0;
  for (const RimSamples& loop : rim)
    for (const RimSample& sample : loop) mesh.nodes.row(i++) = sample.place.transpose();
  for (; i < plane.points.rows(); ++i)
    mesh.nodes.row(i) = map.to_space(map.nearest(plane.points.row(i).transpose())).transpose();
  return mesh;
}

}  // namespace

Mesh remeshed(const Mesh& mesh, const FlatMap& map, double element_size_m, const ScanSkin& scan) {
  const std::vector<RimSamples> rim = sample_rim(mesh, map.points(), element_size_m, scan.ragged);
  std::vector<FlatPoints> loops;
  for (const RimSamples& loop : rim) {
    FlatPoints points(static_cast<Eigen::Index>(loop.size()), 2);
    for (std::size_t i = 0; i < loop.size(); ++i)
      points.row(static_cast<Eigen::Index>(i)) = loop[i].flat.transpose();
    loops.push_back(std::move(points));
  }
  double spacing = element_size_m;
  for (int round = 0;; ++round) {
    const PlaneMesh plane = mesh_between(loops, spacing);
    Mesh made = on_skin(plane, rim, map);
    if (scan.points != nullptr)
      for (Eigen::Index i = 0; i < made.nodes.rows(); ++i)
        made.nodes.row(i) =
            scan.points->foot(made.nodes.row(i).transpose(), scan.noise_m, kEnough).transpose();
    const double ratio = mean_edge_length(made) / element_size_m;
    if (round == kCorrections || std::abs(ratio - 1.0) < kSizeTolerance) return made;
    spacing /= ratio;
  }
}

}  // namespace calmplate::panel
