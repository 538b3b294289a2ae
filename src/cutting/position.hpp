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
  bool square = false;                             ///< to the first tape: not the shortest way
};

/// A corner of a part with the two sides that place it.
struct MarkedCorner {
  char letter = 'A';
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< m on the flat map
  std::vector<SideDistance> sides;               ///< two; one if only one side is within reach
};

/// Two corners fix a part on the skin: A is the one with the shortest tapes to two sides, B the
/// farther one of those beside it (of outlines with more than 8 corners: the corner farthest from
/// A). Corners are those that a finger finds, turning by more than 40 degrees; where there are
/// fewer than two, any point.
struct Position {
  MarkedCorner a, b;
};

/// The first side is the nearest. The second is the nearest other one whose shortest tape meets it
/// between its ends, at 30 to 150 degrees to the first, so that the two distances cross well. Where
/// there is none the second tape runs square to the first, as far as the rim.
Position position_of(const panel::Panel& panel, const Part& part);

/// Length on the skin of a straight line on the flat map, m. Where the line leaves the panel its
/// length on the map counts.
double skin_length(const panel::Panel& panel, const Eigen::Vector2d& a, const Eigen::Vector2d& b);

}  // namespace calmplate::cutting
