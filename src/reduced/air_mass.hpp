// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "shell/skin.hpp"

namespace calmplate::reduced {

/// Mass of the air that moves with the skin, for any set of shapes.
///
/// Incompressible air before a baffled skin: mass(v, w) = rho / (2 pi) int int v w' / |x - x'| dA
/// dA', for each face. Holds while the skin is much smaller than the wavelength in air; a crowned
/// skin is taken with its true distances. The skin is gathered into about 1200 patches; a patch
/// acts on itself as a disc of its own area.
///
/// @param skin     node areas and places
/// @param normal   [n_node x r] normal displacement of each shape at the nodes
/// @param faces    0, 1 or 2
/// @return         [r x r] kg per unit shapes, symmetric, positive semi-definite up to the patches'
/// size Source: [derived] Rayleigh's integral with k = 0; disc on itself: int int dA dA' / r = 16
/// pi a^3 / 3.
Eigen::MatrixXd air_mass(const shell::Skin& skin, const Eigen::MatrixXd& normal, int faces);

}  // namespace calmplate::reduced
