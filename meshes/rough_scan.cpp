// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshes/rough_scan.hpp"

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "meshes/door_shape.hpp"
#include "meshes/plane_mesher.hpp"

namespace calmplate::demo {
namespace {

constexpr double kNoise = 0.3e-3;        // m, root mean square
constexpr double kMissingShare = 0.015;  // of the triangles
constexpr double kTurnedShare = 0.02;    // of the triangles
constexpr double kScanEdge = 0.0099;     // m, longest; the mean comes out near 7 mm

/// The engine's numbers are the same everywhere; the library's distributions need not be.
class Chance {
 public:
  double even() { return (static_cast<double>(engine_()) + 0.5) / 4294967296.0; }
  double normal() {
    const double radius = std::sqrt(-2.0 * std::log(even()));
    return radius * std::cos(base::kTwoPi * even());
  }

 private:
  std::mt19937 engine_{20240607U};
};

/// Unit normal of the door, pointing out of the car.
Eigen::Vector3d door_normal(const Eigen::Vector2d& place) {
  constexpr double kStep = 1e-4;
  const Eigen::Vector2d du(kStep, 0.0), dv(0.0, kStep);
  const Eigen::Vector3d along = door_in_car(place + du) - door_in_car(place - du);
  const Eigen::Vector3d up = door_in_car(place + dv) - door_in_car(place - dv);
  return along.cross(up).normalized();
}

/// Leaves out patches of triangles: one, and those that share a node with it at every other one.
std::vector<bool> missing(const panel::Triangles& triangles, Eigen::Index n_node, Chance& chance) {
  std::vector<std::vector<Eigen::Index>> around(static_cast<std::size_t>(n_node));
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    for (Eigen::Index k = 0; k < 3; ++k)
      around[static_cast<std::size_t>(triangles(t, k))].push_back(t);
  std::vector<bool> out(static_cast<std::size_t>(triangles.rows()), false);
  const double wanted = kMissingShare * static_cast<double>(triangles.rows());
  for (double gone = 0.0; gone < wanted;) {
    const auto t = static_cast<Eigen::Index>(chance.even() * static_cast<double>(triangles.rows()));
    std::vector<Eigen::Index> patch{t};
    if (chance.even() < 0.4) patch = around[static_cast<std::size_t>(triangles(t, 0))];
    for (const Eigen::Index p : patch) {
      if (!out[static_cast<std::size_t>(p)]) gone += 1.0;
      out[static_cast<std::size_t>(p)] = true;
    }
  }
  return out;
}

/// Something else that the scanner saw: 60 mm square, tilted, in front of the door's front edge.
PlaneMesh stray_piece() {
  const Loop square{{0.0, 0.0}, {0.06, 0.0}, {0.06, 0.06}, {0.0, 0.06}};
  return mesh_region(
      resample(square, 0.0075), {}, [](const auto&) { return kScanEdge; }, 0);
}

}  // namespace

panel::Mesh rough_door_scan() {
  Chance chance;
  const auto edge = [](const Eigen::Vector2d&) { return kScanEdge; };
  const PlaneMesh door = mesh_region(resample(door_outline(), 0.0075), door_holes(), edge, 0);
  const PlaneMesh stray = stray_piece();
  const std::vector<bool> gone = missing(door.triangles, door.points.rows(), chance);

  panel::Mesh scan;
  scan.nodes.resize(door.points.rows() + stray.points.rows(), 3);
  for (Eigen::Index i = 0; i < door.points.rows(); ++i) {
    const Eigen::Vector2d place = door.points.row(i).transpose();
    scan.nodes.row(i) = door_in_car(place) + kNoise * chance.normal() * door_normal(place);
  }
  const Eigen::Vector3d corner = door_in_car({0.030, 0.24}) - Eigen::Vector3d(0.125, -0.012, 0.0);
  for (Eigen::Index i = 0; i < stray.points.rows(); ++i) {
    const double a = stray.points(i, 0), b = stray.points(i, 1);
    scan.nodes.row(door.points.rows() + i) =
        corner + Eigen::Vector3d(0.96 * a, 0.28 * a + kNoise * chance.normal(), b);
  }
  scan.nodes *= 1e3;

  std::vector<std::array<int, 3>> kept;
  const auto offset = static_cast<int>(door.points.rows());
  for (Eigen::Index t = 0; t < door.triangles.rows(); ++t) {
    if (gone[static_cast<std::size_t>(t)]) continue;
    std::array<int, 3> triangle{door.triangles(t, 0), door.triangles(t, 1), door.triangles(t, 2)};
    if (chance.even() < kTurnedShare) std::swap(triangle[1], triangle[2]);
    kept.push_back(triangle);
  }
  for (Eigen::Index t = 0; t < stray.triangles.rows(); ++t)
    kept.push_back({stray.triangles(t, 0) + offset,
                    stray.triangles(t, 1) + offset,
                    stray.triangles(t, 2) + offset});
  scan.triangles.resize(static_cast<Eigen::Index>(kept.size()), 3);
  for (std::size_t t = 0; t < kept.size(); ++t)
    scan.triangles.row(static_cast<Eigen::Index>(t)) << kept[t][0], kept[t][1], kept[t][2];
  return scan;
}

}  // namespace calmplate::demo
