// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <vector>

#include "base/input_error.hpp"
#include "panel/mesh.hpp"

/// A door skin as drawn from a tape measure. Positions on the flat map: along the skin, the way a
/// tape lies on it, seen from outside, x along the door, y up. SI units.
namespace calmplate::panel {

/// A closed line of corners, each sharp or rounded, with sides that are straight or bow in one arc.
/// Two corners whose sides bow by half their distance make a circle.
struct ClosedLine {
  FlatPoints corners;            ///< [n x 2] m, either turning sense, first not repeated
  std::vector<double> radius_m;  ///< [n] at each corner, 0: sharp
  std::vector<double> bow_m;     ///< [n] how far the side after each corner bows out, 0: straight
  base::Where where;             ///< for messages
};

ClosedLine circle(const Eigen::Vector2d& centre, double diameter_m);
/// A slot with half-round ends. @param length_m  over all, above width_m
ClosedLine slot(const Eigen::Vector2d& centre, double length_m, double width_m, double angle_rad);

/// A measured height of the skin, above 0 out of the car.
struct CrownPoint {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();
  double height_m = 0.0;  ///< over a plane, the same for all points; or over a straight edge:
  std::optional<Eigen::Vector2d> from,
      to;  ///< where a straight edge touches the skin; both or none
  base::Where where;
};

/// A ridge (or groove) pressed along a line: height/2 (1 + cos(2 pi d / width)) at a distance d
/// from the line, up to d = width/2.
struct SwageInput {
  FlatPoints line;        ///< [n x 2] m, n >= 2; may run off the panel
  double width_m = 0.0;   ///< from foot to foot
  double height_m = 0.0;  ///< at the line, above 0 out of the car
  base::Where where;
};

/// A dish pressed into a rounded rectangle; its wall falls as half a cosine.
struct RecessInput {
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  Eigen::Vector2d size = Eigen::Vector2d::Zero();  ///< of the opening, m
  double angle_rad = 0.0;
  double depth_m = 0.0;          ///< of the floor, above 0 into the car
  double corner_radius_m = 0.0;  ///< of the opening, at most half the smaller side
  double wall_m = 0.0;           ///< width of the wall, seen from outside
  base::Where where;
};

/// A line along which smaller elements are wanted.
struct FinerLine {
  FlatPoints line;  ///< [n x 2] m
  bool closed = false;
  double size_m = 0.0;
};

/// A whole drawn skin.
struct DrawnInput {
  ClosedLine outline;
  std::vector<ClosedLine> holes;
  double radius_along_m = 0.0, radius_up_m = 0.0;  ///< of the crown; 0: straight that way
  std::optional<Eigen::Vector2d> crown_centre;     ///< of the radii; empty: middle of the outline
  std::vector<CrownPoint> crown;                   ///< instead of radii
  base::Where crown_where;                         ///< of the radii, for messages
  std::vector<SwageInput> swages;
  std::vector<RecessInput> recesses;
  double element_m = 0.0;  ///< side of an element where nothing asks for smaller ones
  std::vector<FinerLine> finer;
  double feature_factor = 1.0;  ///< on the sizes that small features ask for, see SizeField
};

}  // namespace calmplate::panel
