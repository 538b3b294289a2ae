// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "meshes/plane_mesher.hpp"

/// The outer skin of an invented estate car's left front door. No car was measured for it.
/// On the door: u along the car to the rear, v up, both m from the lower front corner of the box
/// around it. In the car: x to the rear, y to the car's right (so the outside of this door is -y),
/// z up.
namespace calmplate::demo {

/// The door's outline, points 1 mm apart or less, anticlockwise seen from outside.
Loop door_outline();

/// The slot for the handle's lever, in the recess, and the hole of the lock barrel.
std::vector<Loop> door_holes();

/// How far the skin stands out at a place on the door, m; 0 at the crown's top without swage line.
double door_bulge(const Eigen::Vector2d& place);

/// Longest edge of a well-shaped mesh: short where the skin bends sharply. m
double door_edge_length(const Eigen::Vector2d& place);

/// A place on the door in the car's axes. [3] m
Eigen::Vector3d door_in_car(const Eigen::Vector2d& place);

}  // namespace calmplate::demo
