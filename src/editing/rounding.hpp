// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <cmath>

/// Numbers as a person writes them. A quotient by a power of ten is the double nearest to the
/// decimal, so that writing and reading it gives the same double.
namespace calmplate::editing {

inline double tenths(double value) { return std::round(10.0 * value) / 10.0; }
inline double thousandths(double value) { return std::round(1000.0 * value) / 1000.0; }
inline Eigen::Vector2d tenths(const Eigen::Vector2d& v) { return {tenths(v.x()), tenths(v.y())}; }
inline Eigen::Vector2d thousandths(const Eigen::Vector2d& v) {
  return {thousandths(v.x()), thousandths(v.y())};
}

}  // namespace calmplate::editing
