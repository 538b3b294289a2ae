// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/supernodal_ldl.hpp"

#include <cblas.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "modes/dense_algebra.hpp"

namespace calmplate::modes {

namespace {

constexpr double kSmallPivot = 1e-12;
constexpr int kPanel = 48;  // columns eliminated between two large products

class SupernodalLdl {
 public:
  SupernodalLdl(const SupernodalAnalysis& analysis,
                const Eigen::SparseMatrix<double>& lower,
                const Eigen::VectorXd& size)
      : a_(analysis),
        size_(size),
        n_(static_cast<int>(lower.rows())),
        value_(analysis.values()),
        pivot_(static_cast<std::size_t>(n_)),
        place_(static_cast<std::size_t>(n_)),
        first_(static_cast<std::size_t>(a_.supernodes()), -1),
        next_(first_.size(), -1),
        done_rows_(first_.size(), 0) {
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> to_factor(n_);
    for (int k = 0; k < n_; ++k) to_factor.indices()[a_.permutation()[k]] = k;
    permuted_.resize(n_, n_);
    permuted_.selfadjointView<Eigen::Lower>() =
        lower.selfadjointView<Eigen::Lower>().twistedBy(to_factor);
  }

  int run() {
    for (int s = 0; s < a_.supernodes(); ++s) {
      load(s);
      for (int d = first_[at(s)]; d >= 0;) {
        const int after = next_[at(d)];
        update(s, d);
        pass_on(d);
        d = after;
      }
      if (!eliminate(s)) return -1;
      done_rows_[at(s)] = columns(s);
      pass_on(s);
    }
    return static_cast<int>(
        std::count_if(pivot_.begin(), pivot_.end(), [](double d) { return d < 0.0; }));
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  int columns(int s) const { return a_.column()[s + 1] - a_.column()[s]; }
  int rows(int s) const { return a_.row_start()[s + 1] - a_.row_start()[s]; }
  const int* row(int s) const { return a_.row() + a_.row_start()[s]; }
  double* block(int s) { return value_.data() + a_.value_start()[s]; }

  /// Puts the matrix's own numbers into the block of s, and notes where each row lies in it.
  void load(int s) {
    const std::ptrdiff_t lead = rows(s);
    double* x = block(s);
    std::fill(x, x + lead * columns(s), 0.0);
    for (int i = 0; i < rows(s); ++i) place_[at(row(s)[i])] = i;
    for (int c = 0; c < columns(s); ++c)
      for (Eigen::SparseMatrix<double>::InnerIterator it(permuted_, a_.column()[s] + c); it; ++it)
        x[place_[at(static_cast<int>(it.row()))] + c * lead] = it.value();
  }

  /// Subtracts L_d D_d L_d^T from the columns of s, d being an earlier supernode with rows in s.
  void update(int s, int d) {
    const int from = done_rows_[at(d)];
    const int below = rows(d) - from;
    const int end = a_.column()[s + 1];
    int inside = 0;
    while (inside < below && row(d)[from + inside] < end) ++inside;
    const int width = columns(d);
    const double* l = block(d) + from;
    scaled_.resize(at(width) * at(inside));
    product_.resize(at(below) * at(inside));
    for (int i = 0; i < inside; ++i)
      for (int c = 0; c < width; ++c)
        scaled_[at(c) + at(i) * at(width)] =
            l[i + static_cast<std::ptrdiff_t>(c) * rows(d)] * pivot_[at(a_.column()[d] + c)];
    multiply(false,
             below,
             inside,
             width,
             1.0,
             l,
             rows(d),
             scaled_.data(),
             width,
             0.0,
             product_.data(),
             below);
    const std::ptrdiff_t lead = rows(s);
    for (int j = 0; j < inside; ++j) {
      double* column = block(s) + (row(d)[from + j] - a_.column()[s]) * lead;
      const double* p = product_.data() + at(j) * at(below);
      for (int i = j; i < below; ++i) column[place_[at(row(d)[from + i])]] -= p[i];
    }
    done_rows_[at(d)] = from + inside;
  }

  /// Hands d to the supernode that holds the next of its rows.
  void pass_on(int d) {
    if (done_rows_[at(d)] >= rows(d)) return;
    const int target = row(d)[done_rows_[at(d)]];
    const int* end = a_.column() + a_.supernodes() + 1;
    const auto owner =
        static_cast<int>(std::upper_bound(a_.column(), end, target) - a_.column()) - 1;
    next_[at(d)] = first_[at(owner)];
    first_[at(owner)] = d;
  }

  /// L D L^T of the block of s, panel by panel. False if a pivot is too small.
  bool eliminate(int s) {
    const int width = columns(s), height = rows(s);
    const std::ptrdiff_t lead = height;
    double* x = block(s);
    for (int p = 0; p < width; p += kPanel) {
      const int panel = std::min(kPanel, width - p);
      double* corner = x + p + p * lead;
      if (!eliminate_corner(corner, lead, panel, a_.column()[s] + p)) return false;
      const int below = height - p - panel;
      if (below == 0) continue;
      double* under = corner + panel;
      cblas_dtrsm(CblasColMajor,
                  CblasRight,
                  CblasLower,
                  CblasTrans,
                  CblasUnit,
                  below,
                  panel,
                  1.0,
                  corner,
                  height,
                  under,
                  height);
      // `under` is L D now: keep it for the product, transposed, and divide D out in place.
      const int right = width - p - panel;
      scaled_.resize(at(panel) * at(right));
      for (int c = 0; c < panel; ++c) {
        double* column = under + c * lead;
        for (int i = 0; i < right; ++i) scaled_[at(c) + at(i) * at(panel)] = column[i];
        const double inverse = 1.0 / pivot_[at(a_.column()[s] + p + c)];
        for (int i = 0; i < below; ++i) column[i] *= inverse;
      }
      for (int q = 0; q < right; q += kPanel) {
        const int part = std::min(kPanel, right - q);
        multiply(false,
                 below - q,
                 part,
                 panel,
                 -1.0,
                 under + q,
                 lead,
                 scaled_.data() + at(q) * at(panel),
                 panel,
                 1.0,
                 under + q + (panel + q) * lead,
                 lead);
      }
    }
    return true;
  }

  bool eliminate_corner(double* x, std::ptrdiff_t lead, int width, int first_column) {
    for (int j = 0; j < width; ++j) {
      const double d = x[j + j * lead];
      const double size = size_[a_.permutation()[first_column + j]];
      if (!(std::abs(d) > kSmallPivot * size)) return false;
      pivot_[at(first_column + j)] = d;
      for (int k = j + 1; k < width; ++k) {
        const double factor = x[k + j * lead] / d;
        for (int i = k; i < width; ++i) x[i + k * lead] -= factor * x[i + j * lead];
      }
      for (int i = j + 1; i < width; ++i) x[i + j * lead] /= d;
    }
    return true;
  }

  const SupernodalAnalysis& a_;
  const Eigen::VectorXd& size_;
  int n_;
  Eigen::SparseMatrix<double> permuted_;
  std::vector<double> value_;      // blocks of L, unit diagonal not used
  std::vector<double> pivot_;      // D
  std::vector<int> place_;         // row of the matrix -> row of the block at work
  std::vector<int> first_, next_;  // lists of earlier supernodes waiting for each supernode
  std::vector<int> done_rows_;     // rows of each supernode already used
  std::vector<double> scaled_, product_;
};

}  // namespace

int negative_pivots(const SupernodalAnalysis& analysis,
                    const Eigen::SparseMatrix<double>& lower,
                    const Eigen::VectorXd& size) {
  return SupernodalLdl(analysis, lower, size).run();
}

}  // namespace calmplate::modes
