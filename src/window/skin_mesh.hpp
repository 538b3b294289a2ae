// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vtkNew.h>
#include <vtkPolyData.h>
#include <vtkStaticCellLocator.h>

#include <Eigen/Geometry>
#include <optional>

#include "panel/panel.hpp"

namespace calmplate::window {

/// The skin as the 3-D view draws it, and the way from a line of sight to the flat map and back.
class SkinMesh {
 public:
  /// @param panel  must outlive this object
  /// @param margin_m  of the texture round the flat map's bounding box
  SkinMesh(const panel::Panel& panel, double margin_m);

  vtkPolyData* data() const { return data_; }

  /// Where a line of sight first meets the skin, on the flat map in m; nothing where it passes by.
  std::optional<Eigen::Vector2d> meet(const Eigen::Vector3d& from,
                                      const Eigen::Vector3d& towards) const;
  /// The same, continued beyond the rim as if the skin went on in its mean plane.
  Eigen::Vector2d meet_anyway(const Eigen::Vector3d& from, const Eigen::Vector3d& towards) const;
  /// The place in space of a flat position, m; beyond the rim in the mean plane.
  Eigen::Vector3d to_space(const Eigen::Vector2d& flat) const;

  /// Moves every node along its normal. @param by_m  [n_node] m; empty: back to rest
  void displace(const Eigen::VectorXd& by_m);

  const panel::Panel& panel() const { return panel_; }
  const Eigen::Vector2d& texture_low() const { return low_; }    ///< m on the flat map
  const Eigen::Vector2d& texture_size() const { return size_; }  ///< m
  const Eigen::Vector3d& middle() const { return middle_; }      ///< m, of the skin in space
  const Eigen::Vector3d& along() const { return along_; }        ///< unit, the map's x in space
  const Eigen::Vector3d& up() const { return up_; }              ///< unit, the map's y in space
  Eigen::Vector3d outward() const { return along_.cross(up_); }

 private:
  void fit_mean_plane();
  const panel::Panel& panel_;
  Eigen::Vector2d low_, size_;
  Eigen::Matrix<double, 3, 2> slope_;  ///< space = middle_ + slope_ (flat - flat_middle_)
  Eigen::Vector2d flat_middle_;
  Eigen::Vector3d middle_, along_, up_;
  vtkNew<vtkPolyData> data_;
  vtkNew<vtkPolyData> rest_;  ///< at rest, for lines of sight
  vtkNew<vtkStaticCellLocator> locator_;
};

}  // namespace calmplate::window
