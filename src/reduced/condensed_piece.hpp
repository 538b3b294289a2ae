// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <vector>

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
/// is exact for the slips in the basis. A free layer has A1 alone, a mass layer only mass. Plies of
/// different moduli G_k lie on each other as `stack`: then
///
///   dK = A0 + sum G_k A_k - (B0 + sum G_k B_k) (E + sum G_k C_k)^-1 (B0 + sum G_k B_k)^T
///
/// Valid for foils that are thin against the skin: the skin's in-plane give is made up for by the
/// factor 1 / (1 + K_foil / K_skin) on the stretch of foil or free layer. For stiff foils use the
/// full reduction.
///
/// A small piece feels only a few combinations of the shapes: `span` holds them, and the matrices
/// are in their coordinates (s of them). Combinations with less than 1e-5 of the largest
/// one's energy in the piece are left out.
struct CondensedPiece {
  /// What the plies of one modulus add, per pascal, where there are several moduli.
  struct StackPart {
    sheet::ModulusPtr modulus;
    Eigen::MatrixXd a;  ///< [s x s]
    Eigen::MatrixXd b;  ///< [s x p]
    Eigen::MatrixXd c;  ///< [p x p]
  };

  Eigen::MatrixXd span;       ///< [r x s] orthonormal columns; empty: s = r and no change of basis
  Eigen::MatrixXd a0, a1;     ///< [s x s]
  Eigen::MatrixXd b0, b1;     ///< [s x p]
  Eigen::VectorXd lambda;     ///< [p] Pa
  Eigen::MatrixXd mass;       ///< [s x s]
  sheet::ModulusPtr modulus;  ///< null: no lossy part, or a stack
  std::vector<StackPart> stack;  ///< several moduli: then a1, b1, lambda and modulus are not used
  Eigen::MatrixXd elastic;       ///< [p x p] E of a stack

  /// True if no modulus depends on frequency.
  bool constant() const;
  /// Adds the piece's stiffness at a modulus to a matrix. @param k  [r x r] complex symmetric
  /// @throws std::invalid_argument for a stack
  void add_stiffness(std::complex<double> modulus_pa, Eigen::MatrixXcd& k) const;
  void add_stiffness(double freq_hz, double temp_k, Eigen::MatrixXcd& k) const;
  /// @param m  [r x r]
  void add_mass(Eigen::MatrixXd& m) const;
  /// x^T dK x for each column of x at that column's own frequency. [m]
  /// @param x  [r x m]
  Eigen::VectorXcd quadratic(const Eigen::MatrixXcd& x,
                             const Eigen::VectorXd& freq_hz,
                             double temp_k) const;

 private:
  Eigen::MatrixXcd own_stiffness(double freq_hz, double temp_k) const;
};

/// @param shapes   [n_skin_dof x r] bare-panel shapes
/// @param freq_hz  where the moduli are taken for choosing the slip basis
CondensedPiece condense(const shell::Skin& skin,
                        const shell::LaidPiece& piece,
                        const Eigen::Ref<const Eigen::MatrixXd>& shapes,
                        double freq_hz,
                        double temp_k);

}  // namespace calmplate::reduced
