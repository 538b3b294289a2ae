// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <complex>
#include <string>
#include <vector>

#include "shell/piece.hpp"
#include "shell/skin.hpp"

namespace calmplate::shell {

/// One share of the stiffness with one complex factor:  K(w) = sum of coefficient(f, T) * matrix.
struct StiffnessTerm {
  std::string name;
  Eigen::SparseMatrix<double> matrix;  ///< [n_dof x n_dof]; N/m, or per pascal if modulus is set
  sheet::ModulusPtr modulus;           ///< set for cores and free layers
  double loss_factor = 0.0;            ///< for the others: coefficient 1 + i loss_factor

  std::complex<double> coefficient(double freq_hz, double temp_k) const;
};

/// What is fixed to the skin beside the rim.
struct Attachments {
  std::vector<BeamInput> beams;
  std::vector<SpringInput> springs;
  std::vector<MassInput> masses;
};

/// The full sparse model of a panel with a layout on it.
/// The skin's degrees of freedom come first, in the skin's own numbering; then the beams', then the
/// foils', piece by piece.
struct PanelModel {
  int n_dof = 0;
  int n_skin_dof = 0;
  std::vector<StiffnessTerm> terms;
  Eigen::SparseMatrix<double> mass;          ///< [n_dof x n_dof] kg, positive semi-definite
  std::vector<std::vector<FoilDofs>> foils;  ///< [piece][ply]
  /// terms[core_term[piece][ply]] holds that ply's core or free layer; -1 for a mass-only ply
  std::vector<std::vector<int>> core_term;

  /// Real stiffness at one frequency and temperature: sum of Re(coefficient) * matrix.
  Eigen::SparseMatrix<double> real_stiffness(double freq_hz, double temp_k) const;
};

/// Plies of the same sheet share one term; so do springs of the same loss factor.
/// @param pieces  may be empty: the bare panel
/// @throws base::InputError   if a beam's or spring's place is off the panel
/// @throws std::invalid_argument from add_piece
PanelModel build_model(const Skin& skin,
                       const Attachments& attachments,
                       const std::vector<LaidPiece>& pieces);

/// Share of bending in the skin's strain energy of each column of shapes, 0 to 1: what is left is
/// membrane, which damping sheet hardly feels. [n_column]
/// @param shapes  [at least n_skin_dof x n_column], the skin's degrees of freedom first
Eigen::VectorXd bending_share(const Skin& skin, const Eigen::MatrixXd& shapes);

}  // namespace calmplate::shell
