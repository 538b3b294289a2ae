// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "panel/drawn.hpp"

/// Drawings with a known answer. Lengths in m.
namespace calmplate::testing {

/// A closed line with straight sides and sharp corners.
inline panel::ClosedLine closed_line(const panel::FlatPoints& corners) {
  panel::ClosedLine line;
  line.corners = corners;
  line.radius_m.assign(static_cast<std::size_t>(corners.rows()), 0.0);
  line.bow_m = line.radius_m;
  line.where = {"door.toml", 5, "panel.outline_mm"};
  return line;
}

/// A rectangle from the origin.
inline panel::DrawnInput drawn_rectangle(double a, double b, double element) {
  panel::DrawnInput drawing;
  panel::FlatPoints corners(4, 2);
  corners << 0.0, 0.0, a, 0.0, a, b, 0.0, b;
  drawing.outline = closed_line(corners);
  drawing.element_m = element;
  drawing.crown_where = {"door.toml", 7, "panel.crown_radius_up_m"};
  return drawing;
}

inline panel::SwageInput swage(const panel::FlatPoints& line, double width, double height) {
  return {line, width, height, {"door.toml", 20, "panel.swage[1]"}};
}

/// A swage line right across a rectangle of 1.0 x 0.6 m at a height of 0.2 m.
inline panel::SwageInput swage_across(double width, double height) {
  panel::FlatPoints line(2, 2);
  line << -0.1, 0.2, 1.1, 0.2;
  return swage(line, width, height);
}

inline panel::CrownPoint crown_point(double x, double y, double height) {
  panel::CrownPoint point;
  point.at = {x, y};
  point.height_m = height;
  point.where = {"door.toml", 9, "panel.crown[1]"};
  return point;
}

/// An invented door of 1.05 x 0.62 m with everything that can be drawn.
inline panel::DrawnInput drawn_door(double element) {
  panel::DrawnInput drawing;
  panel::FlatPoints corners(5, 2);
  corners << 0.05, 0.0, 0.88, 0.0, 1.01, 0.24, 1.05, 0.62, 0.0, 0.57;
  drawing.outline = closed_line(corners);
  drawing.outline.radius_m = {0.04, 0.055, 0.11, 0.035, 0.045};
  drawing.outline.bow_m = {0.006, -0.022, 0.01, 0.004, 0.007};
  drawing.radius_up_m = 3.0;
  drawing.radius_along_m = 11.0;
  drawing.holes = {panel::circle({0.97, 0.47}, 0.022),
                   panel::slot({0.86, 0.47}, 0.04, 0.016, 0.1),
                   panel::circle({0.35, 0.40}, 0.165)};
  for (panel::ClosedLine& hole : drawing.holes) hole.where = {"door.toml", 12, "panel.hole[1]"};
  panel::FlatPoints line(3, 2);
  line << -0.05, 0.19, 0.5, 0.21, 1.1, 0.22;
  drawing.swages = {swage(line, 0.045, 0.0055)};
  drawing.recesses = {
      {{0.82, 0.47}, {0.17, 0.06}, 0.05, 0.016, 0.03, 0.024, {"door.toml", 30, "panel.recess[1]"}}};
  drawing.element_m = element;
  return drawing;
}

}  // namespace calmplate::testing
