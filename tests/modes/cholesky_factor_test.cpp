// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/cholesky_factor.hpp"

#include <dlfcn.h>

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <thread>

#include "modes/model_matrices.hpp"

using namespace calmplate;
using modes::CholeskyFactor;
using test::Sparse;

namespace {

Sparse plate(int n) { return test::squared(test::membrane(test::chain(n, 1.0, true))); }

Eigen::MatrixXd loads(Eigen::Index n, Eigen::Index m) {
  Eigen::MatrixXd b(n, m);
  for (Eigen::Index j = 0; j < m; ++j)
    for (Eigen::Index i = 0; i < n; ++i)
      b(i, j) = std::sin(1.0 + static_cast<double>(3 * i + 7 * j));
  return b;
}

}  // namespace

// Source: derived. A times the answer must be the load. Tolerance: rounding times the condition of
// this matrix, about 1e5.
TEST_CASE("a solve gives back the load, for any number of columns", "[modes][derived]") {
  const Sparse A = plate(20);
  const CholeskyFactor factor(A);
  const Eigen::Index columns = GENERATE(1, 2, 15, 16, 17, 40);
  CAPTURE(columns);
  const Eigen::MatrixXd b = loads(A.rows(), columns);
  CHECK((A * factor.solve(b) - b).norm() < 1e-10 * b.norm());
}

// Source: crosscheck, Eigen 3.4 SimplicialLDLT.
TEST_CASE("a solve agrees with another factorisation", "[modes][crosscheck]") {
  const Sparse A = plate(15);
  const Eigen::MatrixXd b = loads(A.rows(), 5);
  const Eigen::SimplicialLDLT<Sparse> other(A);
  const Eigen::MatrixXd x = other.solve(b);
  CHECK((CholeskyFactor(A).solve(b) - x).norm() < 1e-10 * x.norm());
}

// Source: derived. A = P^T L L^T P, so the halves make the whole, and x^T A x = |L^T P x|^2.
TEST_CASE("two half solves make a solve and carry the energy", "[modes][derived]") {
  const Sparse A = plate(12);
  const CholeskyFactor factor(A);
  const Eigen::MatrixXd b = loads(A.rows(), 3);
  const Eigen::MatrixXd y = factor.half_solve(b);
  const Eigen::MatrixXd x = factor.half_solve_back(y);
  CHECK((x - factor.solve(b)).norm() < 1e-12 * x.norm());
  CHECK(x.col(0).dot(A * x.col(0)) == Approx(y.col(0).squaredNorm()).epsilon(1e-10));
  Eigen::VectorXi order = factor.permutation();
  std::sort(order.begin(), order.end());
  for (int i = 0; i < order.size(); ++i) REQUIRE(order[i] == i);
}

// Source: derived. L has at least the lower triangle of A, and at most a full triangle.
TEST_CASE("the size of the factor is reported", "[modes][derived]") {
  const Sparse A = plate(12);
  const CholeskyFactor factor(A);
  const auto n = static_cast<std::size_t>(A.rows());
  CHECK(factor.size() == A.rows());
  CHECK(factor.nnz_l() >= (static_cast<std::size_t>(A.nonZeros()) + n) / 2);
  CHECK(factor.nnz_l() <= n * n);
  CHECK(factor.bytes() > 8 * factor.nnz_l());
}

TEST_CASE("only the lower triangle is read", "[modes]") {
  const Sparse A = plate(10);
  const Sparse lower = A.triangularView<Eigen::Lower>();
  const Eigen::MatrixXd b = loads(A.rows(), 2);
  CHECK((CholeskyFactor(A).solve(b).array() == CholeskyFactor(lower).solve(b).array()).all());
}

// Source: derived, as for the solve.
TEST_CASE("new values, with the old pattern or another, give the new solution", "[modes]") {
  CholeskyFactor factor(plate(12));
  const Sparse stiffer = 3.0 * plate(12) + test::diagonal(144, 0.5);
  const Eigen::MatrixXd b = loads(144, 4);
  factor.refactor(stiffer);
  CHECK((stiffer * factor.solve(b) - b).norm() < 1e-10 * b.norm());
  const Sparse thinner = test::membrane(test::chain(12, 2.0, true));
  factor.refactor(thinner);
  CHECK((thinner * factor.solve(b) - b).norm() < 1e-10 * b.norm());
  const Sparse smaller = test::chain(9, 1.0, true);
  factor.refactor(smaller);
  CHECK((smaller * factor.solve(loads(9, 1)) - loads(9, 1)).norm() < 1e-12);
}

