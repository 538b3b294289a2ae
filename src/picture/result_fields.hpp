// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "picture/area_image.hpp"

namespace calmplate::picture {

/// What panel.vtu of a result folder holds: the skin's triangles in space and on the flat map, and
/// every field of one component.
struct ResultFields {
  std::string file;
  std::vector<std::array<double, 3>> space_m;               ///< [n_point]
  std::vector<Point> flat_mm;                               ///< [n_point]
  std::vector<Triangle> triangles;                          ///< [n_triangle]
  std::map<std::string, std::vector<double>> point_fields;  ///< each [n_point]
  std::map<std::string, std::vector<double>> cell_fields;   ///< each [n_triangle]

  bool has_point_field(const std::string& name) const { return point_fields.count(name) > 0; }
  /// @throws base::InputError if the file has no such array
  const std::vector<double>& point_field(const std::string& name) const;
  const std::vector<double>& cell_field(const std::string& name) const;
};

/// @throws base::InputError if the file cannot be read, holds anything but triangles, or lacks the
///         point array "flat_map_mm"
ResultFields read_fields(const std::filesystem::path& file);

}  // namespace calmplate::picture
