// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>

#include "panel/mesh.hpp"

/// Distances and crossings of lines of straight pieces on the flat map.
namespace calmplate::panel {

/// Nearest place of a line.
struct NearestOnLine {
  double distance_m = 0.0;
  Eigen::Vector2d at = Eigen::Vector2d::Zero();
};

/// @param line    [n x 2] m, n >= 1
/// @param closed  the last point is joined to the first
NearestOnLine nearest_on_line(const Eigen::Vector2d& p, const FlatPoints& line, bool closed);

/// True if p is inside the closed line, by counting crossings (even: outside).
bool inside_loop(const Eigen::Vector2d& p, const FlatPoints& loop);

/// A place where two closed lines cross or touch, or nothing.
std::optional<Eigen::Vector2d> loops_meet(const FlatPoints& a, const FlatPoints& b);
/// A place where a closed line crosses or touches itself, or nothing.
std::optional<Eigen::Vector2d> loop_meets_itself(const FlatPoints& loop);

}  // namespace calmplate::panel
