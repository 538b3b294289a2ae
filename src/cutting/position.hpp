// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "cutting/part.hpp"
#include "panel/panel.hpp"

namespace calmplate::cutting {

/// How far a corner lies from a side of the panel, as a tape shows it.
struct SideDistance {
  std::string side;         ///< name of the rim part; "rim" if the rim has no corners
  double distance_m = 0.0;  ///< along the skin, shortest way on the flat map
  Eigen::Vector2d foot = Eigen::Vector2d::Zero();  ///< where it meets the rim, m on the flat map
  bool square = false;  ///< to the first tape, on the same side of the rim: not the shortest way
};

/// A corner of a part with the two sides that place it.
struct MarkedCorner {
  char letter = 'A';
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< m on the flat map
  std::vector<SideDistance> sides;               ///< two; one if only one side is within reach
};

/// Two corners fix a part on the skin: A is the one with the shortest tape to two sides, B the
/// other end of the longest edge at A (of outlines with more than 8 corners: the corner farthest
/// from A).
struct Position {
  MarkedCorner a, b;
};

/// The second side is the nearest other one whose tape makes an angle of 30 to 150 degrees with the
/// first, so that the two distances cross well. Where there is none, as on a round panel, the
/// second tape runs square to the first.
Position position_of(const panel::Panel& panel, const Part& part);

/// Length on the skin of a straight line on the flat map, m. Where the line leaves the panel its
/// length on the map counts.
double skin_length(const panel::Panel& panel, const Eigen::Vector2d& a, const Eigen::Vector2d& b);

}  // namespace calmplate::cutting
