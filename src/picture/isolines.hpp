// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "picture/area_image.hpp"

namespace calmplate::picture {

/// A line of equal value.
struct Isoline {
  double level = 0.0;
  std::vector<Point> points;  ///< in order along the line
};

/// Lines of equal value of a field that is linear over each triangle. Triangles with a NaN corner
/// carry none.
/// @param points  [n_point]; @param values [n_point]
/// @throws std::invalid_argument if the number of values does not fit
std::vector<Isoline> isolines(const std::vector<Point>& points,
                              const std::vector<Triangle>& triangles,
                              const std::vector<double>& values,
                              const std::vector<double>& levels);

/// The point of a line where its direction is nearest to level, kept away from its ends; where a
/// label stands best.
/// @param line  at least two points
Point label_place(const std::vector<Point>& line);

double length_of(const std::vector<Point>& line);

}  // namespace calmplate::picture
