// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/complex_solve.hpp"

#include <catch2/catch.hpp>
#include <complex>
#include <random>
#include <stdexcept>

using namespace calmplate;

// Source: [derived] a x gives b back; rounding grows with the condition, which is near 1 here.
TEST_CASE("The solution put back into the equations gives their right side", "[modes][derived]") {
  std::mt19937 random(3);
  const auto any = [&] { return static_cast<double>(random() % 2001) / 1000.0 - 1.0; };
  for (const Eigen::Index n : {1, 2, 17, 70}) {
    Eigen::MatrixXcd a(n, n);
    Eigen::VectorXcd b(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      b(i) = {any(), any()};
      for (Eigen::Index j = 0; j < n; ++j) a(i, j) = {any(), any()};
      a(i, i) += 20.0;
    }
    a(0, 0) = n > 1 ? 0.0 : a(0, 0);  // rows must be exchanged
    Eigen::MatrixXcd factors = a;
    const Eigen::VectorXcd x = modes::solve_in_place(factors, b);
    Eigen::VectorXcd left = -b;
    for (Eigen::Index j = 0; j < n; ++j) left += x(j) * a.col(j);
    CHECK(left.norm() < 1e-12 * b.norm());
  }
}

// Source: [derived] from the contract.
TEST_CASE("A singular matrix and sizes that differ are refused", "[modes][derived]") {
  Eigen::MatrixXcd zero = Eigen::MatrixXcd::Zero(3, 3);
  CHECK_THROWS_AS(modes::solve_in_place(zero, Eigen::VectorXcd::Ones(3)), std::runtime_error);
  CHECK_THROWS_AS(modes::solve_in_place(zero, Eigen::VectorXcd::Ones(2)), std::invalid_argument);
}
