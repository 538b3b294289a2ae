// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/ritz_polish.hpp"

#include <algorithm>
#include <cstdint>
#include <utility>

#include "modes/dense_algebra.hpp"

namespace calmplate::modes {

namespace {

constexpr Eigen::Index kDense = 160;      // up to here the dense way is quicker
constexpr double kMassless = 1e-13;       // theta below this share of the largest is rounding
constexpr Eigen::Index kBlock = 8;        // 4 and 16 are slower, at 5k and at 20k nodes
constexpr double kLoose = 5.0;            // the final inverse step brings more than this back
constexpr Eigen::Index kColumns = 16;     // columns handled at once where memory matters
constexpr Eigen::Index kRowChunk = 2048;  // rows handled at once where memory matters

RitzPairs dense_largest(const ModeOperator& op, Eigen::Index count) {
  Eigen::MatrixXd S = Eigen::MatrixXd::Identity(op.rows(), op.rows());
  op.apply(S.data(), S.data(), S.cols());
  const DenseEigen all = symmetric_eigen(std::move(S));
  RitzPairs pairs;
  pairs.theta = all.value.tail(count).reverse();
  pairs.y = all.vector.rightCols(count).rowwise().reverse();
  pairs.converged = true;
  return pairs;
}

void drop_massless(RitzPairs& pairs) {
  Eigen::Index kept = 0;
  while (kept < pairs.theta.size() && pairs.theta[kept] > kMassless * pairs.theta[0]) ++kept;
  pairs.theta.conservativeResize(kept);
  pairs.y.conservativeResize(Eigen::NoChange, kept);
}

void rotate_in_place(Eigen::MatrixXd& X, const Eigen::MatrixXd& C) {
  for (Eigen::Index first = 0; first < X.rows(); first += kRowChunk) {
    const Eigen::Index rows = std::min(kRowChunk, X.rows() - first);
    const Eigen::MatrixXd chunk = X.middleRows(first, rows);
    X.middleRows(first, rows) = times(chunk, C);
  }
}

}  // namespace

Eigen::MatrixXd start_block(Eigen::Index n, Eigen::Index m, unsigned seed) {
  Eigen::MatrixXd block(n, m);
  std::uint64_t state = 0x9e3779b97f4a7c15ULL * (seed + 1ULL);
  for (Eigen::Index i = 0; i < block.size(); ++i) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    block.data()[i] = static_cast<double>(state >> 11) * 0x1.0p-52 - 1.0;
  }
  return block;
}

RitzPairs largest_pairs(const ModeOperator& op, Eigen::Index count, double tolerance, int attempt) {
  RitzPairs pairs;
  if (op.rows() <= kDense || 3 * count > op.rows())
    pairs = dense_largest(op, count);
  else if (attempt == 0)
    pairs = block_largest(op, count, kBlock, kLoose * tolerance, 1);
  else if (attempt == 1)
    pairs = block_largest(op, count, 4 * kBlock, tolerance, 2);
  else
    pairs = spectra_largest(op, count, tolerance);
  drop_massless(pairs);
  return pairs;
}

ModeSet polished(const ModeOperator& op,
                 RitzPairs pairs,
                 const CholeskyFactor& factor,
                 double shift) {
  ModeSet modes;
  modes.complete = pairs.converged;
  const Eigen::Index k = pairs.theta.size();
  Eigen::MatrixXd X = std::move(pairs.y);
  if (!pairs.stepped) {
    op.apply(X.data(), X.data(), k);
    for (Eigen::Index j = 0; j < k; ++j) X.col(j) /= pairs.theta[j];
  }
  const Eigen::MatrixXd stiffness = transpose_times(X, X);  // x^T (K - shift M) x, as x = L^-T y
  op.to_shape(X);
  Eigen::MatrixXd mass(k, k);
  for (Eigen::Index first = 0; first < k; first += kColumns) {
    const Eigen::Index width = std::min(kColumns, k - first);
    mass.middleCols(first, width) = transpose_times(X, op.mass_times(X.middleCols(first, width)));
  }
  const DenseEigen small = generalized_eigen(stiffness, mass);
  rotate_in_place(X, small.vector);
  modes.omega2 = small.value.array() + shift;
  const Eigen::VectorXi& permutation = factor.permutation();
  Eigen::VectorXd column(X.rows());
  for (Eigen::Index j = 0; j < k; ++j) {
    for (Eigen::Index i = 0; i < X.rows(); ++i) column[permutation[i]] = X(i, j);
    X.col(j) = column;
  }
  modes.shape = std::move(X);
  return modes;
}

Eigen::VectorXd residuals(const Eigen::SparseMatrix<double>& K,
                          const Eigen::SparseMatrix<double>& M,
                          const Eigen::VectorXd& omega2,
                          const Eigen::MatrixXd& shape,
                          double shift) {
  Eigen::VectorXd result(omega2.size());
  for (Eigen::Index first = 0; first < result.size(); first += kColumns) {
    const Eigen::Index width = std::min(kColumns, result.size() - first);
    const Eigen::MatrixXd x = shape.middleCols(first, width);
    const Eigen::MatrixXd kx = K.selfadjointView<Eigen::Lower>() * x;
    const Eigen::MatrixXd mx = M.selfadjointView<Eigen::Lower>() * x;
    for (Eigen::Index c = 0; c < width; ++c) {
      const double w2 = omega2[first + c];
      const double size = w2 == 0.0 ? std::abs(shift) * mx.col(c).norm() : kx.col(c).norm();
      result[first + c] = (kx.col(c) - w2 * mx.col(c)).norm() / size;
    }
  }
  return result;
}

}  // namespace calmplate::modes
