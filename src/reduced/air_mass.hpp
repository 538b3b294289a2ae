// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "shell/skin.hpp"

namespace calmplate::reduced {

/// Mass of the air that moves with the skin, for any set of shapes.
///
/// Incompressible air before a baffled skin: mass(v, w) = rho / (2 pi) int int v w' / |x - x'| dA
/// dA', for each face. Holds while the skin is much smaller than the wavelength in air; a crowned
/// skin is taken with its true distances. The skin is gathered into about 1200 patches that act on
/// each other from their middles.
///
/// @param skin     node areas and places
/// @param normal   [n_node x r] normal displacement of each shape at the nodes
/// @param faces    0, 1 or 2
/// @return         [r x r] kg per unit shapes, symmetric, positive semi-definite
/// @throws std::invalid_argument if faces is not 0, 1 or 2
/// Source: [derived] Rayleigh's integral with k = 0; a patch on itself as its lattice sum asks.
Eigen::MatrixXd air_mass(const shell::Skin& skin, const Eigen::MatrixXd& normal, int faces);

}  // namespace calmplate::reduced
