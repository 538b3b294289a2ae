// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "panel/drawn_shape.hpp"

namespace calmplate::panel {

/// How long the sides of elements shall be at each place of a drawn skin: the drawing's own size,
/// less near what is small or bends sharply, growing from there by a quarter of the distance.
///
/// - on an arc of the outline or a hole: half the radius, so that a circle has 12 sides at least;
/// - on a side shorter than an element: its length;
/// - on a swage line: a tenth of its width over the whole width;
/// - on a recess's wall: a third of the wall;
/// - where two rims are near each other: half their distance;
/// - along the lines that the drawing wants finer.
///
/// All of these times the drawing's feature_factor; nowhere less than 1 mm.
class SizeField {
 public:
  /// @param shape  of the same drawing
  /// @throws std::invalid_argument if the drawing has no element size
  SizeField(const DrawnInput& input, const DrawnShape& shape);

  double at(const Eigen::Vector2d& place) const;
  double coarsest() const noexcept { return coarsest_; }
  double finest() const noexcept { return finest_; }  ///< anywhere

 private:
  /// size_m up to reach_m from the line, growing beyond.
  struct Source {
    FlatPoints line;
    bool closed = false;
    double size_m = 0.0, reach_m = 0.0;
    Eigen::Vector2d low = Eigen::Vector2d::Zero(), high = Eigen::Vector2d::Zero();
  };
  void add(const FlatPoints& line, bool closed, double size_m, double reach_m);
  void add_curve(const DrawnCurve& curve);
  void add_bridges(const FlatPoints& a, const FlatPoints& b);

  double coarsest_ = 0.0, finest_ = 0.0, factor_ = 1.0;
  std::vector<Source> sources_;
};

/// Points that divide a closed curve into lengths as the field wants them. Its corners are among
/// them; where it has none there are 12 at least. [n x 2]
FlatPoints divided(const DrawnCurve& curve, const SizeField& field);

/// Places inside the skin where nodes shall stand, in rows: the crests of swage lines, and the top
/// and the foot of recess walls. [n x 2]
FlatPoints feature_rows(const DrawnInput& input, const SizeField& field);

}  // namespace calmplate::panel
