// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Small systems whose modes are known in closed form.
#include <Eigen/SparseCore>
#include <cmath>
#include <vector>

#include "base/units.hpp"

namespace calmplate::test {

using Sparse = Eigen::SparseMatrix<double>;

inline Sparse from_triplets(int n, const std::vector<Eigen::Triplet<double>>& entries) {
  Sparse A(n, n);
  A.setFromTriplets(entries.begin(), entries.end());
  return A;
}

inline Sparse diagonal(int n, double value) {
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i < n; ++i) entries.emplace_back(i, i, value);
  return from_triplets(n, entries);
}

/// n masses in a row on springs k; both ends held, or both free.
inline Sparse chain(int n, double k, bool held) {
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i + 1 < n; ++i) {
    entries.emplace_back(i, i, k);
    entries.emplace_back(i + 1, i + 1, k);
    entries.emplace_back(i, i + 1, -k);
    entries.emplace_back(i + 1, i, -k);
  }
  if (held) {
    entries.emplace_back(0, 0, k);
    entries.emplace_back(n - 1, n - 1, k);
  }
  return from_triplets(n, entries);
}

/// Eigenvalue j (from 1) of chain(n, k, true) with unit masses: 4 k sin^2(pi j / (2 (n + 1))).
/// Source: [derived] put x_i = sin(pi j i / (n + 1)) into 2 x_i - x_(i-1) - x_(i+1) = lambda x_i.
inline double held_chain_value(int n, double k, int j) {
  const double s = std::sin(base::kPi * j / (2.0 * (n + 1)));
  return 4.0 * k * s * s;
}

/// Eigenvalue j (from 0) of chain(n, k, false) with unit masses: 4 k sin^2(pi j / (2 n)).
/// Source: [derived] put x_i = cos(pi j (i + 1/2) / n) into the same equation.
inline double free_chain_value(int n, double k, int j) {
  const double s = std::sin(base::kPi * j / (2.0 * n));
  return 4.0 * k * s * s;
}

/// A kron I + I kron A: membrane of n x n points; its eigenvalues are the sums of those of A.
inline Sparse membrane(const Sparse& A) {
  const int n = static_cast<int>(A.rows());
  std::vector<Eigen::Triplet<double>> entries;
  for (int c = 0; c < n; ++c)
    for (Sparse::InnerIterator it(A, c); it; ++it)
      for (int i = 0; i < n; ++i) {
        const int r = static_cast<int>(it.row());
        entries.emplace_back(r * n + i, c * n + i, it.value());
        entries.emplace_back(i * n + r, i * n + c, it.value());
      }
  return from_triplets(n * n, entries);
}

/// Plate-like: the square of a membrane, so its eigenvalues are the squares.
inline Sparse squared(const Sparse& A) { return Sparse(A * A).pruned(1.0, 1e-14); }

/// The `count` lowest sums a_i + a_j, ascending, each as often as it occurs.
inline std::vector<double> lowest_sums(const std::vector<double>& a, std::size_t count) {
  std::vector<double> sums;
  for (double x : a)
    for (double y : a) sums.push_back(x + y);
  std::sort(sums.begin(), sums.end());
  sums.resize(count);
  return sums;
}

/// Hangs a massless dof by spring `k` on every dof of K: twice the size. The massless dofs follow
/// their neighbours, so the modes stay what they were.
inline Sparse with_massless_followers(const Sparse& K, double k) {
  const int n = static_cast<int>(K.rows());
  std::vector<Eigen::Triplet<double>> entries;
  for (int c = 0; c < n; ++c) {
    for (Sparse::InnerIterator it(K, c); it; ++it)
      entries.emplace_back(static_cast<int>(it.row()), c, it.value());
    entries.emplace_back(c, c, k);
    entries.emplace_back(n + c, n + c, k);
    entries.emplace_back(c, n + c, -k);
    entries.emplace_back(n + c, c, -k);
  }
  return from_triplets(2 * n, entries);
}

/// Unit masses on the first n rows, none on the other n.
inline Sparse half_massless(int n) {
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i < n; ++i) entries.emplace_back(i, i, 1.0);
  return from_triplets(2 * n, entries);
}

}  // namespace calmplate::test
