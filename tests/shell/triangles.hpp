// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Dense>
#include <array>
#include <functional>
#include <vector>

#include "shell/triangle_geometry.hpp"

/// Triangles and patches of triangles in the plane z = 0.
namespace calmplate::testing {

inline Eigen::Matrix3d corners(double x1, double y1, double x2, double y2, double x3, double y3) {
  Eigen::Matrix3d c;
  c << x1, y1, 0.0, x2, y2, 0.0, x3, y3, 0.0;
  return c;
}

/// A right one, an even one, a flat one and one at the worst angles a mesh keeps; m.
inline std::vector<Eigen::Matrix3d> some_triangles() {
  return {corners(0.0, 0.0, 0.02, 0.0, 0.0, 0.02),
          corners(0.1, 0.1, 0.12, 0.11, 0.105, 0.125),
          corners(0.0, 0.0, 0.04, 0.0, 0.03, 0.004),
          corners(-0.01, 0.02, -0.02, -0.015, 0.025, -0.005)};
}

/// Seven nodes, two of them inside, seven triangles without any symmetry.
struct Patch {
  std::vector<Eigen::Vector2d> nodes = {{0.0, 0.0},
                                        {0.24, 0.0},
                                        {0.27, 0.13},
                                        {0.10, 0.19},
                                        {-0.03, 0.12},
                                        {0.06, 0.05},
                                        {0.17, 0.08}};
  std::vector<std::array<int, 3>> triangles = {
      {0, 1, 5}, {1, 6, 5}, {1, 2, 6}, {2, 3, 6}, {3, 5, 6}, {3, 4, 5}, {4, 0, 5}};
  static constexpr int kFirstInside = 5;

  Eigen::Matrix3d corners_of(const std::array<int, 3>& t) const {
    Eigen::Matrix3d c = Eigen::Matrix3d::Zero();
    for (int k = 0; k < 3; ++k)
      c.row(k).head<2>() =
          nodes[static_cast<std::size_t>(t[static_cast<std::size_t>(k)])].transpose();
    return c;
  }
  double area() const {
    double sum = 0.0;
    for (const auto& t : triangles) sum += shell::triangle_geometry(corners_of(t)).area;
    return sum;
  }
};

using Matrix9d = Eigen::Matrix<double, 9, 9>;

/// Turns the frame's x, y components of two of three dofs a node into those of the plane's axes.
/// @param vector_at  place of the vector's first component among a node's three dofs
inline Matrix9d in_plane_axes(const Matrix9d& k, const shell::TriangleGeometry& g, int vector_at) {
  Matrix9d turn = Matrix9d::Identity();
  for (int c = 0; c < 3; ++c)
    turn.block<2, 2>(3 * c + vector_at, 3 * c + vector_at) =
        g.axes.topLeftCorner<2, 2>().transpose();
  return turn.transpose() * k * turn;
}

/// Sum of an element's matrices over the patch. [3 n_node x 3 n_node]
inline Eigen::MatrixXd patch_stiffness(
    const Patch& patch,
    int vector_at,
    const std::function<Matrix9d(const shell::TriangleGeometry&)>& element) {
  const auto n = static_cast<Eigen::Index>(3 * patch.nodes.size());
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(n, n);
  for (const auto& t : patch.triangles) {
    const shell::TriangleGeometry g = shell::triangle_geometry(patch.corners_of(t));
    const Matrix9d small = in_plane_axes(element(g), g, vector_at);
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j)
        k.block<3, 3>(3 * t[i], 3 * t[j]) +=
            small.block<3, 3>(3 * static_cast<int>(i), 3 * static_cast<int>(j));
  }
  return k;
}

/// Holds the outer nodes at the given values and lets the inner ones find their place.
inline Eigen::VectorXd with_inside_free(const Eigen::MatrixXd& k, const Eigen::VectorXd& given) {
  const Eigen::Index outside = 3 * Patch::kFirstInside, inside = k.rows() - outside;
  Eigen::VectorXd x = given;
  x.tail(inside) = k.bottomRightCorner(inside, inside)
                       .ldlt()
                       .solve(-k.bottomLeftCorner(inside, outside) * given.head(outside));
  return x;
}

/// Eigenvalues of a symmetric matrix after scaling its diagonal to 1, ascending.
inline Eigen::VectorXd scaled_eigenvalues(const Eigen::MatrixXd& k) {
  const Eigen::VectorXd s = k.diagonal().cwiseSqrt().cwiseInverse();
  return Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(s.asDiagonal() * k * s.asDiagonal())
      .eigenvalues();
}

/// Integral of a function over a triangle by 6 x 6 Gauss points in collapsed coordinates: exact
/// for polynomials up to degree 10.
inline double integral(const Eigen::Matrix3d& c, const std::function<double(double, double)>& f) {
  constexpr std::array<double, 6> at = {-0.9324695142031521,
                                        -0.6612093864662645,
                                        -0.2386191860831969,
                                        0.2386191860831969,
                                        0.6612093864662645,
                                        0.9324695142031521};
  constexpr std::array<double, 6> weight = {0.1713244923791704,
                                            0.3607615730481386,
                                            0.4679139345726910,
                                            0.4679139345726910,
                                            0.3607615730481386,
                                            0.1713244923791704};
  const Eigen::Vector2d p = c.row(0).head<2>(), q = c.row(1).head<2>(), r = c.row(2).head<2>();
  const Eigen::Vector2d pq = q - p, qr = r - q;
  const double jacobian = pq.x() * qr.y() - pq.y() * qr.x();
  double sum = 0.0;
  for (std::size_t i = 0; i < 6; ++i)
    for (std::size_t j = 0; j < 6; ++j) {
      const double u = 0.5 * (1.0 + at[i]), v = 0.5 * (1.0 + at[j]);
      const Eigen::Vector2d x = p + u * pq + u * v * qr;
      sum += 0.25 * weight[i] * weight[j] * u * f(x.x(), x.y());
    }
  return jacobian * sum;
}

}  // namespace calmplate::testing
