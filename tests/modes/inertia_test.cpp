// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/inertia.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "modes/model_matrices.hpp"

using namespace calmplate;
using modes::count_below;
using test::Sparse;

// Source: derived. The membrane's eigenvalues are the sums of the chain's (model_matrices.hpp).
TEST_CASE("the count agrees with the closed form at every gap of a square membrane",
          "[modes][derived]") {
  const int n = 14;
  const Sparse K = test::membrane(test::chain(n, 1.0, true));
  const Sparse M = test::diagonal(n * n, 1.0);
  std::vector<double> a;
  for (int j = 1; j <= n; ++j) a.push_back(test::held_chain_value(n, 1.0, j));
  const std::vector<double> all = test::lowest_sums(a, static_cast<std::size_t>(n * n));
  int gaps = 0;
  for (std::size_t i = 1; i < all.size(); ++i) {
    if (all[i] - all[i - 1] < 1e-6) continue;
    const auto count = count_below(K, M, 0.5 * (all[i] + all[i - 1]));
    CAPTURE(i, all[i]);
    CHECK(count.safe);
    CHECK(count.below == static_cast<int>(i));
    ++gaps;
  }
  CHECK(gaps > 80);  // the doubles are skipped, the rest is not
}

// Source: derived. A mass scale moves every eigenvalue; a massless row is an infinite one.
TEST_CASE("rows without mass are not counted", "[modes][derived]") {
  const int n = 30;
  const Sparse K = test::with_massless_followers(test::chain(n, 2.0, true), 7.0);
  const Sparse M = test::half_massless(n);
  const double top = test::held_chain_value(n, 2.0, n);
  CHECK(count_below(K, M, 1.01 * top).below == n);
  CHECK(count_below(K, M, 1e4 * top).below == n);
  CHECK(count_below(
            K, M, 0.5 * (test::held_chain_value(n, 2.0, 7) + test::held_chain_value(n, 2.0, 8)))
            .below == 7);
}

// Source: derived. A free chain has one rigid-body mode, at 0.
TEST_CASE("rigid-body modes are counted above nought and not below", "[modes][derived]") {
  const Sparse K = test::chain(25, 3.0, false);
  const Sparse M = test::diagonal(25, 1.0);
  CHECK(count_below(K, M, 1e-6).below == 1);
  CHECK(count_below(K, M, -1e-6).below == 0);
}

// Source: derived. K - 2 k I of a chain has 0 on its diagonal, so the first pivot is exactly 0.
TEST_CASE("a limit on a pivot is nudged upward by no more than asked", "[modes][derived]") {
  const Sparse K = test::chain(9, 1.0, true);
  const Sparse M = test::diagonal(9, 1.0);
  const auto count = count_below(K, M, 2.0);  // the fifth eigenvalue of nine is 2
  CHECK(count.safe);
  CHECK(count.limit > 2.0);
  CHECK(count.limit <= 2.0 * (1.0 + 1e-4));
  CHECK(count.below == 5);
}

TEST_CASE("wrong calls of the count are refused", "[modes]") {
  const Sparse K = test::chain(5, 1.0, true);
  CHECK_THROWS_AS(count_below(K, test::diagonal(4, 1.0), 1.0), std::invalid_argument);
  CHECK_THROWS_AS(count_below(Sparse(0, 0), Sparse(0, 0), 1.0), std::invalid_argument);
  CHECK_THROWS_AS(count_below(K, test::diagonal(5, 1.0), INFINITY), std::invalid_argument);
  CHECK_THROWS_AS(count_below(K, test::diagonal(5, NAN), 1.0), std::invalid_argument);
}
