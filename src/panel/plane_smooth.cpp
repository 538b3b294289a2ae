// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/plane_smooth.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kWanted = 33.0;  // degrees
constexpr int kPasses = 6;
constexpr int kDirections = 12;
constexpr double kSteps[] = {0.25, 0.1, 0.03};  // of the longest side round the point

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

/// Smallest angle of a triangle, rad; below 0 if it is turned over.
double smallest_angle(const Vector2d& a, const Vector2d& b, const Vector2d& c) {
  const double area = cross(b - a, c - a);
  return std::min({std::atan2(area, (b - a).dot(c - a)),
                   std::atan2(area, (c - b).dot(a - b)),
                   std::atan2(area, (a - c).dot(b - c))});
}

}  // namespace

void to_centroids(std::vector<Vector2d>& points,
                  std::size_t n_fixed,
                  const PlaneTriangles& triangles) {
  std::vector<Vector2d> sum(points.size(), Vector2d::Zero());
  std::vector<double> weight(points.size(), 0.0);
  for (const auto& t : triangles) {
    const Vector2d& a = points[static_cast<std::size_t>(t[0])];
    const Vector2d u = points[static_cast<std::size_t>(t[1])] - a;
    const Vector2d v = points[static_cast<std::size_t>(t[2])] - a;
    const double area = std::abs(u.x() * v.y() - u.y() * v.x());
    for (const int i : t) {
      sum[static_cast<std::size_t>(i)] += area * (a + (u + v) / 3.0);
      weight[static_cast<std::size_t>(i)] += area;
    }
  }
  for (std::size_t i = n_fixed; i < points.size(); ++i)
    if (weight[i] > 0.0) points[i] = sum[i] / weight[i];
}

void open_angles(std::vector<Vector2d>& points,
                 std::size_t n_fixed,
                 const PlaneTriangles& triangles) {
  std::vector<std::vector<std::size_t>> around(points.size());
  for (std::size_t t = 0; t < triangles.size(); ++t)
    for (const int i : triangles[t]) around[static_cast<std::size_t>(i)].push_back(t);
  const auto smallest_at = [&](std::size_t i) {
    double least = base::kPi;
    for (const std::size_t t : around[i])
      least = std::min(least,
                       smallest_angle(points[static_cast<std::size_t>(triangles[t][0])],
                                      points[static_cast<std::size_t>(triangles[t][1])],
                                      points[static_cast<std::size_t>(triangles[t][2])]));
    return least;
  };
  for (int pass = 0; pass < kPasses; ++pass) {
    bool moved = false;
    for (std::size_t i = n_fixed; i < points.size(); ++i) {
      double least = smallest_at(i);
      if (least > base::from_degrees(kWanted)) continue;
      double reach = 0.0;
      for (const std::size_t t : around[i])
        for (const int k : triangles[t])
          reach = std::max(reach, (points[static_cast<std::size_t>(k)] - points[i]).norm());
      Vector2d best = points[i];
      for (const double step : kSteps) {
        const Vector2d from = best;
        for (int d = 0; d < kDirections; ++d) {
          const double angle = base::kTwoPi * d / kDirections;
          points[i] = from + step * reach * Vector2d(std::cos(angle), std::sin(angle));
          const double here = smallest_at(i);
          if (here <= least + 1e-9) continue;
          least = here;
          best = points[i];
          moved = true;
        }
      }
      points[i] = best;
    }
    if (!moved) return;
  }
}

}  // namespace calmplate::panel
