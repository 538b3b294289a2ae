// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "panel/drawn_input.hpp"

namespace calmplate::panel {

/// A smooth height over the flat map that meets every measured one: the spline whose change of
/// curvature is least,
///
///   h(x) = sum_i c_i L_i r^4 log r + a quadratic,   c at right angles to all quadratics,
///
/// L_i being the i-th measurement: a height, or a height less that of the straight line between two
/// places. A crown of even curvature, measured at any points, comes back exactly. The plain
/// thin-plate spline (r^2 log r, least bending) would not do: its curvature grows without bound at
/// the points, and curvature is what stiffens a crown.
/// Where the points leave a part of the quadratic open the smallest one is taken.
/// Source: [memory] Duchon's splines with kernels r^(2k) log r; checked by [derived] quadratics and
/// by the points themselves in tests/panel.
class CrownSpline {
 public:
  /// @param points  at least one
  /// @throws base::InputError at a point's place if it is measured twice, if a straight edge is
  ///         shorter than 10 mm or its point is not between its ends; at the first point if heights
  ///         over a plane are fewer than four and there is no straight edge, or if the points
  ///         contradict each other
  /// @throws std::invalid_argument without points
  explicit CrownSpline(const std::vector<CrownPoint>& points);

  /// Height over the plane that the points were measured from (with straight edges only: over any
  /// one), m.
  double height(const Eigen::Vector2d& at) const;

  /// Largest difference between a measured height and the spline's, m.
  double residual() const noexcept { return residual_; }

 private:
  /// One term of a measurement: a share of the height at a place.
  struct Term {
    Eigen::Vector2d at;  ///< scaled
    double share;
  };
  using Measurement = std::vector<Term>;
  Eigen::Vector2d scaled(const Eigen::Vector2d& at) const { return (at - middle_) / scale_m_; }
  Measurement measurement(const CrownPoint& point) const;
  double kernel(const Eigen::Vector2d& at, const Measurement& m) const;
  double scaled_height(const Eigen::Vector2d& at) const;

  Eigen::Vector2d middle_ = Eigen::Vector2d::Zero();
  double scale_m_ = 1.0;
  std::vector<Measurement> measurements_;
  Eigen::VectorXd weight_;                 ///< [n] of the kernels
  Eigen::Matrix<double, 6, 1> quadratic_;  ///< of 1, x, y, x^2, xy, y^2, scaled
  double residual_ = 0.0;
};

}  // namespace calmplate::panel
