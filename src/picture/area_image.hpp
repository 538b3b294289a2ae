// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <functional>
#include <utility>
#include <vector>

#include "picture/colour_scale.hpp"

namespace calmplate::picture {

/// A point of the flat map or of the page; the unit is the user's, mm or pixels.
struct Point {
  double x = 0.0;
  double y = 0.0;
};

using Outline = std::vector<Point>;     ///< closed: the last point joins the first
using Outlines = std::vector<Outline>;  ///< inside is where a ray crosses an odd number of them
using Triangle = std::array<int, 3>;    ///< numbers of points, counted from 0

/// Where a horizontal line at height y is inside the outlines: from, to; ascending in x.
std::vector<std::pair<double, double>> inside_spans(const Outlines& outlines, double y);

/// True if the point is inside the outlines.
bool inside(const Outlines& outlines, const Point& point);

/// A value for every pixel, row by row from the bottom; pixel (i, j) covers [i, i+1] x [j, j+1].
struct PixelGrid {
  int width = 0;
  int height = 0;
  std::vector<double> value;  ///< [width * height]

  PixelGrid(int width, int height, double fill);
  double& at(int i, int j) {
    return value[static_cast<std::size_t>(j) * std::size_t(width) + std::size_t(i)];
  }
  double at(int i, int j) const {
    return value[static_cast<std::size_t>(j) * std::size_t(width) + std::size_t(i)];
  }
};

/// The share of each pixel that lies inside the outlines, 0 to 1: exact along x, eight lines a
/// pixel in y.
/// @param outlines  in pixels
PixelGrid pixel_cover(const Outlines& outlines, int width, int height);

/// A field over triangles, read at pixel centres; NaN where there is none. Values at points are
/// interpolated linearly; a triangle with a NaN corner draws nothing. The field is carried two
/// pixels beyond its edge, so that a slanted edge can be cut by an exact pixel cover.
/// @param points     [n_point] in pixels
/// @param at_points  true: values are [n_point]; false: values are [n_triangle]
/// @throws std::invalid_argument if the number of values does not fit
PixelGrid pixel_field(const std::vector<Point>& points,
                      const std::vector<Triangle>& triangles,
                      const std::vector<double>& values,
                      bool at_points,
                      int width,
                      int height);

/// Red, green, blue and opacity, one byte each, row by row from the bottom.
struct RgbaImage {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> bytes;  ///< [4 * width * height]
};

/// Colours a field where it is not NaN, with the opacity of `cover`.
/// @throws std::invalid_argument if the grids differ in size
RgbaImage colour_field(const PixelGrid& field,
                       const PixelGrid& cover,
                       const std::function<Colour(double)>& colour_of);

/// One colour with the opacity of `cover`.
RgbaImage colour_area(const PixelGrid& cover, const Colour& colour);

/// Lays `over` on the opaque image `under` with the opacity of `over`, its lower left pixel on
/// pixel (i, j) of `under`; what lies beyond `under` is left out.
void lay_over(RgbaImage& under, const RgbaImage& over, int i, int j);

/// A box of whole pixels.
struct PixelBox {
  int i = 0;
  int j = 0;
  int width = 0;
  int height = 0;  ///< width and height are 0 if the box is empty
};

/// The pixels of an image of the given size that the outlines meet.
/// @param outlines  in pixels
PixelBox pixel_box(const Outlines& outlines, int width, int height);

/// The outlines with (-i, -j) added to every point.
Outlines moved(const Outlines& outlines, double i, double j);

}  // namespace calmplate::picture
