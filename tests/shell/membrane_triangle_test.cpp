// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/membrane_triangle.hpp"

#include <catch2/catch.hpp>

#include "shell/triangles.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

constexpr double kPoisson = 0.3;
constexpr double kThickness = 1.1;

Eigen::Matrix3d stretch(double poisson) { return kThickness * shell::plane_stress(7.0, poisson); }

/// (u, v, rotation) of a uniform displacement gradient.
Eigen::Vector3d uniform(const Eigen::Matrix2d& gradient, const Eigen::Vector2d& at) {
  const Eigen::Vector2d u = gradient * at;
  return {u.x(), u.y(), 0.5 * (gradient(1, 0) - gradient(0, 1))};
}

/// Pure bending in the plane about the line y = 0, free of stress across: curvature 1.
Eigen::Vector3d bent(double poisson, double x, double y) {
  return {-x * y, 0.5 * (x * x + poisson * y * y), x};
}

}  // namespace

// Source: derived. Hooke's law for plane stress, inverted: a bar that is pulled along x shrinks by
// nu across.
TEST_CASE("plane stress pulls back with Young's modulus and shears with G", "[shell][derived]") {
  const Eigen::Matrix3d e = shell::plane_stress(210e9, 0.3);
  const Eigen::Vector3d pulled = e * Eigen::Vector3d(1.0, -0.3, 0.0);
  CHECK(pulled(0) == Approx(210e9));
  CHECK(std::abs(pulled(1)) < 1e-3);
  CHECK(pulled(2) == 0.0);
  CHECK((e * Eigen::Vector3d::UnitZ())(2) == Approx(210e9 / 2.6));
}

// Source: derived. Nine degrees of freedom less three rigid motions.
TEST_CASE("a membrane triangle is symmetric and gives way to its three rigid motions only",
          "[shell][derived]") {
  for (const double poisson : {0.0, kPoisson, 0.49})
    for (const Eigen::Matrix3d& c : some_triangles()) {
      CAPTURE(poisson, c);
      const shell::TriangleGeometry g = shell::triangle_geometry(c);
      const shell::Matrix9d k = shell::membrane_stiffness(g, stretch(poisson), poisson);
      CHECK((k - k.transpose()).norm() < 1e-13 * k.norm());
      const Eigen::VectorXd e = scaled_eigenvalues(k);
      CHECK(std::abs(e(2)) < 1e-11 * e(8));
      CHECK(e(3) > 1e-6 * e(8));
      Eigen::Matrix2d turn;
      turn << 0.0, -1.0, 1.0, 0.0;
      Eigen::Matrix<double, 9, 1> spin;
      for (int i = 0; i < 3; ++i) spin.segment<3>(3 * i) = uniform(turn, g.xy.row(i).transpose());
      CHECK((k * spin).norm() < 1e-12 * k.norm() * spin.norm());
    }
}

// Source: derived. Patch test: energy 1/2 eps^T C eps times the area; the free inner nodes settle
// on the field, drilling rotations too.
TEST_CASE("a patch of irregular triangles carries constant strain exactly", "[shell][derived]") {
  const Patch patch;
  const Eigen::MatrixXd k = patch_stiffness(patch, 0, [](const shell::TriangleGeometry& g) {
    return shell::membrane_stiffness(g, stretch(kPoisson), kPoisson);
  });
  std::vector<Eigen::Matrix2d> gradients(4);
  gradients[0] << 1.0, 0.0, 0.0, 0.0;
  gradients[1] << 0.0, 0.0, 0.0, 1.0;
  gradients[2] << 0.0, 1.0, 0.0, 0.0;
  gradients[3] << 0.3, -0.7, 0.2, 0.5;
  for (const Eigen::Matrix2d& gradient : gradients) {
    Eigen::VectorXd exact(3 * static_cast<Eigen::Index>(patch.nodes.size()));
    for (std::size_t i = 0; i < patch.nodes.size(); ++i)
      exact.segment<3>(3 * static_cast<Eigen::Index>(i)) = uniform(gradient, patch.nodes[i]);
    const Eigen::VectorXd x = with_inside_free(k, exact);
    CHECK((x - exact).norm() < 1e-11 * exact.norm());
    const Eigen::Vector3d strain(gradient(0, 0), gradient(1, 1), gradient(0, 1) + gradient(1, 0));
    const double energy = 0.5 * strain.dot(stretch(kPoisson) * strain) * patch.area();
    CHECK(0.5 * x.dot(k * x) == Approx(energy).epsilon(1e-10).margin(0.0));
  }
}

// Source: derived. Beam theory: energy 1/2 E t b^3 / 12 a for a strip a long and b high bent to
// curvature 1. That the element meets it for every shape of the rectangle is what its higher-order
// part is made for.
TEST_CASE("a rectangle of two membrane triangles bends in its plane as a beam does",
          "[shell][derived]") {
  for (const double poisson : {0.0, kPoisson})
    for (const double length : {0.05, 0.2, 1.0}) {
      const double height = 0.1;
      CAPTURE(poisson, length);
      const double x = 0.5 * length, y = 0.5 * height;
      const std::vector<Eigen::Matrix3d> halves = {corners(-x, -y, x, -y, x, y),
                                                   corners(-x, -y, x, y, -x, y)};
      double energy = 0.0;
      for (const Eigen::Matrix3d& c : halves) {
        const shell::TriangleGeometry g = shell::triangle_geometry(c);
        const shell::Matrix9d k =
            in_plane_axes(shell::membrane_stiffness(g, stretch(poisson), poisson), g, 0);
        Eigen::Matrix<double, 9, 1> u;
        for (int i = 0; i < 3; ++i) u.segment<3>(3 * i) = bent(poisson, c(i, 0), c(i, 1));
        energy += 0.5 * u.dot(k * u);
      }
      const double beam = 0.5 * 7.0 * kThickness * height * height * height / 12.0 * length;
      CHECK(energy == Approx(beam).epsilon(1e-10).margin(0.0));
    }
}
