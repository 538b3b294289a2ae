// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/area_image.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace calmplate::picture {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr int kLinesPerPixel = 8;
constexpr int kCarryPixels = 2;

unsigned char to_byte(double share) {
  return static_cast<unsigned char>(std::lround(255.0 * std::clamp(share, 0.0, 1.0)));
}

/// Adds `weight` times the covered length of each pixel of row j between x0 and x1.
void add_span(PixelGrid& grid, int j, double x0, double x1, double weight) {
  x0 = std::clamp(x0, 0.0, double(grid.width));
  x1 = std::clamp(x1, 0.0, double(grid.width));
  for (int i = int(x0); i < grid.width && i < x1; ++i) {
    const double length = std::min(x1, i + 1.0) - std::max(x0, double(i));
    grid.at(i, j) += weight * std::max(length, 0.0);
  }
}

/// Twice the signed area of a, b, c.
double cross(const Point& a, const Point& b, const Point& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

void fill_triangle(PixelGrid& grid, const std::array<Point, 3>& p, const std::array<double, 3>& v) {
  const double area = cross(p[0], p[1], p[2]);
  if (area == 0.0 || std::isnan(v[0] + v[1] + v[2])) return;
  const auto [left, right] = std::minmax({p[0].x, p[1].x, p[2].x});
  const auto [low, high] = std::minmax({p[0].y, p[1].y, p[2].y});
  const int i0 = std::max(0, int(std::floor(left - 0.5)));
  const int i1 = std::min(grid.width - 1, int(std::ceil(right - 0.5)));
  const int j0 = std::max(0, int(std::floor(low - 0.5)));
  const int j1 = std::min(grid.height - 1, int(std::ceil(high - 0.5)));
  for (int j = j0; j <= j1; ++j) {
    for (int i = i0; i <= i1; ++i) {
      const Point at{i + 0.5, j + 0.5};
      const double w0 = cross(at, p[1], p[2]) / area;
      const double w1 = cross(p[0], at, p[2]) / area;
      const double w2 = 1.0 - w0 - w1;
      if (w0 < -1e-9 || w1 < -1e-9 || w2 < -1e-9) continue;
      grid.at(i, j) = w0 * v[0] + w1 * v[1] + w2 * v[2];
    }
  }
}

/// Gives each empty pixel beside filled ones their mean.
void carry_outwards(PixelGrid& grid) {
  const PixelGrid old = grid;
  for (int j = 0; j < grid.height; ++j) {
    for (int i = 0; i < grid.width; ++i) {
      if (!std::isnan(old.at(i, j))) continue;
      double sum = 0.0;
      int count = 0;
      for (int n = std::max(0, j - 1); n <= std::min(grid.height - 1, j + 1); ++n) {
        for (int m = std::max(0, i - 1); m <= std::min(grid.width - 1, i + 1); ++m) {
          if (std::isnan(old.at(m, n))) continue;
          sum += old.at(m, n);
          ++count;
        }
      }
      if (count > 0) grid.at(i, j) = sum / count;
    }
  }
}

}  // namespace

std::vector<std::pair<double, double>> inside_spans(const Outlines& outlines, double y) {
  std::vector<double> crossings;
  for (const Outline& outline : outlines) {
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const Point& a = outline[k];
      const Point& b = outline[(k + 1) % outline.size()];
      if ((a.y <= y) == (b.y <= y)) continue;
      crossings.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
    }
  }
  std::sort(crossings.begin(), crossings.end());
  std::vector<std::pair<double, double>> spans;
  for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
    spans.emplace_back(crossings[k], crossings[k + 1]);
  }
  return spans;
}

bool inside(const Outlines& outlines, const Point& point) {
  for (const auto& [from, to] : inside_spans(outlines, point.y)) {
    if (point.x >= from && point.x <= to) return true;
  }
  return false;
}

PixelGrid::PixelGrid(int width_px, int height_px, double fill)
    : width(width_px), height(height_px) {
  if (width < 1 || height < 1) throw std::invalid_argument("PixelGrid: no pixels");
  value.assign(std::size_t(width) * std::size_t(height), fill);
}

