// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "shell/hold_input.hpp"

namespace calmplate::shell {

using Matrix12d = Eigen::Matrix<double, 12, 12>;

/// A straight slender beam between two nodes; displacement and rotation in space axes, six a node.
struct BeamElement {
  Eigen::Matrix3d axes;  ///< columns: along the beam, normal to the skin, their cross product
  Matrix12d stiffness;   ///< [12 x 12]
  Matrix12d mass;        ///< [12 x 12] consistent, with the sections' rotation about the axis
};

/// @param start,end  m, apart by more than 0
/// @param normal     direction out of the skin at the beam, not along it
/// @throws std::invalid_argument if start and end coincide or normal lies along the beam
/// Source: [derived] cubic bending, linear stretch and twist, integrated exactly.
BeamElement beam_element(const Eigen::Vector3d& start,
                         const Eigen::Vector3d& end,
                         const Eigen::Vector3d& normal,
                         const BeamInput& section);

}  // namespace calmplate::shell
