// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/triangle_mass.hpp"

#include <array>

namespace calmplate::shell {
namespace {

constexpr int kMonomials = 10;
using Exponents = std::array<int, 3>;
/// All barycentric monomials of degree 3; every cubic is a sum of them because l1 + l2 + l3 = 1.
constexpr std::array<Exponents, kMonomials> kExponents = {{{3, 0, 0},
                                                           {0, 3, 0},
                                                           {0, 0, 3},
                                                           {2, 1, 0},
                                                           {2, 0, 1},
                                                           {1, 2, 0},
                                                           {0, 2, 1},
                                                           {1, 0, 2},
                                                           {0, 1, 2},
                                                           {1, 1, 1}}};

int monomial(Exponents e) {
  for (int m = 0; m < kMonomials; ++m)
    if (kExponents[static_cast<std::size_t>(m)] == e) return m;
  return -1;
}

double factorial(int n) { return n < 2 ? 1.0 : n * factorial(n - 1); }

/// Integrals of products of monomials over a triangle of unit area. [10 x 10]
Eigen::Matrix<double, kMonomials, kMonomials> monomial_products() {
  Eigen::Matrix<double, kMonomials, kMonomials> g;
  for (std::size_t i = 0; i < kMonomials; ++i)
    for (std::size_t j = 0; j < kMonomials; ++j) {
      double value = 2.0;
      for (std::size_t k = 0; k < 3; ++k) value *= factorial(kExponents[i][k] + kExponents[j][k]);
      g(static_cast<int>(i), static_cast<int>(j)) = value / factorial(8);
    }
  return g;
}

/// Coefficients of the nine shape functions in the monomials. [10 x 9]
///   value:  l_i^2 (3 - 2 l_i) + 2 l1 l2 l3
///   slope along the side from i to j, times its length: l_i^2 l_j + l1 l2 l3 / 2
Eigen::Matrix<double, kMonomials, 9> shape_coefficients(const TriangleGeometry& g) {
  Eigen::Matrix<double, kMonomials, 9> c = Eigen::Matrix<double, kMonomials, 9>::Zero();
  const int bubble = monomial({1, 1, 1});
  for (std::size_t i = 0; i < 3; ++i) {
    const auto column = static_cast<Eigen::Index>(3 * i);
    Exponents cube{};
    cube[i] = 3;
    c(monomial(cube), column) = 1.0;  // 3 l^2 (l1 + l2 + l3) - 2 l^3
    c(bubble, column) = 2.0;
    for (std::size_t step = 1; step < 3; ++step) {
      const std::size_t j = (i + step) % 3;
      Exponents e{};
      e[i] = 2;
      e[j] = 1;
      const int m = monomial(e);
      c(m, column) = 3.0;
      const Eigen::RowVector2d side =
          g.xy.row(static_cast<Eigen::Index>(j)) - g.xy.row(static_cast<Eigen::Index>(i));
      // dw/dx = -theta_y, dw/dy = theta_x
      c(m, column + 1) += side.y();
      c(m, column + 2) -= side.x();
      c(bubble, column + 1) += 0.5 * side.y();
      c(bubble, column + 2) -= 0.5 * side.x();
    }
  }
  return c;
}

}  // namespace

Matrix9d bending_mass(const TriangleGeometry& geometry, double mass_per_area) {
  static const Eigen::Matrix<double, kMonomials, kMonomials> products = monomial_products();
  const Eigen::Matrix<double, kMonomials, 9> c = shape_coefficients(geometry);
  return mass_per_area * geometry.area * c.transpose() * products * c;
}

Eigen::Matrix<double, 1, 9> deflection_at(const TriangleGeometry& geometry,
                                          const Eigen::Vector3d& l) {
  Eigen::Matrix<double, 1, kMonomials> at;
  for (std::size_t m = 0; m < kMonomials; ++m) {
    double value = 1.0;
    for (std::size_t k = 0; k < 3; ++k)
      for (int power = 0; power < kExponents[m][k]; ++power)
        value *= l(static_cast<Eigen::Index>(k));
    at(static_cast<Eigen::Index>(m)) = value;
  }
  return at * shape_coefficients(geometry);
}

Eigen::Matrix3d linear_mass(const TriangleGeometry& geometry, double mass_per_area) {
  return mass_per_area * geometry.area / 12.0 *
         (Eigen::Matrix3d::Ones() + Eigen::Matrix3d::Identity());
}

}  // namespace calmplate::shell
