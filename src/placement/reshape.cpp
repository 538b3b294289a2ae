// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/reshape.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "placement/spots.hpp"

namespace calmplate::placement {
namespace {

constexpr double kRounding_m = 1e-6;

bool allowed(const SearchRequest& request, std::size_t sheet, const Eigen::Vector2d& size) {
  const Eigen::Vector2d& most = request.sheets[sheet].free_up_to_m;
  return size.maxCoeff() <= most.x() + kRounding_m && size.minCoeff() <= most.y() + kRounding_m;
}

}  // namespace

std::vector<Spot> stretched(const panel::Panel& panel,
                            const SearchRequest& request,
                            const Spot& spot,
                            double step_m) {
  std::vector<Spot> out;
  for (const int axis : {0, 1})
    for (const double side : {-1.0, 1.0}) {
      Eigen::Vector2d size = spot.size, shift = Eigen::Vector2d::Zero();
      size(axis) += step_m;
      shift(axis) = 0.5 * side * step_m;
      if (size(axis) < 0.5 * request.spacing_m || !allowed(request, spot.sheet, size)) continue;
      const Eigen::Vector2d centre = spot.centre + Eigen::Rotation2Dd(spot.angle_rad) * shift;
      if (auto made = spot_at(panel, request, spot.sheet, size, spot.angle_rad, centre))
        out.push_back(std::move(*made));
    }
  return out;
}

std::optional<Spot> joined(const panel::Panel& panel,
                           const SearchRequest& request,
                           const Spot& a,
                           const Spot& b) {
  if (a.sheet != b.sheet) return std::nullopt;
  // b in a's axes: its box must be as wide as a's across the line on which they meet.
  const Eigen::Matrix2d turn = Eigen::Rotation2Dd(-a.angle_rad).toRotationMatrix();
  const Eigen::Vector2d low = -0.5 * a.size, high = 0.5 * a.size;
  Eigen::Matrix2Xd corners(2, b.outline.rows());
  for (Eigen::Index i = 0; i < b.outline.rows(); ++i)
    corners.col(i) = turn * (b.outline.row(i).transpose() - a.centre);
  const Eigen::Vector2d b_low = corners.rowwise().minCoeff(), b_high = corners.rowwise().maxCoeff();
  if (std::abs((b_high - b_low).prod() - b.size.prod()) > 1e-9) return std::nullopt;  // askew
  for (const int axis : {0, 1}) {
    const int across = 1 - axis;
    const double apart = std::max(b_low(axis) - high(axis), low(axis) - b_high(axis));
    if (std::abs(b_low(across) - low(across)) > kRounding_m ||
        std::abs(b_high(across) - high(across)) > kRounding_m || apart < -kRounding_m ||
        apart > request.gap_m + request.spacing_m + kRounding_m)
      continue;
    const Eigen::Vector2d from = low.cwiseMin(b_low), to = high.cwiseMax(b_high);
    if (!allowed(request, a.sheet, to - from)) return std::nullopt;
    return spot_at(panel,
                   request,
                   a.sheet,
                   to - from,
                   a.angle_rad,
                   a.centre + turn.transpose() * (0.5 * (from + to)));
  }
  return std::nullopt;
}

}  // namespace calmplate::placement