// Source: derived. Two chains, the second with its held ends let go and turned round (-k): only its
// rows can be at fault.
TEST_CASE("a matrix that is not positive definite names a row of the loose part", "[modes]") {
  std::vector<Eigen::Triplet<double>> entries;
  const Sparse held = test::chain(30, 1.0, true);
  const Sparse wrong = test::chain(20, 1.0, false) - test::diagonal(20, 0.01);
  for (int c = 0; c < 30; ++c)
    for (Sparse::InnerIterator it(held, c); it; ++it)
      entries.emplace_back(static_cast<int>(it.row()), c, it.value());
  for (int c = 0; c < 20; ++c)
    for (Sparse::InnerIterator it(wrong, c); it; ++it)
      entries.emplace_back(static_cast<int>(it.row()) + 30, c + 30, it.value());
  const Sparse A = test::from_triplets(50, entries);
  CholeskyFactor factor(held);
  try {
    factor.refactor(A);
    FAIL("no throw");
  } catch (const modes::NotPositiveDefinite& e) {
    CHECK(e.dof() >= 30);
    CHECK(e.dof() < 50);
    CHECK(std::string(e.what()) ==
          "matrix is not positive definite at row " + std::to_string(e.dof()));
  }
  CHECK_THROWS_AS(factor.solve(loads(50, 1)), std::logic_error);
  factor.refactor(held);
  CHECK((held * factor.solve(loads(30, 1)) - loads(30, 1)).norm() < 1e-10);
}

// Source: derived. The last pivot of a free chain of springs is 0 but for rounding; for the held
// one it is 1 / (end compliance) = (n + 1) / n against 2.
TEST_CASE("the weakest pivot tells a loose panel from a held one", "[modes][derived]") {
  CHECK(CholeskyFactor(test::chain(40, 5.0, true)).weakest_pivot() > 1e-3);
  double weakest = 0.0;
  try {
    weakest = CholeskyFactor(test::chain(40, 0.3, false)).weakest_pivot();
  } catch (const modes::NotPositiveDefinite&) {
  }
  CHECK(weakest < 1e-12);
}

TEST_CASE("wrong calls of the factorisation are refused", "[modes]") {
  CHECK_THROWS_AS(CholeskyFactor(Sparse(0, 0)), std::invalid_argument);
  CHECK_THROWS_AS(CholeskyFactor(Sparse(3, 2)), std::invalid_argument);
  Sparse bad = test::chain(4, 1.0, true);
  bad.coeffRef(2, 2) = NAN;
  CHECK_THROWS_AS(CholeskyFactor(bad), std::invalid_argument);
  const CholeskyFactor factor(test::chain(4, 1.0, true));
  CHECK_THROWS_AS(factor.solve(loads(5, 1)), std::invalid_argument);
  CHECK_THROWS_AS(factor.half_solve(loads(3, 1)), std::invalid_argument);
  CHECK_THROWS_AS(factor.half_solve_back(loads(3, 1)), std::invalid_argument);
  CHECK_THROWS_AS(factor.solve(loads(4, 1), 0), std::invalid_argument);
}

TEST_CASE("threads and neighbours do not change a byte of a solve", "[modes]") {
  const Sparse A = plate(30);
  const Eigen::MatrixXd b = loads(A.rows(), 50);
  const Eigen::MatrixXd alone = CholeskyFactor(A).solve(b);
  CHECK((CholeskyFactor(A).solve(b, 2).array() == alone.array()).all());
  // Several objects at work at once, ordering included.
  std::vector<Eigen::MatrixXd> results(4);
  std::vector<std::thread> pool;
  for (auto& result : results)
    pool.emplace_back([&A, &b, &result] { result = CholeskyFactor(A).solve(b); });
  for (auto& thread : pool) thread.join();
  for (const auto& result : results) CHECK((result.array() == alone.array()).all());
}

// What counts is where CHOLMOD's calls end up, and that is the first dgemm_ the loader finds.
TEST_CASE("the BLAS behind the factorisation is OpenBLAS on one thread", "[modes]") {
  CHECK(modes::blas_config().rfind("OpenBLAS", 0) == 0);
  CHECK(modes::blas_threads() == 1);
  for (const char* name : {"dgemm_", "dsyrk_", "dtrsm_", "dpotrf_"}) {
    CAPTURE(name);
    void* symbol = dlsym(RTLD_DEFAULT, name);
    REQUIRE(symbol != nullptr);
    Dl_info info;
    REQUIRE(dladdr(symbol, &info) != 0);
    CHECK(std::string(info.dli_fname).find("openblas") != std::string::npos);
  }
}
