// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/flatness.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/units.hpp"
#include "cutting/position.hpp"
#include "panel/polygon.hpp"

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;

constexpr int kOutlinePoints = 24;
constexpr int kInsideChecks = 24;
constexpr double kCell_m = 0.06;      ///< over which a mesh's roughness cancels
constexpr double kShortest_m = 0.01;  ///< of a relief cut

/// Points at equal steps along the outline, beginning where it comes nearest to the middle.
std::vector<Vector2d> along_outline(const panel::Polygon& outline,
                                    const Vector2d& middle,
                                    int count) {
  const Eigen::Index n = outline.rows();
  std::vector<double> start(static_cast<std::size_t>(n) + 1, 0.0);
  double begin = 0.0, least = 1e300;
  for (Eigen::Index i = 0; i < n; ++i) {
    const Vector2d p = outline.row(i).transpose(), d = outline.row((i + 1) % n).transpose() - p;
    const double length = d.norm();
    start[static_cast<std::size_t>(i) + 1] = start[static_cast<std::size_t>(i)] + length;
    if (length <= 0.0) continue;
    const double s = std::clamp((middle - p).dot(d) / d.squaredNorm(), 0.0, 1.0);
    const double distance = (p + s * d - middle).norm();
    if (distance < least - 1e-9) {
      least = distance;
      begin = start[static_cast<std::size_t>(i)] + s * length;
    }
  }
  std::vector<Vector2d> points;
  for (int k = 0; k < count; ++k) {
    const double s = std::fmod(begin + start.back() * k / count, start.back());
    const auto after = std::upper_bound(start.begin(), start.end() - 1, s);
    const auto i = static_cast<Eigen::Index>(after - start.begin()) - 1;
    const double length =
        start[static_cast<std::size_t>(i) + 1] - start[static_cast<std::size_t>(i)];
    const double share = length > 0.0 ? (s - start[static_cast<std::size_t>(i)]) / length : 0.0;
    points.push_back((1.0 - share) * outline.row(i).transpose() +
                     share * outline.row((i + 1) % n).transpose());
  }
  return points;
}

double length_error(const panel::Panel& panel, const Part& part, const Vector2d& middle) {
  std::vector<Vector2d> points = along_outline(part.loops.front(), middle, kOutlinePoints);
  if (part.loops.front().rows() <= kOutlinePoints)
    for (Eigen::Index i = 0; i < part.loops.front().rows(); ++i)
      points.push_back(part.loops.front().row(i).transpose());
  double worst = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const Vector2d d = points[j] - points[i];
      bool stays = true;
      for (int k = 1; k < kInsideChecks && stays; ++k)
        stays = on_part(part, points[i] + d * k / kInsideChecks);
      if (!stays) continue;
      worst = std::max(worst, std::abs(skin_length(panel, points[i], points[j]) - d.norm()));
    }
  return worst;
}

/// Sums of curvature over the part, and of its magnitude once roughness has cancelled in cells.
/// Source: [memory] angle defect, Descartes; checked by [derived] a sphere's share of 4 pi.
std::pair<double, double> curvature_over(const panel::Panel& panel, const Part& part) {
  const Eigen::Index count = panel.mesh.nodes.rows();
  Eigen::VectorXd defect = Eigen::VectorXd::Constant(count, base::kTwoPi);
  for (Eigen::Index t = 0; t < panel.mesh.triangles.rows(); ++t)
    for (int c = 0; c < 3; ++c) {
      const int i = panel.mesh.triangles(t, c);
      const Eigen::Vector3d p = panel.mesh.nodes.row(i).transpose();
      const Eigen::Vector3d a =
          panel.mesh.nodes.row(panel.mesh.triangles(t, (c + 1) % 3)).transpose() - p;
      const Eigen::Vector3d b =
          panel.mesh.nodes.row(panel.mesh.triangles(t, (c + 2) % 3)).transpose() - p;
      defect[i] -= std::atan2(a.cross(b).norm(), a.dot(b));
    }
  for (const panel::RimPart& rim : panel.rim)
    for (const int node : rim.nodes) defect[node] = 0.0;
  double sum = 0.0, magnitude = 0.0;
  std::map<std::pair<long, long>, double> cells;
  for (Eigen::Index i = 0; i < count; ++i) {
    const Vector2d p = panel.flat.points().row(i).transpose();
    if (defect[i] == 0.0 || !on_part(part, p)) continue;
    sum += defect[i];
    cells[{std::lround(p.x() / kCell_m), std::lround(p.y() / kCell_m)}] += defect[i];
  }
  for (const auto& cell : cells) magnitude += std::abs(cell.second);
  return {sum, magnitude};
}

Vector2d middle_of(const panel::Polygon& outline) {
  Vector2d sum = Vector2d::Zero();
  double area = 0.0;
  const Vector2d base = outline.row(0).transpose();
  for (Eigen::Index i = 1; i + 1 < outline.rows(); ++i) {
    const Vector2d a = outline.row(i).transpose() - base, b = outline.row(i + 1).transpose() - base;
    const double twice = a.x() * b.y() - a.y() * b.x();
    area += twice;
    sum += twice * (a + b) / 3.0;
  }
  return base + sum / area;
}

void relieve(const Part& part, const Vector2d& middle, Flatness& flat) {
  const double total = std::abs(flat.excess_m);
  const int count = std::max(2, static_cast<int>(std::ceil(total / kCutTakes_m)));
  if (count > kMostCuts) {
    flat.lies = LiesFlat::warning;
    return;
  }
  flat.lies = LiesFlat::relief_cuts;
  // The rim's excess falls with the cube of the radius.
  const double inner = std::cbrt(kFlatError_m / total);
  for (const Vector2d& from : along_outline(part.loops.front(), middle, count)) {
    const Vector2d to = middle + inner * (from - middle);
    if ((to - from).norm() < kShortest_m || !on_part(part, 0.5 * (from + to))) continue;
    flat.cuts.push_back({from, to, flat.excess_m / count});
  }
  if (flat.cuts.empty()) flat.lies = LiesFlat::warning;
}

}  // namespace

Flatness flatness_of(const panel::Panel& panel, const Part& part) {
  const Vector2d middle = middle_of(part.loops.front());
  Flatness flat;
  flat.error_m = length_error(panel, part, middle);
  const auto [sum, magnitude] = curvature_over(panel, part);
  flat.curvature = sum;
  const double radius = std::sqrt(part.area_m2 / base::kPi);
  // pi K a^3 / 3 with K = curvature / (pi a^2)
  flat.excess_m = sum * radius / 3.0;
  if (flat.error_m <= kFlatError_m) return flat;
  const double of_either_sense_m = magnitude * radius / 3.0;
  if (of_either_sense_m <= kFlatError_m) return flat;
  if (std::abs(sum) < 0.5 * magnitude || std::abs(flat.excess_m) <= kFlatError_m)
    flat.lies = LiesFlat::warning;
  else
    relieve(part, middle, flat);
  return flat;
}

}  // namespace calmplate::cutting
