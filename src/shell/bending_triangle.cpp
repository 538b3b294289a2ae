// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/bending_triangle.hpp"

#include <array>

namespace calmplate::shell {
namespace {

using RotationMap = Eigen::Matrix<double, 2, 9>;

/// (beta_x, beta_y) = -(dw/dx, dw/dy) at the three corners and three mid-sides from the nine dofs.
/// Mid-side k lies between corners k and k+1. Along a side w is the cubic of its end values and
/// slopes, so the slope at the middle is 3 (w_j - w_i) / (2 L) - (s_i + s_j) / 4; across the side
/// the rotation is linear.
std::array<RotationMap, 6> rotations(const TriangleGeometry& g) {
  std::array<RotationMap, 6> beta;
  for (int i = 0; i < 3; ++i) {
    beta[static_cast<std::size_t>(i)].setZero();
    beta[static_cast<std::size_t>(i)](0, 3 * i + 2) = 1.0;   // beta_x = theta_y
    beta[static_cast<std::size_t>(i)](1, 3 * i + 1) = -1.0;  // beta_y = -theta_x
  }
  for (int k = 0; k < 3; ++k) {
    const int i = k, j = (k + 1) % 3;
    const Eigen::Vector2d side = g.xy.row(j) - g.xy.row(i);
    const double length = side.norm();
    const Eigen::Vector2d t = side / length, n(-t.y(), t.x());
    const RotationMap mean =
        0.5 * (beta[static_cast<std::size_t>(i)] + beta[static_cast<std::size_t>(j)]);
    Eigen::Matrix<double, 1, 9> along = -0.5 * t.transpose() * mean;
    along(3 * i) += 1.5 / length;
    along(3 * j) -= 1.5 / length;
    beta[static_cast<std::size_t>(3 + k)] = t * along + n * (n.transpose() * mean);
  }
  return beta;
}

/// Gradients of the barycentric coordinates, rows l1..l3.
Eigen::Matrix<double, 3, 2> barycentric_gradients(const TriangleGeometry& g) {
  Eigen::Matrix<double, 3, 2> grad;
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3, k = (i + 2) % 3;
    grad.row(i) << (g.xy(j, 1) - g.xy(k, 1)), (g.xy(k, 0) - g.xy(j, 0));
  }
  return grad / (2.0 * g.area);
}

Eigen::Matrix<double, 3, 9> curvatures(const std::array<RotationMap, 6>& beta,
                                       const Eigen::Matrix<double, 3, 2>& grad,
                                       const Eigen::Vector3d& l) {
  Eigen::Matrix<double, 3, 9> kappa = Eigen::Matrix<double, 3, 9>::Zero();
  for (int a = 0; a < 6; ++a) {
    Eigen::RowVector2d d;
    if (a < 3) {
      d = (4.0 * l(a) - 1.0) * grad.row(a);
    } else {
      const int i = a - 3, j = (i + 1) % 3;
      d = 4.0 * (l(i) * grad.row(j) + l(j) * grad.row(i));
    }
    const RotationMap& b = beta[static_cast<std::size_t>(a)];
    kappa.row(0) += d(0) * b.row(0);
    kappa.row(1) += d(1) * b.row(1);
    kappa.row(2) += d(1) * b.row(0) + d(0) * b.row(1);
  }
  return kappa;
}

}  // namespace

Eigen::Matrix<double, 3, 9> curvature_matrix(const TriangleGeometry& geometry,
                                             const Eigen::Vector3d& l) {
  return curvatures(rotations(geometry), barycentric_gradients(geometry), l);
}

Matrix9d bending_stiffness(const TriangleGeometry& geometry, const Eigen::Matrix3d& rigidity) {
  const std::array<RotationMap, 6> beta = rotations(geometry);
  const Eigen::Matrix<double, 3, 2> grad = barycentric_gradients(geometry);
  Matrix9d k = Matrix9d::Zero();
  // Curvature is linear in the triangle: the three mid-side points integrate its square exactly.
  for (int side = 0; side < 3; ++side) {
    Eigen::Vector3d l = Eigen::Vector3d::Constant(0.5);
    l(side) = 0.0;
    const Eigen::Matrix<double, 3, 9> b = curvatures(beta, grad, l);
    k.noalias() += geometry.area / 3.0 * b.transpose() * rigidity * b;
  }
  return k;
}

}  // namespace calmplate::shell
