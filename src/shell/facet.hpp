// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>

#include "sheet/sheet.hpp"

namespace calmplate::shell {

using Matrix18d = Eigen::Matrix<double, 18, 18>;
using Matrix30d = Eigen::Matrix<double, 30, 30>;

/// A thin isotropic plate for facets: thickness and material.
struct Plate {
  double thickness_m = 0.0;
  double young_pa = 0.0;
  double poisson = 0.0;
  double density = 0.0;  ///< kg/m3
};

Plate plate_of(const sheet::Material& material, double thickness_m);

/// Three nodes of a facet in space. The node axes (columns: two tangents, normal) are those in
/// which the node's six degrees of freedom are counted: displacement 1, 2, n, rotation 1, 2, n.
struct FacetNodes {
  Eigen::Matrix3d corners;              ///< rows: positions, m
  std::array<Eigen::Matrix3d, 3> axes;  ///< of the nodes
};

/// What part of a facet's stiffness is wanted.
enum class Part { both, bending, membrane };

/// Stiffness of a flat shell facet, membrane with drilling and thin-plate bending. [18 x 18]
Matrix18d facet_stiffness(const FacetNodes& nodes, const Plate& plate, Part part = Part::both);

/// Consistent mass: cubic across the facet, linear in it; no mass on the drilling rotations. [18 x
/// 18]
/// @param mass_per_area  kg/m2
Matrix18d facet_mass(const FacetNodes& nodes, double mass_per_area);

/// Stiffness per pascal of shear modulus of the core between two layers. [30 x 30]
///
/// The slip of the upper over the lower layer at a node, in its tangent plane, is
///
///   s = u_upper - u_lower - dz (theta x n),   shear strain = s / h
///
/// with dz the height of the upper mid-surface over the lower one (below 0 on the inner face). At
/// the middle of a side it is the mean of its two nodes, but with the slope along the side taken
/// from the deflections, (w_j - w_i) / L: the nodes' rotations alone would let the skin relax the
/// core by turning its nodes against its own slope, which made a 25 mm mesh 3 % too low in loss.
/// The three mid-sides integrate the square. All of it vanishes in every rigid motion of a curved
/// skin. Degrees of freedom a node: upper 1, 2, lower 1, 2, then the skin's six.
/// @param nodes        of the skin, whose slopes shear the core
/// @param thickness_m  of the core, above 0
/// @param dz_m         see above; above 0 on the outer face
/// @throws std::invalid_argument if thickness_m is not above 0
/// Source: [derived] E. M. Kerwin's 1959 assumptions for a soft core: shear only, no thickness
/// strain.
Matrix30d core_shear_stiffness(const FacetNodes& nodes, double thickness_m, double dz_m);

}  // namespace calmplate::shell
