// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "sheet/sheet.hpp"

/// What holds the skin and what hangs on it, as the job states it. Positions on the flat map, m.
namespace calmplate::shell {

enum class Hold {
  free,              ///< nothing
  clamped,           ///< no displacement, no rotation
  pinned,            ///< no displacement, rotation free
  simply_supported,  ///< no displacement out of the skin nor along the rim; may slide across the
                     ///< rim
  springs            ///< elastic hem
};

/// How a part of the rim is held. Later entries overrule earlier ones on the nodes they share.
struct EdgeInput {
  std::string part;  ///< name of a rim part, "rim", "holes" or "all"
  Hold hold = Hold::free;
  /// Only the stretch of the part between the rim points nearest to these two, walking
  /// anticlockwise (outer rim, seen from outside) from the first; empty: all of it.
  std::optional<Eigen::Vector2d> from, to;
  double normal_stiffness = 0.0;    ///< N/m per m of rim, out of the skin (springs only)
  double in_plane_stiffness = 0.0;  ///< N/m per m of rim, both directions in the skin
  double rotation_stiffness = 0.0;  ///< N m/rad per m of rim, about the rim's tangent
  double loss_factor = 0.0;         ///< of the springs
};

/// A spring from a skin point to something that does not move.
struct SpringInput {
  std::string name;
  Eigen::Vector2d at = Eigen::Vector2d::Zero();
  double normal_stiffness = 0.0;  ///< N/m out of the skin
  double loss_factor = 0.0;
};

/// A mass small enough to act at a point. Moves with the skin in all three directions.
struct MassInput {
  std::string name;
  Eigen::Vector2d at = Eigen::Vector2d::Zero();
  double mass_kg = 0.0;
};

/// A straight beam along the skin, such as a side-impact beam.
struct BeamInput {
  std::string name;
  Eigen::Vector2d from = Eigen::Vector2d::Zero(), to = Eigen::Vector2d::Zero();
  double area_m2 = 0.0;
  double inertia_normal_m4 = 0.0;    ///< bending out of the skin
  double inertia_in_plane_m4 = 0.0;  ///< bending along the skin
  double torsion_m4 = 0.0;
  double offset_m = 0.0;  ///< beam axis from the skin's mid-surface, above 0 into the car
  sheet::Material material;
  bool ends_held = true;  ///< ends fixed to the door frame; false: free. Pads only
  /// Distances of the mastic pads from `from`, m. Empty: the beam is bonded along its whole length.
  std::vector<double> pads_m;
  double pad_stiffness = 0.0;        ///< N/m each, out of the skin
  double pad_shear_stiffness = 0.0;  ///< N/m each, along the skin
  double pad_loss_factor = 0.0;
};

}  // namespace calmplate::shell
