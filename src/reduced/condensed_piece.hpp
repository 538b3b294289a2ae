// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>

#include "sheet/complex_modulus.hpp"
#include "shell/piece.hpp"

namespace calmplate::reduced {

/// What one piece of sheet adds to a basis of bare-panel shapes, for any modulus of its core.
///
/// The foil moves with the skin in its plane (matrix A) plus a slip of its own. The slip is held in
/// a small basis in which foil stiffness is diag(lambda) and core shear is the identity, so that
///
///   dK(G) = A0 + G A1 - (B0 + G B1) diag(1 / (lambda + G)) (B0 + G B1)^T
///
/// is exact for the slips in the basis. A free layer has A1 alone, a mass layer only mass.
/// Valid for foils that are thin against the skin: the skin's in-plane give is made up for by the
/// factor 1 / (1 + K_foil / K_skin) on the stretch of foil or free layer. For stiff foils use the
/// full reduction.
///
/// A small piece feels only a few combinations of the shapes: `span` holds them, and the matrices
/// are in their coordinates (s of them). Combinations with less than 1e-5 of the largest
/// one's energy in the piece are left out.
struct CondensedPiece {
  Eigen::MatrixXd span;       ///< [r x s] orthonormal columns; empty: s = r and no change of basis
  Eigen::MatrixXd a0, a1;     ///< [s x s]
  Eigen::MatrixXd b0, b1;     ///< [s x p]
  Eigen::VectorXd lambda;     ///< [p] Pa
  Eigen::MatrixXd mass;       ///< [s x s]
  sheet::ModulusPtr modulus;  ///< null: no lossy part

  /// Adds the piece's stiffness at a modulus to a matrix. @param k  [r x r] complex symmetric
  void add_stiffness(std::complex<double> modulus_pa, Eigen::MatrixXcd& k) const;
  void add_stiffness(double freq_hz, double temp_k, Eigen::MatrixXcd& k) const;
  /// @param m  [r x r]
  void add_mass(Eigen::MatrixXd& m) const;
};

/// @param shapes   [n_skin_dof x r] bare-panel shapes
/// @param freq_hz  where the modulus is taken for choosing the slip basis
/// @throws std::invalid_argument if the piece holds plies of different moduli (use the full
/// reduction)
CondensedPiece condense(const shell::Skin& skin,
                        const shell::LaidPiece& piece,
                        const Eigen::Ref<const Eigen::MatrixXd>& shapes,
                        double freq_hz,
                        double temp_k);

}  // namespace calmplate::reduced
