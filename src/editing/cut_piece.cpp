// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/cut_piece.hpp"

#include <cmath>
#include <utility>

#include "base/units.hpp"
#include "editing/laid.hpp"
#include "editing/rounding.hpp"

namespace calmplate::editing {
namespace {

using Eigen::Vector2d;

constexpr double kAskew_mm = 0.5;  ///< how far a square cut may be out of square over the piece

double cross(const Vector2d& u, const Vector2d& v) { return u.x() * v.y() - u.y() * v.x(); }

/// A line in a rectangle's own axes, mm from its middle.
struct OwnLine {
  Vector2d a, along;
};

/// Where the line crosses the rectangle square to its side `axis`, or nothing. mm from the middle.
std::optional<double> square_cut(const OwnLine& line, const Vector2d& size, int axis) {
  const int other = 1 - axis;
  if (std::abs(line.along(other)) < 1e-12) return std::nullopt;
  const double slope = line.along(axis) / line.along(other);
  if (std::abs(slope) * size(other) > kAskew_mm) return std::nullopt;
  return line.a(axis) - slope * line.a(other);
}

CutParts cut_square(const job::WrittenPiece& piece, int axis, double at_mm) {
  const double whole = piece.size_mm(axis);
  const double first = tenths(at_mm + 0.5 * whole), second = thousandths(whole - first);
  if (!(first > 0.0) || !(second > 0.0)) return {{}, "the line does not cross the piece"};
  const double turn = base::from_degrees(piece.angle_deg);
  const Vector2d along = axis == 0 ? Vector2d(std::cos(turn), std::sin(turn))
                                   : Vector2d(-std::sin(turn), std::cos(turn));
  const auto part = [&](double size_mm, double middle_mm) {
    job::WrittenPiece out = piece;
    out.size_mm(axis) = size_mm;
    out.centre_mm = thousandths(piece.centre_mm + middle_mm * along);
    return out;
  };
  CutParts out;
  out.parts = {part(first, 0.5 * (first - whole)), part(second, 0.5 * (whole - second))};
  if (second > first) std::swap(out.parts[0], out.parts[1]);
  return out;
}

CutParts cut_polygon(const job::WrittenPiece& piece, const Vector2d& a, const Vector2d& along) {
  const panel::Polygon corners = 1e3 * corners_of(piece);
  const Eigen::Index n = corners.rows();
  std::vector<Vector2d> sides[2];
  int crossings = 0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const Vector2d p = corners.row(i), q = corners.row((i + 1) % n);
    const double at_p = cross(along, p - a), at_q = cross(along, q - a);
    sides[at_p > 0.0 ? 0 : 1].push_back(thousandths(p));
    if ((at_p > 0.0) == (at_q > 0.0)) continue;
    ++crossings;
    const Vector2d on_cut = thousandths(Vector2d(p + at_p / (at_p - at_q) * (q - p)));
    for (std::vector<Vector2d>& side : sides)
      if (side.empty() || side.back() != on_cut) side.push_back(on_cut);
  }
  if (crossings == 0) return {{}, "the line does not cross the piece"};
  if (crossings > 2) return {{}, "the line cuts the piece in more than two parts"};
  CutParts out;
  for (std::vector<Vector2d>& side : sides) {
    if (side.size() > 1 && side.front() == side.back()) side.pop_back();
    job::WrittenPiece part = piece;
    part.shape = job::Shape::polygon;
    part.centre_mm = part.size_mm = Vector2d::Zero();
    part.angle_deg = 0.0;
    part.outline_mm.resize(static_cast<Eigen::Index>(side.size()), 2);
    for (std::size_t i = 0; i < side.size(); ++i)
      part.outline_mm.row(static_cast<Eigen::Index>(i)) = side[i].transpose();
    out.parts.push_back(std::move(part));
  }
  const auto area = [](const job::WrittenPiece& p) {
    return p.outline_mm.rows() < 3 ? 0.0 : std::abs(panel::polygon_area(corners_of(p)));
  };
  if (!(area(out.parts[0]) > 0.0) || !(area(out.parts[1]) > 0.0))
    return {{}, "the line does not cross the piece"};
  if (area(out.parts[1]) > area(out.parts[0])) std::swap(out.parts[0], out.parts[1]);
  return out;
}

}  // namespace

CutParts cut_piece(const job::WrittenPiece& piece, const Vector2d& a, const Vector2d& b) {
  if (piece.shape == job::Shape::everywhere)
    return {{}, "a piece that lies everywhere is not cut; lay rectangles in its place"};
  const Vector2d from = 1e3 * a, along = 1e3 * (b - a);
  if (!(along.norm() > 1e-3)) return {{}, "the line has no length"};
  if (piece.shape == job::Shape::polygon) return cut_polygon(piece, from, along.normalized());
  const double turn = base::from_degrees(piece.angle_deg);
  const Vector2d x(std::cos(turn), std::sin(turn)), y(-x.y(), x.x());
  const Vector2d to = from - piece.centre_mm;
  const OwnLine own{{x.dot(to), y.dot(to)}, {x.dot(along), y.dot(along)}};
  for (const int axis : {0, 1})
    if (const auto at_mm = square_cut(own, piece.size_mm, axis))
      return cut_square(piece, axis, *at_mm);
  return cut_polygon(piece, from, along.normalized());
}

}  // namespace calmplate::editing
