// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <cstdint>
#include <utility>
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// The points of a scan, ready to be asked where the skin runs among them.
class ScanPoints {
 public:
  /// @param nodes    [n x 3] m, finite, at least one
  /// @param area_m2  of the sheet, above 0
  ScanPoints(const Nodes& nodes, double area_m2);

  /// Standard deviation of the points across the skin, m: the median over up to 2000 places of what
  /// a quadric through about 24 points leaves over, for the degrees of freedom it has. A drawn mesh
  /// comes out with next to nothing; 0 if no place has 12 points.
  double noise() const;

  /// `place` moved across the skin onto a quadric fitted by least squares through the points round
  /// it. The circle of points is widened by quarters as long as the wider fit agrees with all
  /// narrower ones within 1.5 of their standard errors, until the fit's own standard error is below
  /// `enough_m` or the radius is 60 mm. So a plain field is smoothed over many points, a swage line
  /// over few, and a crown of even curvature stays as it is, at the rim too. With under 8 points
  /// round it the place stays.
  /// Source: [memory] Goldenshluger & Nemirovski 1997 (widest window whose estimate agrees with
  /// those of all narrower ones). Checked by [derived] spheres, cylinders and ridges in
  /// tests/panel.
  /// @param noise_m   standard deviation of the points, m, above 0
  /// @param enough_m  m, above 0
  Eigen::Vector3d foot(const Eigen::Vector3d& place, double noise_m, double enough_m) const;

 private:
  using Near = std::vector<std::pair<double, std::size_t>>;  // distance squared, point
  void gather(const Eigen::Vector3d& place, double radius, Near& near) const;
  std::uint64_t key_of(const Eigen::Vector3d& place, std::int64_t dx) const;

  Eigen::Vector3d low_;
  double cell_ = 0.0;  ///< m; also the radius within which about 24 points lie
  std::vector<std::uint64_t> keys_;
  std::vector<Eigen::Vector3d> points_;
};

}  // namespace calmplate::panel
