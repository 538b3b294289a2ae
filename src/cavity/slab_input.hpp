// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "base/units.hpp"

namespace calmplate::cavity {

/// The air between the skin and the inner panel. Its rim is closed.
struct SlabInput {
  double volume_m3 = 0.0;  ///< 0: what the depths make; else the depths are scaled to make it
  /// Depth at the lowest and the highest point of the flat map, straight in between. With a volume
  /// given both may be 0: then the depth is the same everywhere.
  double depth_bottom_m = 0.0, depth_top_m = 0.0;
  double loss_factor = 0.0;  ///< of the air's stiffness: walls and lining
  double density = base::kAirDensity;
  double sound_m_s = base::kAirSound;
  /// The air goes on behind holes of the skin up to this size on the flat map; behind larger ones
  /// there is a wall all round and no air.
  double bridge_up_to_m = 0.25;
};

/// A woofer's cone in a wall of the cavity.
struct ConeInput {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< on the flat map, m
  double area_m2 = 0.0;
};

/// An opening in a wall of the cavity, filled by a plug of air that moves as one.
struct LeakInput {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< on the flat map, m
  double area_m2 = 0.0;
  double length_m = 0.0;  ///< what moves with the plug on both sides included
  /// Half-power width over frequency of the plug on the cavity's air, were it the only opening
  double loss_factor = 0.0;
};

}  // namespace calmplate::cavity
