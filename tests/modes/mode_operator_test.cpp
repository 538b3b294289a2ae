// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/mode_operator.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "modes/model_matrices.hpp"
#include "modes/ritz_polish.hpp"

using namespace calmplate;
using modes::CholeskyFactor;
using modes::ModeOperator;
using modes::RitzPairs;
using test::Sparse;

namespace {

Eigen::MatrixXd apply(const ModeOperator& op, const Eigen::MatrixXd& y) {
  Eigen::MatrixXd out(y.rows(), y.cols());
  op.apply(y.data(), out.data(), y.cols());
  return out;
}

void check_pairs(const ModeOperator& op, const RitzPairs& pairs, double tolerance) {
  REQUIRE(pairs.converged);
  const Eigen::MatrixXd rest = apply(op, pairs.y) - pairs.y * pairs.theta.asDiagonal();
  for (Eigen::Index j = 0; j < pairs.theta.size(); ++j) {
    CAPTURE(j);
    CHECK(rest.col(j).norm() < tolerance * pairs.theta[j]);
  }
}

}  // namespace

// Source: derived. S = s L^-1 P M P^T L^-T written out densely.
TEST_CASE("the operator is the one in its formula, for any number of columns", "[modes][derived]") {
  const int n = 60;
  const Sparse K = test::chain(n, 2.0, true);
  const Sparse M = test::chain(n, -0.1, true) + test::diagonal(n, 1.0);
  const CholeskyFactor factor(K);
  const ModeOperator op(factor, M, 3.0, 1, {});
  const Eigen::MatrixXd eye = Eigen::MatrixXd::Identity(n, n);
  const Eigen::MatrixXd expected = 3.0 * factor.half_solve(M * factor.half_solve_back(eye));
  const Eigen::Index m = GENERATE(1, 2, 7, 8, 9, 60);
  CAPTURE(m);
  const Eigen::MatrixXd S = apply(op, eye.leftCols(m));
  CHECK((S - expected.leftCols(m)).cwiseAbs().maxCoeff() < 1e-11);
  CHECK(op.applications() == m);
  Eigen::VectorXi order = factor.permutation();
  const Eigen::MatrixXd x = modes::start_block(n, m, 3);
  Eigen::MatrixXd back(n, m), product(n, m);
  for (int k = 0; k < n; ++k) back.row(order[k]) = x.row(k);
  const Eigen::MatrixXd mx = M * back;
  for (int k = 0; k < n; ++k) product.row(k) = mx.row(order[k]);
  CHECK((op.mass_times(x) - product).cwiseAbs().maxCoeff() < 1e-14);
}

// Source: crosscheck, Spectra 1.0.1 SymEigsSolver on the same operator, against our block Lanczos.
TEST_CASE("block Lanczos and Spectra find the same eigenvalues", "[modes][crosscheck]") {
  const int n = 24;
  const Sparse K = test::squared(test::membrane(test::chain(n, 1.0, true)));
  const Sparse M = test::diagonal(n * n, 1.0);
  const CholeskyFactor factor(K);
  const ModeOperator op(factor, M, 0.01, 1, {});
  const RitzPairs spectra = modes::spectra_largest(op, 30, 1e-11);
  check_pairs(op, spectra, 1e-10);
  const Eigen::Index width = GENERATE(1, 2, 3, 8, 17);
  CAPTURE(width);
  const RitzPairs block = modes::block_largest(op, 30, width, 1e-9, 1);
  check_pairs(op, block, 1e-8);
  CHECK((block.theta - spectra.theta).cwiseAbs().maxCoeff() < 1e-9 * spectra.theta[0]);
}

// Source: derived. A space of few masses is exhausted after that many directions.
TEST_CASE("an exhausted Krylov space ends with all there is", "[modes][derived]") {
  const int n = 400;
  const Sparse K = test::chain(n, 1.0, true);
  Sparse M(n, n);
  for (int i = 0; i < 11; ++i) M.insert(30 * i + 5, 30 * i + 5) = 1.0;
  M.makeCompressed();
  const CholeskyFactor factor(K);
  const ModeOperator op(factor, M, 1.0, 1, {});
  const RitzPairs pairs = modes::block_largest(op, 20, 4, 1e-9, 1);
  CHECK(pairs.converged);
  CHECK(pairs.theta.size() >= 11);
  CHECK(pairs.theta[10] > 1e-8 * pairs.theta[0]);
  for (Eigen::Index j = 11; j < pairs.theta.size(); ++j)
    CHECK(std::abs(pairs.theta[j]) < 1e-12 * pairs.theta[0]);
}

TEST_CASE("start blocks are the same for the same seed and differ for another", "[modes]") {
  const Eigen::MatrixXd a = modes::start_block(500, 4, 1);
  CHECK((a.array() == modes::start_block(500, 4, 1).array()).all());
  CHECK((a - modes::start_block(500, 4, 2)).norm() > 10.0);
  CHECK(a.cwiseAbs().maxCoeff() < 1.0);
  CHECK(std::abs(a.mean()) < 0.1);
  CHECK(std::abs(a.col(0).dot(a.col(1))) < 0.2 * a.col(0).squaredNorm());
}