PixelGrid pixel_cover(const Outlines& outlines, int width, int height) {
  PixelGrid grid(width, height, 0.0);
  for (int j = 0; j < height; ++j) {
    for (int line = 0; line < kLinesPerPixel; ++line) {
      const double y = j + (line + 0.5) / kLinesPerPixel;
      for (const auto& [from, to] : inside_spans(outlines, y)) {
        add_span(grid, j, from, to, 1.0 / kLinesPerPixel);
      }
    }
  }
  return grid;
}

PixelGrid pixel_field(const std::vector<Point>& points,
                      const std::vector<Triangle>& triangles,
                      const std::vector<double>& values,
                      bool at_points,
                      int width,
                      int height) {
  if (values.size() != (at_points ? points.size() : triangles.size())) {
    throw std::invalid_argument("pixel_field: number of values");
  }
  PixelGrid grid(width, height, kNone);
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    std::array<Point, 3> corner;
    std::array<double, 3> value{};
    for (std::size_t k = 0; k < 3; ++k) {
      const auto p = static_cast<std::size_t>(triangles[t][k]);
      corner[k] = points.at(p);
      value[k] = at_points ? values[p] : values[t];
    }
    fill_triangle(grid, corner, value);
  }
  for (int k = 0; k < kCarryPixels; ++k) carry_outwards(grid);
  return grid;
}

RgbaImage colour_field(const PixelGrid& field,
                       const PixelGrid& cover,
                       const std::function<Colour(double)>& colour_of) {
  if (field.width != cover.width || field.height != cover.height) {
    throw std::invalid_argument("colour_field: grids differ in size");
  }
  RgbaImage image{field.width, field.height, {}};
  image.bytes.assign(4 * field.value.size(), 0);
  for (std::size_t k = 0; k < field.value.size(); ++k) {
    if (std::isnan(field.value[k]) || cover.value[k] <= 0.0) continue;
    const Colour colour = colour_of(field.value[k]);
    image.bytes[4 * k] = to_byte(colour.r);
    image.bytes[4 * k + 1] = to_byte(colour.g);
    image.bytes[4 * k + 2] = to_byte(colour.b);
    image.bytes[4 * k + 3] = to_byte(cover.value[k]);
  }
  return image;
}

RgbaImage colour_area(const PixelGrid& cover, const Colour& colour) {
  const PixelGrid zero(cover.width, cover.height, 0.0);
  return colour_field(zero, cover, [&](double) { return colour; });
}

void lay_over(RgbaImage& under, const RgbaImage& over, int i, int j) {
  for (int row = std::max(0, -j); row < over.height && row + j < under.height; ++row) {
    for (int k = std::max(0, -i); k < over.width && k + i < under.width; ++k) {
      const auto from = 4 * (std::size_t(row) * std::size_t(over.width) + std::size_t(k));
      const auto to = 4 * (std::size_t(row + j) * std::size_t(under.width) + std::size_t(k + i));
      const double share = over.bytes[from + 3] / 255.0;
      for (std::size_t c = 0; c < 3; ++c) {
        const double mixed = (1.0 - share) * under.bytes[to + c] + share * over.bytes[from + c];
        under.bytes[to + c] = to_byte(mixed / 255.0);
      }
    }
  }
}

PixelBox pixel_box(const Outlines& outlines, int width, int height) {
  double left = width;
  double right = 0.0;
  double low = height;
  double high = 0.0;
  for (const Outline& outline : outlines) {
    for (const Point& p : outline) {
      left = std::min(left, p.x);
      right = std::max(right, p.x);
      low = std::min(low, p.y);
      high = std::max(high, p.y);
    }
  }
  PixelBox box;
  box.i = int(std::floor(std::max(left, 0.0)));
  box.j = int(std::floor(std::max(low, 0.0)));
  box.width = std::max(0, int(std::ceil(std::min(right, double(width)))) - box.i);
  box.height = std::max(0, int(std::ceil(std::min(high, double(height)))) - box.j);
  if (box.width == 0 || box.height == 0) box = {};
  return box;
}

Outlines moved(const Outlines& outlines, double i, double j) {
  Outlines out = outlines;
  for (Outline& outline : out) {
    for (Point& p : outline) p = {p.x - i, p.y - j};
  }
  return out;
}

}  // namespace calmplate::picture
