// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>

namespace calmplate::panel {

/// A unit that a mesh file may be in.
struct MeshUnit {
  std::string name;  ///< "m", "cm", "mm" or "inch", as a job writes it
  double metres = 1.0;
};

/// The one unit of m, cm, mm and inch in which a sheet's box makes a plausible door: its two
/// longest sides both 0.3 to 3 m. Source of the limits: [practice] no source.
/// @param box   [3] sides of the bounding box in the file's unit
/// @param name  the mesh's file name, for messages
/// @throws base::InputError if no unit or more than one fits
MeshUnit guess_unit(const Eigen::Vector3d& box, const std::string& name);

}  // namespace calmplate::panel
