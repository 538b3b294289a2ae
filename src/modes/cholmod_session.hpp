// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// Inside modes only: the one header here that shows CHOLMOD. Nothing outside this folder includes
// it.
#include <cholmod.h>

#include <Eigen/SparseCore>
#include <mutex>

namespace calmplate::modes {

/// A CHOLMOD workspace of its own for every object and thread: the library keeps no other state.
class CholmodSession {
 public:
  CholmodSession() {
    cholmod_start(&common_);
    common_.print = 0;
    common_.error_handler = nullptr;
    // One ordering, always the same: METIS nested dissection.
    common_.nmethods = 1;
    common_.method[0].ordering = CHOLMOD_METIS;
    common_.postorder = 1;
  }
  ~CholmodSession() { cholmod_finish(&common_); }
  CholmodSession(const CholmodSession&) = delete;
  CholmodSession& operator=(const CholmodSession&) = delete;
  cholmod_common* operator->() { return &common_; }
  cholmod_common* get() { return &common_; }

 private:
  cholmod_common common_;
};

/// METIS draws from the C library's rand() after seeding it: two threads ordering at once would
/// disturb each other, and the factor would depend on timing. Hold this while ordering.
std::mutex& ordering_mutex();

/// Sets OpenBLAS to one thread, once a process: the same sums in the same order on every machine
/// load, and threads are spent on whole blocks of work instead.
void use_one_blas_thread();

/// View of a compressed matrix that holds its lower triangle, for as long as `lower` lives.
cholmod_sparse view_lower(Eigen::SparseMatrix<double>& lower);

/// Lower triangle of a square matrix, compressed, with finite numbers.
/// @throws std::invalid_argument if A is not square, is empty or holds a number that is not finite
Eigen::SparseMatrix<double> checked_lower(const Eigen::SparseMatrix<double>& A);

}  // namespace calmplate::modes
