// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <memory>

#include "base/progress.hpp"
#include "modes/cholesky_factor.hpp"

namespace calmplate::modes {

/// Undamped modes K x = w2 M x, lowest first.
struct ModeSet {
  Eigen::VectorXd omega2;    ///< [n_mode] rad2/s2, ascending; exactly 0 for rigid-body modes
  Eigen::MatrixXd shape;     ///< [n_dof x n_mode], shape^T M shape = I; signs are arbitrary, and
                             ///< repeated modes span the right space in an arbitrary basis
  Eigen::VectorXd residual;  ///< [n_mode] ||K x - w2 M x|| / ||K x||; for rigid-body modes
                             ///< ||K x|| / (|shift| ||M x||). Rounding of the shape alone leaves
                             ///< about 1e-16 times the stiffest w2 of the mesh / w2
  int rigid_body = 0;        ///< how many of the modes are rigid-body modes; they come first
  bool complete = true;  ///< every mode converged, and their number agrees with the inertia count
  int iterations = 0;    ///< solves with one right-hand side that the eigen-solve took
};

struct ModeOptions {
  double tolerance = 1e-9;  ///< on the residual, 1e-12 to 1e-3
  int max_modes = 2000;     ///< refuse to compute more than this, 1 or more
  unsigned threads = 1;     ///< 1 or more; the result does not depend on it
  bool count_check = true;  ///< compare the number of modes with the inertia count
  double scale_hz = 0.0;    ///< a frequency like those wanted, Hz; only speeds up a free panel;
                            ///< 0: found from the matrices
};

/// Keeps the factorisation of K - shift M, so that modes and static solves share it.
///
/// The shift is 0 when K is positive definite. When K is only semi-definite (a free panel has six
/// rigid-body modes) it is below 0 and of the size of the lowest elastic w2. "Semi-definite" is
/// taken from the pivots: one below 1e-10 of its diagonal entry.
///
/// Assumes that no direction is without both mass and stiffness.
class ModeSolver {
 public:
  /// @param K  [n x n] stiffness, symmetric, positive semi-definite; lower triangle read
  /// @param M  [n x n] mass, symmetric, positive semi-definite, not zero; lower triangle read
  /// @throws std::invalid_argument  if sizes differ, a number is not finite, M has no mass or an
  ///                                option is out of range
  /// @throws NotPositiveDefinite    if some direction has neither mass nor stiffness, or K is
  ///                                indefinite; its dof() lies in the loose part
  /// @throws base::Cancelled        if `progress` says so
  ModeSolver(Eigen::SparseMatrix<double> K,
             Eigen::SparseMatrix<double> M,
             const ModeOptions& options = {},
             const base::Progress& progress = {});
  ~ModeSolver();
  ModeSolver(ModeSolver&&) noexcept;
  ModeSolver& operator=(ModeSolver&&) noexcept;

  /// Every mode below a frequency. Their number is counted first, by inertia.
  /// @param freq_hz  above 0, finite
  /// @throws base::InputError       if there are more than options.max_modes
  /// @throws std::invalid_argument  if freq_hz is not finite or not above 0
  /// @throws base::Cancelled        if `progress` says so
  ModeSet up_to(double freq_hz, const base::Progress& progress = {});

  /// The lowest modes. If the last one is one of a repeated pair its twin may be left out.
  /// @param count  1 to options.max_modes; fewer come back if fewer have mass
  /// @throws std::invalid_argument  if count is out of range
  ModeSet lowest(int count, const base::Progress& progress = {});

  /// Factor of K - shift() M; of K itself when shift() is 0.
  const CholeskyFactor& factor() const;
  double shift() const;  ///< rad2/s2, 0 or below

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

/// ModeSolver(K, M, options).up_to(freq_hz) and .lowest(count) for callers who need no factor.
ModeSet modes_up_to(const Eigen::SparseMatrix<double>& K,
                    const Eigen::SparseMatrix<double>& M,
                    double freq_hz,
                    const ModeOptions& options = {},
                    const base::Progress& progress = {});
ModeSet lowest_modes(const Eigen::SparseMatrix<double>& K,
                     const Eigen::SparseMatrix<double>& M,
                     int count,
                     const ModeOptions& options = {},
                     const base::Progress& progress = {});

}  // namespace calmplate::modes
