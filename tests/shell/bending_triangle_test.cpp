// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/bending_triangle.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "shell/membrane_triangle.hpp"
#include "shell/triangles.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

/// w = a + b x + c y + d x^2 / 2 + e x y + f y^2 / 2
struct Quadratic {
  double a, b, c, d, e, f;
  double w(double x, double y) const {
    return a + b * x + c * y + 0.5 * d * x * x + e * x * y + 0.5 * f * y * y;
  }
  double slope_x(double x, double y) const { return b + d * x + e * y; }
  double slope_y(double x, double y) const { return c + e * x + f * y; }
  /// Curvatures in the sense of curvature_matrix.
  Eigen::Vector3d kappa() const { return {-d, -f, -2.0 * e}; }
};

Eigen::Matrix3d rigidity() { return 9.1 * shell::plane_stress(1.0, 0.3); }

Eigen::Matrix<double, 9, 1> values(const Quadratic& q, const shell::TriangleGeometry& g) {
  Eigen::Matrix<double, 9, 1> x;
  for (int i = 0; i < 3; ++i) {
    const double at_x = g.xy(i, 0), at_y = g.xy(i, 1);
    x.segment<3>(3 * i) << q.w(at_x, at_y), q.slope_y(at_x, at_y), -q.slope_x(at_x, at_y);
  }
  return x;
}

const std::vector<Quadratic> kQuadratics = {{0.0, 0.0, 0.0, 1.0, 0.0, 0.0},
                                            {0.0, 0.0, 0.0, 0.0, 1.0, 0.0},
                                            {0.0, 0.0, 0.0, 0.0, 0.0, 1.0},
                                            {0.01, -0.2, 0.3, 0.7, -1.1, 0.4}};

}  // namespace

// Source: derived. Nine degrees of freedom less three rigid motions. Tolerance: rounding, and the
// weakest elastic shape of a flat triangle.
TEST_CASE("a bending triangle is symmetric and gives way to its three rigid motions only",
          "[shell][derived]") {
  for (const Eigen::Matrix3d& c : some_triangles()) {
    CAPTURE(c);
    const shell::TriangleGeometry g = shell::triangle_geometry(c);
    const shell::Matrix9d k = shell::bending_stiffness(g, rigidity());
    CHECK((k - k.transpose()).norm() < 1e-14 * k.norm());
    const Eigen::VectorXd e = scaled_eigenvalues(k);
    CHECK(std::abs(e(2)) < 1e-12 * e(8));
    CHECK(e(3) > 1e-6 * e(8));
    for (const Quadratic& q : {Quadratic{1.0, 0.0, 0.0, 0.0, 0.0, 0.0},
                               Quadratic{0.0, 1.0, 0.0, 0.0, 0.0, 0.0},
                               Quadratic{0.0, 0.0, 1.0, 0.0, 0.0, 0.0}}) {
      const auto x = values(q, g);
      CHECK((k * x).norm() < 1e-12 * k.norm() * x.norm());
    }
  }
}

// Source: derived. A quadratic w has the same curvature everywhere.
TEST_CASE("a bending triangle sees the exact curvature of every quadratic", "[shell][derived]") {
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::TriangleGeometry g = shell::triangle_geometry(c);
    for (const Quadratic& q : kQuadratics)
      for (const Eigen::Vector3d& l : {Eigen::Vector3d(1.0, 0.0, 0.0),
                                       Eigen::Vector3d(0.2, 0.3, 0.5),
                                       Eigen::Vector3d(0.0, 0.5, 0.5)}) {
        const Eigen::Vector3d kappa = shell::curvature_matrix(g, l) * values(q, g);
        CHECK((kappa - q.kappa()).norm() < 1e-10 * q.kappa().norm());
      }
  }
}

// Source: derived. Patch test: energy 1/2 kappa^T D kappa times the area, and the free inner nodes
// settle on the field. Tolerance: rounding through the solve.
TEST_CASE("a patch of irregular triangles carries constant curvature exactly", "[shell][derived]") {
  const Patch patch;
  const Eigen::MatrixXd k = patch_stiffness(patch, 1, [](const shell::TriangleGeometry& g) {
    return shell::bending_stiffness(g, rigidity());
  });
  for (const Quadratic& q : kQuadratics) {
    Eigen::VectorXd exact(3 * static_cast<Eigen::Index>(patch.nodes.size()));
    for (std::size_t i = 0; i < patch.nodes.size(); ++i) {
      const double x = patch.nodes[i].x(), y = patch.nodes[i].y();
      exact.segment<3>(3 * static_cast<Eigen::Index>(i)) << q.w(x, y), q.slope_y(x, y),
          -q.slope_x(x, y);
    }
    const Eigen::VectorXd x = with_inside_free(k, exact);
    CHECK((x - exact).norm() < 1e-11 * exact.norm());
    const double energy = 0.5 * q.kappa().dot(rigidity() * q.kappa()) * patch.area();
    CHECK(0.5 * x.dot(k * x) == Approx(energy).epsilon(1e-10).margin(0.0));
  }
}

// Source: derived. Rotations scale as w over length; energy as (w / L^2)^2 L^2.
TEST_CASE("a bending triangle twice as large has the stiffness that scaling asks for",
          "[shell][derived]") {
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::Matrix9d small = shell::bending_stiffness(shell::triangle_geometry(c), rigidity());
    const shell::Matrix9d large =
        shell::bending_stiffness(shell::triangle_geometry(2.0 * c), rigidity());
    Eigen::VectorXd scale = Eigen::VectorXd::Ones(9);
    for (int i = 0; i < 3; ++i) scale(3 * i) = 2.0;
    CHECK((0.25 * small - (0.25 * scale).asDiagonal() * large * scale.asDiagonal()).norm() <
          1e-12 * small.norm());
  }
}

TEST_CASE("the frame of a triangle is right-handed, begins at its first corner and keeps lengths",
          "[shell][derived]") {
  Eigen::Matrix3d c;
  c << 1.0, 2.0, 3.0, 1.3, 2.1, 2.8, 0.9, 2.6, 3.3;
  const shell::TriangleGeometry g = shell::triangle_geometry(c);
  CHECK((g.axes.transpose() * g.axes - Eigen::Matrix3d::Identity()).norm() < 1e-14);
  CHECK(g.axes.determinant() == Approx(1.0));
  for (int i = 0; i < 3; ++i) {
    const Eigen::Vector3d back =
        g.axes.leftCols<2>() * g.xy.row(i).transpose() + c.row(0).transpose();
    CHECK((back - c.row(i).transpose()).norm() < 1e-14);
  }
  const Eigen::Vector3d a = c.row(1) - c.row(0), b = c.row(2) - c.row(0);
  CHECK(g.area ==
        Approx(0.5 * std::sqrt(a.squaredNorm() * b.squaredNorm() - std::pow(a.dot(b), 2))));
}

TEST_CASE("a triangle without area is refused", "[shell]") {
  CHECK_THROWS_AS(shell::triangle_geometry(corners(0.0, 0.0, 1.0, 1.0, 2.0, 2.0)),
                  std::invalid_argument);
  CHECK_THROWS_AS(shell::triangle_geometry(corners(0.0, 0.0, 0.0, 0.0, 2.0, 2.0)),
                  std::invalid_argument);
}
