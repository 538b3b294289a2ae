// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <type_traits>
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// A point on the skin: a triangle and barycentric coordinates in it.
struct SkinPoint {
  int triangle = -1;
  Eigen::Vector3d weight = Eigen::Vector3d::Zero();  ///< [3], at or above 0, sum 1
};

/// The skin laid out flat: lengths along the skin from a datum corner, as a tape lies on it.
/// x runs along the panel, y up; the datum (0, 0) is the lower left corner of the map's bounding
/// box seen from outside, or the origin of the drawing that the panel was made from. For a panel
/// lying flat in a plane the map is that plane without distortion.
class FlatMap {
 public:
  /// @param mesh   one connected, oriented sheet, holes allowed
  /// @param along  3-D direction that x follows on the map; its part in the mean plane counts
  /// @param tolerance  share of the diagonal by which nodes may still move when the work ends
  /// @throws std::invalid_argument if the mesh cannot be laid out or `along` is normal to it
  FlatMap(const Mesh& mesh, const Eigen::Vector3d& along, double tolerance = 1e-9);

  /// A map that is known beforehand.
  /// @param points  [n_node x 2] m, kept as they are
  /// @throws std::invalid_argument if they are not as many as the nodes, or a triangle is turned
  /// over
  template <typename Points, typename = std::enable_if_t<std::is_same_v<Points, FlatPoints>>>
  FlatMap(const Mesh& mesh, const Points& points) : FlatMap(mesh, points, Known()) {}

  const FlatPoints& points() const noexcept { return points_; }  ///< [n_node x 2] m
  Eigen::Vector2d low() const noexcept { return low_; }  ///< [2] m, lower left of the bounding box
  Eigen::Vector2d size() const noexcept { return size_; }        ///< [2] m, of the bounding box
  Eigen::Vector2d middle() const { return low_ + 0.5 * size_; }  ///< [2] m, of the bounding box

  /// Largest relative change of an edge length between skin and map, no unit.
  double worst_stretch() const noexcept { return worst_stretch_; }

  /// The skin point at a flat position, or nothing if the position is off the panel or in a hole.
  std::optional<SkinPoint> to_skin(const Eigen::Vector2d& flat) const;
  /// As to_skin, but the nearest skin point on the rim where the position is off the panel.
  SkinPoint nearest(const Eigen::Vector2d& flat) const;
  Eigen::Vector2d to_flat(const SkinPoint& point) const;
  Eigen::Vector3d to_space(const SkinPoint& point) const;

  /// Numbers of the triangles whose bounding box on the map meets the given box.
  std::vector<int> triangles_in_box(const Eigen::Vector2d& low, const Eigen::Vector2d& high) const;

 private:
  struct Grid;
  struct Known {};
  /// Only reached by name of its type: a 3-D direction would turn into points by itself.
  FlatMap(const Mesh& mesh, const FlatPoints& points, Known);
  Nodes nodes_;
  Triangles triangles_;
  FlatPoints points_;
  Eigen::Vector2d low_ = Eigen::Vector2d::Zero();
  Eigen::Vector2d size_ = Eigen::Vector2d::Zero();
  double worst_stretch_ = 0.0;
  std::shared_ptr<const Grid> grid_;
};

}  // namespace calmplate::panel
