// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/triangle_mass.hpp"

#include <catch2/catch.hpp>

#include "shell/triangles.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

constexpr double kMassPerArea = 6.28;

using Field = std::array<double, 6>;  ///< of 1, x, y, x^2, x y, y^2

double value(const Field& f, double x, double y) {
  return f[0] + f[1] * x + f[2] * y + f[3] * x * x + f[4] * x * y + f[5] * y * y;
}

Eigen::Matrix<double, 9, 1> values(const Field& f, const Eigen::Matrix<double, 3, 2>& xy) {
  Eigen::Matrix<double, 9, 1> out;
  for (int i = 0; i < 3; ++i) {
    const double x = xy(i, 0), y = xy(i, 1);
    out.segment<3>(3 * i) << value(f, x, y), f[2] + f[4] * x + 2.0 * f[5] * y,
        -(f[1] + 2.0 * f[3] * x + f[4] * y);
  }
  return out;
}

Eigen::Matrix3d in_frame(const shell::TriangleGeometry& g) {
  Eigen::Matrix3d c = Eigen::Matrix3d::Zero();
  c.leftCols<2>() = g.xy;
  return c;
}

}  // namespace

// Source: derived. A motion as a whole carries the mass; the integral of the product of two
// quadratics by numerical integration that is exact for them.
TEST_CASE("the bending mass is exact for every pair of quadratic deflections", "[shell][derived]") {
  std::vector<Field> fields;
  for (std::size_t k = 0; k < 6; ++k) {
    Field f{};
    f[k] = 1.0;
    fields.push_back(f);
  }
  fields.push_back({0.003, -0.2, 0.1, 4.0, -7.0, 2.0});
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::TriangleGeometry g = shell::triangle_geometry(c);
    const shell::Matrix9d m = shell::bending_mass(g, kMassPerArea);
    for (const Field& f : fields)
      for (const Field& h : fields) {
        const double exact = kMassPerArea * integral(in_frame(g), [&](double x, double y) {
                               return value(f, x, y) * value(h, x, y);
                             });
        const double scale = kMassPerArea * integral(in_frame(g), [&](double x, double y) {
                               return std::abs(value(f, x, y)) * std::abs(value(h, x, y));
                             });
        CHECK(values(f, g.xy).dot(m * values(h, g.xy)) ==
              Approx(exact).epsilon(0.0).margin(1e-11 * scale));
      }
  }
}

TEST_CASE("the bending mass is symmetric and positive definite", "[shell][derived]") {
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::Matrix9d m = shell::bending_mass(shell::triangle_geometry(c), kMassPerArea);
    CHECK((m - m.transpose()).norm() < 1e-14 * m.norm());
    CHECK(scaled_eigenvalues(m)(0) > 1e-6);
  }
}

// Source: derived. Integrals of linear functions over a triangle; 0.5 x 0.02 x 0.02 m2 of it.
TEST_CASE("the in-plane mass is exact for linear motion", "[shell][derived]") {
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::TriangleGeometry g = shell::triangle_geometry(c);
    const Eigen::Matrix3d m = shell::linear_mass(g, kMassPerArea);
    CHECK(m.sum() == Approx(kMassPerArea * g.area).epsilon(1e-13));
    CHECK(scaled_eigenvalues(m)(0) > 0.1);
    for (int a = 0; a < 2; ++a)
      for (int b = 0; b < 2; ++b) {
        const double exact = kMassPerArea * integral(in_frame(g), [&](double x, double y) {
                               return (a == 0 ? x : y) * (b == 0 ? x : y);
                             });
        CHECK(g.xy.col(a).dot(m * g.xy.col(b)) ==
              Approx(exact).epsilon(0.0).margin(1e-12 * kMassPerArea * g.area * 1e-3));
      }
  }
  const shell::TriangleGeometry right = shell::triangle_geometry(some_triangles().front());
  CHECK(shell::linear_mass(right, 1.0).sum() == Approx(2e-4).epsilon(1e-13));
}
