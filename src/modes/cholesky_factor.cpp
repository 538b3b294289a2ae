// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/cholesky_factor.hpp"

#include <cblas.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <new>
#include <vector>

#include "base/parallel.hpp"
#include "modes/supernodal_analysis.hpp"

namespace calmplate::modes {

namespace {
constexpr Eigen::Index kBlock = 16;  // right-hand sides solved at once
}

std::string blas_config() { return openblas_get_config(); }

int blas_threads() {
  use_one_blas_thread();
  return openblas_get_num_threads();
}

NotPositiveDefinite::NotPositiveDefinite(Eigen::Index dof)
    : std::runtime_error("matrix is not positive definite at row " + std::to_string(dof)),
      dof_(dof) {}

struct CholeskyFactor::Impl {
  std::unique_ptr<SupernodalAnalysis> analysis;
  double weakest = 1.0;
  Eigen::Index weakest_dof = 0;
  bool ready = false;

  cholmod_factor* factor() const { return analysis->factor(); }
  const Eigen::VectorXi& permutation() const { return analysis->permutation(); }

  void factorise(const Eigen::SparseMatrix<double>& A) {
    ready = false;
    Eigen::SparseMatrix<double> lower = checked_lower(A);
    if (!analysis || !analysis->fits(lower)) {
      analysis.reset();  // first, so that two factors are never held at once
      analysis = std::make_unique<SupernodalAnalysis>(lower);
    }
    CholmodSession& session = analysis->session();
    cholmod_sparse view = view_lower(lower);
    cholmod_factorize(&view, factor(), session.get());
    if (session->status < CHOLMOD_OK)
      throw std::runtime_error("out of memory while factorising a matrix");
    if (session->status == CHOLMOD_NOT_POSDEF || factor()->minor < factor()->n)
      throw NotPositiveDefinite(permutation()[static_cast<Eigen::Index>(factor()->minor)]);
    find_weakest(lower.diagonal());
    ready = true;
  }

  void find_weakest(const Eigen::VectorXd& diagonal) {
    const int* super = analysis->column();
    const int* rows = analysis->row_start();
    const int* start = analysis->value_start();
    const auto* x = static_cast<const double*>(factor()->x);
    weakest = std::numeric_limits<double>::infinity();
    for (int s = 0; s < analysis->supernodes(); ++s) {
      const std::ptrdiff_t lead = rows[s + 1] - rows[s];
      for (int j = super[s]; j < super[s + 1]; ++j) {
        const double pivot = x[start[s] + (j - super[s]) * (lead + 1)];
        const int dof = permutation()[j];
        const double ratio = pivot * pivot / diagonal[dof];
        if (ratio < weakest) {
          weakest = ratio;
          weakest_dof = dof;
        }
      }
    }
  }

  using HalfSolve = int (*)(cholmod_factor*, cholmod_dense*, cholmod_dense*, cholmod_common*);

  // The factor is only read; status and workspace are this call's own.
  void solve_in_place(HalfSolve half, double* y, Eigen::Index columns) const {
    if (!ready) throw std::logic_error("solve with a matrix that was not factorised");
    CholmodSession own;
    const auto n = factor()->n;
    std::vector<double> work(factor()->maxesize * static_cast<std::size_t>(kBlock));
    cholmod_dense e{};
    e.nrow = std::max<std::size_t>(factor()->maxesize, 1);
    e.d = e.nrow;
    e.x = work.data();
    e.xtype = CHOLMOD_REAL;
    e.dtype = CHOLMOD_DOUBLE;
    for (Eigen::Index first = 0; first < columns; first += kBlock) {
      cholmod_dense x{};
      x.nrow = n;
      x.ncol = static_cast<std::size_t>(std::min(kBlock, columns - first));
      x.d = n;
      x.nzmax = n * x.ncol;
      x.x = y + static_cast<std::ptrdiff_t>(n) * first;
      x.xtype = CHOLMOD_REAL;
      x.dtype = CHOLMOD_DOUBLE;
      e.ncol = x.ncol;
      e.nzmax = e.nrow * e.ncol;
      if (half(factor(), &x, &e, own.get()) == 0)
        throw std::runtime_error("triangular solve failed");
    }
  }

