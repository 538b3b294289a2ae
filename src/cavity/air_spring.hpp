// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "cavity/cavity_modes.hpp"

namespace calmplate::cavity {

struct AirSpringOptions {
  /// What the modes left out would do, as added mass: the air's flow close to whatever moves it.
  bool near_field = true;
  bool across = true;  ///< the inertia of the flow across the depth, see Slab::cross
};

/// The cavity as one symmetric block of a reduced model. Its coordinates, in this order:
///
///   r shapes of the skin | cones | leaks | air, one for each cavity mode but the even one
///
/// Cones and leaks count their displacement into the cavity, m. The block adds to a model
///
///   (1 + i loss_factor) stiffness + i diag(leak_loss) - w^2 mass
///
/// No force acts on the air's own coordinates. With `strain` B, stiffness = B^T B and the modal
/// pressures are -(1 + i loss_factor) B z, so the block is positive semi-definite whatever is left
/// out, and the even mode alone is the lumped spring rho c^2 / V.
///
/// With this block the skin has air of its own on the inner face: give the reduced model one face
/// of air only.
struct AirSpring {
  Eigen::Index n_skin = 0, n_cone = 0, n_leak = 0, n_air = 0;
  double loss_factor = 0.0;
  Eigen::MatrixXd stiffness;  ///< [n x n] symmetric
  Eigen::MatrixXd mass;       ///< [n x n] symmetric: leak plugs, near field, unit masses of the air
  Eigen::VectorXd leak_loss;  ///< [n] N/m, 0 but for leaks
  Eigen::MatrixXd strain;     ///< [m x n] B, the even mode first
  Eigen::MatrixXd near_field;  ///< [n_slab_node x n_skin + n_cone + n_leak], see pressure_rows

  Eigen::Index size() const { return n_skin + n_cone + n_leak + n_air; }
};

/// @param slab    what the modes belong to
/// @param normal  [n_node x r] outward normal displacement of each shape at the skin's nodes
/// @throws std::invalid_argument if sizes differ, an area or a length is not above 0, or a loss
///         factor is below 0
/// Source: [derived] docs/theory.md "The air in the door".
AirSpring air_spring(const Slab& slab,
                     const CavityModes& modes,
                     const Eigen::MatrixXd& normal,
                     const std::vector<ConeInput>& cones,
                     const std::vector<LeakInput>& leaks,
                     const AirSpringOptions& options = {});

/// Read-outs of pressure at nodes of the slab (the skin's nodes have the same numbers):
///
///   p = ((1 + i loss_factor) spring + w^2 inertia) z,   z the coordinates of the block, m
struct PressureRows {
  Eigen::MatrixXd spring;   ///< [n_point x n] Pa
  Eigen::MatrixXd inertia;  ///< [n_point x n] Pa s2
};

/// @throws std::out_of_range if a node is not one of the slab's
PressureRows pressure_rows(const CavityModes& modes,
                           const AirSpring& air,
                           const std::vector<int>& nodes);

}  // namespace calmplate::cavity
