// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/membrane_triangle.hpp"

#include <algorithm>

namespace calmplate::shell {
namespace {

/// Corner coordinate differences x_ij = x_i - x_j, y_ij and squared side lengths.
struct Differences {
  double x12, x23, x31, y12, y23, y31;
  double l21, l32, l13;  ///< squared lengths of sides 12, 23, 31
};

Differences differences(const TriangleGeometry& g) {
  const auto x = [&](int i, int j) { return g.xy(i - 1, 0) - g.xy(j - 1, 0); };
  const auto y = [&](int i, int j) { return g.xy(i - 1, 1) - g.xy(j - 1, 1); };
  Differences d{x(1, 2), x(2, 3), x(3, 1), y(1, 2), y(2, 3), y(3, 1), 0.0, 0.0, 0.0};
  d.l21 = d.x12 * d.x12 + d.y12 * d.y12;
  d.l32 = d.x23 * d.x23 + d.y23 * d.y23;
  d.l13 = d.x31 * d.x31 + d.y31 * d.y31;
  return d;
}

/// Lumps constant stresses to node forces: force = L sigma (per unit thickness). [9 x 3]
Eigen::Matrix<double, 9, 3> force_lumping(const Differences& d) {
  constexpr double alpha = 1.5;
  const double x21 = -d.x12, x32 = -d.x23, x13 = -d.x31;
  const double y21 = -d.y12, y32 = -d.y23, y13 = -d.y31;
  const double a6 = alpha / 6.0, a3 = alpha / 3.0;
  Eigen::Matrix<double, 9, 3> l;
  // clang-format off
  l << d.y23, 0.0, x32,
       0.0, x32, d.y23,
       a6 * d.y23 * (y13 - y21), a6 * x32 * (d.x31 - d.x12), a3 * (d.x31 * y13 - d.x12 * y21),
       d.y31, 0.0, x13,
       0.0, x13, d.y31,
       a6 * d.y31 * (y21 - y32), a6 * x13 * (d.x12 - d.x23), a3 * (d.x12 * y21 - d.x23 * y32),
       d.y12, 0.0, x21,
       0.0, x21, d.y12,
       a6 * d.y12 * (y32 - y13), a6 * x21 * (d.x23 - d.x31), a3 * (d.x23 * y32 - d.x31 * y13);
  // clang-format on
  return 0.5 * l;
}

/// Cartesian strain from the three strains along the sides. [3 x 3]
Eigen::Matrix3d side_strain_to_cartesian(const Differences& d, double area) {
  const double x13 = -d.x31, x21 = -d.x12, x32 = -d.x23;
  const double y13 = -d.y31, y21 = -d.y12, y32 = -d.y23;
  Eigen::Matrix3d t;
  // clang-format off
  t << d.y23 * y13 * d.l21, d.y31 * y21 * d.l32, d.y12 * y32 * d.l13,
       d.x23 * x13 * d.l21, d.x31 * x21 * d.l32, d.x12 * x32 * d.l13,
       (d.y23 * d.x31 + x32 * y13) * d.l21, (d.y31 * d.x12 + x13 * y21) * d.l32,
       (d.y12 * d.x23 + x21 * y32) * d.l13;
  // clang-format on
  return t / (4.0 * area * area);
}

/// Side strains at the mid-sides from the three hierarchical rotations, summed. [3 x 3]
Eigen::Matrix3d higher_order(const Differences& d, double area, const Eigen::Matrix3d& natural) {
  constexpr double b1 = 1.0, b2 = 2.0, b3 = 1.0, b4 = 0.0, b5 = 1.0, b6 = -1.0, b7 = -1.0,
                   b8 = -1.0, b9 = -2.0;
  const Eigen::Vector3d inverse(1.0 / d.l21, 1.0 / d.l32, 1.0 / d.l13);
  Eigen::Matrix3d q1, q2, q3;
  q1 << b1, b2, b3, b4, b5, b6, b7, b8, b9;
  q2 << b9, b7, b8, b3, b1, b2, b6, b4, b5;
  q3 << b5, b6, b4, b8, b9, b7, b2, b3, b1;
  const auto scaled = [&](const Eigen::Matrix3d& q) -> Eigen::Matrix3d {
    return 2.0 * area / 3.0 * inverse.asDiagonal() * q;
  };
  const Eigen::Matrix3d s1 = scaled(q1), s2 = scaled(q2), s3 = scaled(q3);
  const Eigen::Matrix3d q4 = 0.5 * (s1 + s2), q5 = 0.5 * (s2 + s3), q6 = 0.5 * (s3 + s1);
  return q4.transpose() * natural * q4 + q5.transpose() * natural * q5 +
         q6.transpose() * natural * q6;
}

/// Hierarchical rotations: drilling rotations less the rotation of the straight triangle. [3 x 9]
Eigen::Matrix<double, 3, 9> hierarchical_rotations(const Differences& d, double area) {
  Eigen::Matrix<double, 1, 9> mean;
  mean << -d.x23, -d.y23, 0.0, -d.x31, -d.y31, 0.0, -d.x12, -d.y12, 0.0;
  Eigen::Matrix<double, 3, 9> t = mean.replicate<3, 1>() / (4.0 * area);
  for (int i = 0; i < 3; ++i) t(i, 3 * i + 2) = 1.0;
  return t;
}

}  // namespace

Eigen::Matrix3d plane_stress(double young_pa, double poisson) {
  const double c = young_pa / (1.0 - poisson * poisson);
  Eigen::Matrix3d e;
  e << c, c * poisson, 0.0, c * poisson, c, 0.0, 0.0, 0.0, 0.5 * c * (1.0 - poisson);
  return e;
}

Matrix9d membrane_stiffness(const TriangleGeometry& geometry,
                            const Eigen::Matrix3d& stretch,
                            double poisson) {
  const Differences d = differences(geometry);
  const double area = geometry.area;
  const Eigen::Matrix<double, 9, 3> l = force_lumping(d);
  const Eigen::Matrix3d te = side_strain_to_cartesian(d, area);
  const Eigen::Matrix3d natural = te.transpose() * stretch * te;
  const Eigen::Matrix<double, 3, 9> t = hierarchical_rotations(d, area);
  const double beta0 = std::max(0.5 * (1.0 - 4.0 * poisson * poisson), 0.01);
  return l * stretch * l.transpose() / area +
         0.75 * beta0 * area * t.transpose() * higher_order(d, area, natural) * t;
}

}  // namespace calmplate::shell