  void permute(const double* b, double* y, Eigen::Index columns) const {
    const Eigen::Index n = permutation().size();
    for (Eigen::Index c = 0; c < columns; ++c)
      for (Eigen::Index k = 0; k < n; ++k) y[k + n * c] = b[permutation()[k] + n * c];
  }

  void permute_back(const double* y, double* x, Eigen::Index columns) const {
    const Eigen::Index n = permutation().size();
    for (Eigen::Index c = 0; c < columns; ++c)
      for (Eigen::Index k = 0; k < n; ++k) x[permutation()[k] + n * c] = y[k + n * c];
  }

  void check_rows(const Eigen::MatrixXd& b) const {
    if (b.rows() != permutation().size())
      throw std::invalid_argument("right-hand side must have as many rows as the matrix");
  }
};

CholeskyFactor::CholeskyFactor(const Eigen::SparseMatrix<double>& A)
    : impl_(std::make_unique<Impl>()) {
  impl_->factorise(A);
}

CholeskyFactor::~CholeskyFactor() = default;
CholeskyFactor::CholeskyFactor(CholeskyFactor&&) noexcept = default;
CholeskyFactor& CholeskyFactor::operator=(CholeskyFactor&&) noexcept = default;

void CholeskyFactor::refactor(const Eigen::SparseMatrix<double>& A) { impl_->factorise(A); }

Eigen::Index CholeskyFactor::size() const noexcept { return impl_->permutation().size(); }

std::size_t CholeskyFactor::nnz_l() const noexcept { return impl_->analysis->values(); }

std::size_t CholeskyFactor::bytes() const noexcept {
  const cholmod_factor& f = *impl_->factor();
  return f.xsize * sizeof(double) + (f.ssize + 3 * f.nsuper + 2 * f.n) * sizeof(int);
}

const Eigen::VectorXi& CholeskyFactor::permutation() const noexcept { return impl_->permutation(); }
const SupernodalAnalysis& CholeskyFactor::analysis() const noexcept { return *impl_->analysis; }
double CholeskyFactor::weakest_pivot() const noexcept { return impl_->weakest; }
Eigen::Index CholeskyFactor::weakest_dof() const noexcept { return impl_->weakest_dof; }

void CholeskyFactor::lower_solve_in_place(double* y, Eigen::Index m) const {
  impl_->solve_in_place(&cholmod_super_lsolve, y, m);
}

void CholeskyFactor::upper_solve_in_place(double* y, Eigen::Index m) const {
  impl_->solve_in_place(&cholmod_super_ltsolve, y, m);
}

Eigen::MatrixXd CholeskyFactor::solve(const Eigen::MatrixXd& b, unsigned threads) const {
  impl_->check_rows(b);
  Eigen::MatrixXd x(b.rows(), b.cols());
  const auto blocks = static_cast<std::size_t>((b.cols() + kBlock - 1) / kBlock);
  base::parallel_for(blocks, threads, [&](std::size_t i) {
    const Eigen::Index first = static_cast<Eigen::Index>(i) * kBlock;
    const Eigen::Index width = std::min(kBlock, b.cols() - first);
    Eigen::MatrixXd y(b.rows(), width);
    impl_->permute(b.data() + b.rows() * first, y.data(), width);
    lower_solve_in_place(y.data(), width);
    upper_solve_in_place(y.data(), width);
    impl_->permute_back(y.data(), x.data() + b.rows() * first, width);
  });
  return x;
}

Eigen::MatrixXd CholeskyFactor::half_solve(const Eigen::MatrixXd& b) const {
  impl_->check_rows(b);
  Eigen::MatrixXd y(b.rows(), b.cols());
  impl_->permute(b.data(), y.data(), b.cols());
  lower_solve_in_place(y.data(), y.cols());
  return y;
}

Eigen::MatrixXd CholeskyFactor::half_solve_back(const Eigen::MatrixXd& y) const {
  impl_->check_rows(y);
  Eigen::MatrixXd z = y;
  upper_solve_in_place(z.data(), z.cols());
  Eigen::MatrixXd x(y.rows(), y.cols());
  impl_->permute_back(z.data(), x.data(), y.cols());
  return x;
}

}  // namespace calmplate::modes
