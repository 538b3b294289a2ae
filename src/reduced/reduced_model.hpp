// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <functional>
#include <string>
#include <vector>

#include "reduced/condensed_piece.hpp"
#include "sheet/complex_modulus.hpp"

namespace calmplate::reduced {

/// A complex factor over frequency, Hz.
using Factor = std::function<std::complex<double>(double)>;

/// One share of the reduced stiffness: a real matrix and its complex factor.
struct ReducedTerm {
  std::string name;
  Eigen::MatrixXd matrix;     ///< [r x r]
  sheet::ModulusPtr modulus;  ///< set for cores and free layers; else 1 + i loss_factor
  double loss_factor = 0.0;
  Factor factor = nullptr;  ///< set for what is neither, such as a resistance: i w

  std::complex<double> coefficient(double freq_hz, double temp_k) const {
    if (factor) return factor(freq_hz);
    return modulus ? modulus->modulus(freq_hz, temp_k) : std::complex<double>(1.0, loss_factor);
  }
  /// True if the factor is the same at every frequency.
  bool constant() const { return !factor && (!modulus || modulus->constant()); }
};

/// The one small object that answers every question about a panel and a layout:
///
///   (K(w) - w^2 M) q = load,   K(w) = sum of coefficient * matrix + sum of condensed pieces
///
/// Everything is real but the coefficients. Size r: a few hundred at most.
struct ReducedModel {
  Eigen::MatrixXd mass;  ///< [r x r] symmetric, positive semi-definite
  std::vector<ReducedTerm> terms;
  std::vector<CondensedPiece> pieces;  ///< model (b) only
  Eigen::VectorXd load;                ///< [r] unit load
  Eigen::MatrixXd surface;             ///< [r x r] q^H surface q = surface mean of |w|^2
  Eigen::MatrixXd listen;              ///< [n_point x r] normal displacement at named points
  double temp_k = 293.15;

  Eigen::Index size() const { return mass.rows(); }
  /// True if no coefficient depends on frequency.
  bool constant() const;
  /// K(w) at one frequency. [r x r] complex symmetric
  Eigen::MatrixXcd stiffness(double freq_hz) const;
  /// Solves (K - w^2 M) q = load. [r]
  Eigen::VectorXcd solve(double freq_hz) const;
};

}  // namespace calmplate::reduced
