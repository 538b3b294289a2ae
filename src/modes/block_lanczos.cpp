// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <vector>

#include "base/parallel.hpp"
#include "modes/dense_algebra.hpp"
#include "modes/ritz_polish.hpp"

namespace calmplate::modes {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kDependent = 1e-14;  // share of a block's largest squared length: no new direction
constexpr double kExhausted = 1e-13;  // share of |S|: the space holds nothing more
constexpr double kSteep = 1e-6;    // squared lengths in a block this far apart: orthogonalise again
constexpr Index kRowChunk = 4096;  // work is shared in pieces of fixed size, so that
constexpr Index kColumnChunk = 64;  // the sums do not depend on the number of threads

/// Work on tall blocks is shared in pieces of fixed size: the sums do not depend on the threads.
template <class Body>
void for_chunks(Index total, Index chunk, unsigned threads, const Body& body) {
  const auto chunks = static_cast<std::size_t>((total + chunk - 1) / chunk);
  base::parallel_for(chunks, threads, [&](std::size_t i) {
    const Index from = static_cast<Index>(i) * chunk;
    body(from, std::min(chunk, total - from));
  });
}

/// Basis of the block Krylov space of S with the start block, orthonormal to rounding, and
/// T = Q^T S Q, banded:  S Q = Q T + Q_next B E^T,  E^T the last block's rows.
class BlockBasis {
 public:
  BlockBasis(const ModeOperator& op, Index width, Index capacity, unsigned seed)
      : op_(op), Q_(op.rows(), capacity + width), capacity_(capacity) {
    // S once, so that the start holds no massless directions.
    Q_.leftCols(width) = start_block(op.rows(), width, seed);
    op_.apply(Q_.data(), Q_.data(), width);
    norm_ = 0.0;
    next_ = orthonormalise(width).rows();
  }

  /// Columns of Q for which T is known.
  Index size() const { return size_; }
  /// Columns that another step would add; 0: the space is invariant under S.
  Index next() const { return next_; }
  bool room() const { return size_ + next_ <= capacity_; }
  /// T, [size x size].
  MatrixXd t() const {
    MatrixXd T = MatrixXd::Zero(size_, size_);
    Index at = 0;
    for (std::size_t j = 0; j < a_.size(); ++j) {
      const Index width = a_[j].rows();
      T.block(at, at, width, width) = a_[j];
      if (j + 1 < a_.size()) T.block(at + width, at, b_[j].rows(), width) = b_[j];
      at += width;
    }
    return T;  // the lower triangle is all that is read
  }
  const MatrixXd& b() const { return b_.back(); }
  const MatrixXd& q() const { return Q_; }

  /// One more block.
  void step() {
    const Index width = next_, first = size_;
    size_ += width;
    double* w = column(size_);
    op_.apply(column(first), w, width);
    if (!b_.empty()) {
      const Index previous = b_.back().cols();
      subtract(first - previous, previous, b_.back().transpose(), w, width);
    }
    const MatrixXd a = project(first, width, w, width);
    subtract(first, width, a, w, width);
    a_.push_back(0.5 * (a + a.transpose()));
    norm_ = std::max(norm_, a.cwiseAbs().maxCoeff());
    b_.push_back(orthonormalise(width));
    next_ = b_.back().rows();
  }

 private:
  double* column(Index j) { return Q_.data() + j * Q_.rows(); }

  /// Q(:, first .. first+count)^T w, [count x width].
  MatrixXd project(Index first, Index count, const double* w, Index width) {
    MatrixXd h(count, width);
    const Index n = Q_.rows();
    for_chunks(count, kColumnChunk, op_.threads(), [&](Index from, Index part) {
      multiply(
          true, part, width, n, 1.0, column(first + from), n, w, n, 0.0, h.data() + from, count);
    });
    return h;
  }

  /// w -= Q(:, first .. first+count) h.
  void subtract(Index first, Index count, const MatrixXd& h, double* w, Index width) {
    const Index n = Q_.rows();
    for_chunks(n, kRowChunk, op_.threads(), [&](Index from, Index rows) {
      multiply(false,
               rows,
               width,
               count,
               -1.0,
               column(first) + from,
               n,
               h.data(),
               h.rows(),
               1.0,
               w + from,
               n);
    });
  }

