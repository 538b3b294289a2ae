// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "panel/cover.hpp"
#include "sheet/sheet.hpp"
#include "shell/assembler.hpp"
#include "shell/skin.hpp"

namespace calmplate::shell {

/// One piece of sheet, or of several sheets on top of each other, on one face of the skin.
struct LaidPiece {
  std::vector<panel::CoveredTriangle> covered;
  std::vector<const sheet::Sheet*> plies;  ///< from the skin outwards; must outlive this object
  bool outer_face = false;
  bool foil_held = false;  ///< foils are held in their plane where the rim is
};

/// Numbers of the foil's own degrees of freedom of one ply, at the nodes that the piece covers:
/// displacement 1, 2 in the node's tangent axes and the rotation about its normal. They belong to
/// this piece alone: a gap between pieces is a gap, and a foil's edge is free of stress.
struct FoilDofs {
  std::vector<int> slot;  ///< [n_node] place of a panel node in the piece, or -1
  Eigen::MatrixXi dof;    ///< [n_covered_node x 3] number or kHeld
};

/// Where the parts of a piece's stiffness go. A core's is per pascal of its modulus.
struct PieceMatrices {
  Assembler elastic;             ///< foils: membrane and bending
  std::vector<Assembler> lossy;  ///< one a ply: core shear, or a free layer, per pascal
  Assembler mass;
};

/// Panel nodes that a piece touches, ascending.
std::vector<int> covered_nodes(const Skin& skin, const LaidPiece& piece);

/// Numbers the foils of a piece from `next_dof` on, ply by ply.
/// @param next_dof  first free number; moved past the last one used
/// @return one entry a ply; empty for plies without a foil
std::vector<FoilDofs> number_foils(const Skin& skin, const LaidPiece& piece, int& next_dof);

/// Adds a piece's small matrices, each triangle weighted with its covered share.
/// @param skin_dof  [n_node x 6] numbers to use for the skin's degrees of freedom, kHeld to drop
/// @param membrane_share  factor on the membrane stiffness of foils and free layers; 1 unless a
/// model that lacks the
///                        skin's own in-plane give makes up for it
/// @throws std::invalid_argument if a ply's thicknesses are not what its kind needs
void add_piece(const Skin& skin,
               const LaidPiece& piece,
               const Eigen::MatrixXi& skin_dof,
               const std::vector<FoilDofs>& foils,
               PieceMatrices& out,
               double membrane_share = 1.0);

/// Twice the strain energy per pascal in a ply's core or free layer, triangle by triangle, summed
/// over the columns of shapes. [n_covered]
/// @param shapes  [n_dof x m] of the model that the piece was numbered in
/// @throws std::out_of_range if the piece has no such ply
Eigen::VectorXd lossy_energy(const Skin& skin,
                             const LaidPiece& piece,
                             std::size_t ply,
                             const std::vector<FoilDofs>& foils,
                             const Eigen::MatrixXcd& shapes);

}  // namespace calmplate::shell