  /// Makes the `width` columns behind the basis orthogonal to it and to each other. Directions that
  /// are not new are dropped. Returns B, [kept x width]: the old columns are the new ones times B.
  MatrixXd orthonormalise(Index width) {
    constexpr int kPasses = 3;
    double* w = column(size_);
    const Index n = Q_.rows();
    MatrixXd B = MatrixXd::Identity(width, width);
    for (int pass = 0; pass < kPasses; ++pass) {
      const Index m = B.rows();
      if (size_ > 0) subtract(0, size_, project(0, size_, w, m), w, m);
      const DenseEigen gram = symmetric_eigen(project(size_, m, w, m));
      const double largest = gram.value[m - 1];
      const double floor =
          pass == 0 ? std::max(kDependent * largest, kExhausted * kExhausted * norm_ * norm_)
                    : kDependent;
      Index kept = 0;
      while (kept < m && gram.value[m - 1 - kept] > floor) ++kept;
      const VectorXd length = gram.value.tail(kept).cwiseSqrt();
      const MatrixXd V = gram.vector.rightCols(kept);
      rotate(w, m, V * length.cwiseInverse().asDiagonal(), n);
      B = length.asDiagonal() * (V.transpose() * B);
      if (kept == 0 || (gram.value[m - kept] > kSteep * largest)) break;
    }
    return B;
  }

  void rotate(double* w, Index m, const MatrixXd& C, Index n) {
    for_chunks(n, kRowChunk, op_.threads(), [&](Index from, Index rows) {
      MatrixXd turned(rows, C.cols());
      multiply(false, rows, C.cols(), m, 1.0, w + from, n, C.data(), m, 0.0, turned.data(), rows);
      for (Index c = 0; c < C.cols(); ++c)
        std::copy_n(turned.data() + c * rows, rows, w + from + c * n);
    });
  }

  const ModeOperator& op_;
  MatrixXd Q_;
  std::vector<MatrixXd> a_, b_;  // diagonal blocks of T, and those below them
  Index capacity_, size_ = 0, next_ = 0;
  double norm_ = 0.0;
};

/// y + Q_next rest / theta = S y / theta: the inverse step of `polished`, at no cost.
RitzPairs ritz_vectors(const BlockBasis& basis,
                       const VectorXd& theta,
                       const MatrixXd& s,
                       const MatrixXd& rest,
                       bool converged,
                       unsigned threads) {
  const Index n = basis.q().rows(), k = theta.size();
  MatrixXd weight(basis.size() + basis.next(), k);
  weight << s, rest * theta.cwiseInverse().asDiagonal();
  RitzPairs pairs;
  pairs.theta = theta;
  pairs.converged = converged;
  pairs.stepped = true;
  pairs.y.resize(n, k);
  for_chunks(n, kRowChunk, threads, [&](Index from, Index rows) {
    multiply(false,
             rows,
             k,
             weight.rows(),
             1.0,
             basis.q().data() + from,
             n,
             weight.data(),
             weight.rows(),
             0.0,
             pairs.y.data() + from,
             n);
  });
  return pairs;
}

}  // namespace

RitzPairs block_largest(
    const ModeOperator& op, Index count, Index width, double tolerance, unsigned seed) {
  width = std::min(width, op.rows());
  const Index capacity = std::min(op.rows(), 5 * count + 20 * width);
  BlockBasis basis(op, width, capacity, seed);
  Index check_at = 2 * (count + width);
  while (basis.next() > 0 && basis.room()) {
    basis.step();
    const bool last = basis.next() == 0 || !basis.room();
    if (basis.size() < check_at && !last) continue;
    const DenseEigen ritz = symmetric_eigen(basis.t());
    const Index k = std::min(count, basis.size());
    const VectorXd theta = ritz.value.tail(k).reverse();
    const MatrixXd s = ritz.vector.rightCols(k).rowwise().reverse();
    const MatrixXd rest = basis.b() * s.bottomRows(basis.b().cols());  // S y - theta y in Q_next
    const VectorXd error = rest.colwise().norm().transpose().cwiseQuotient(theta);
    // Beyond an exhausted space there are massless directions only, whose theta is rounding.
    const bool converged = basis.next() == 0 || error.maxCoeff() <= tolerance;
    if (converged || last) return ritz_vectors(basis, theta, s, rest, converged, op.threads());
    check_at = basis.size() + std::max<Index>(width, basis.size() / 16);
  }
  return {};  // S is zero: no direction has mass
}

}  // namespace calmplate::modes
