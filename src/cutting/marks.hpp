// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "cutting/laid_part.hpp"
#include "cutting/pen.hpp"

namespace calmplate::cutting {

/// Where a place of the flat map comes to lie on a page, mm.
struct View {
  Eigen::Matrix2d turn = Eigen::Matrix2d::Identity();  ///< mm a metre
  Eigen::Vector2d shift = Eigen::Vector2d::Zero();     ///< mm

  Eigen::Vector2d operator()(const Eigen::Vector2d& map) const { return turn * map + shift; }
  std::vector<Eigen::Vector2d> operator()(const panel::Polygon& polygon) const;
  /// Unit vector on the page of a direction on the map.
  Eigen::Vector2d direction(const Eigen::Vector2d& map) const { return (turn * map).normalized(); }
};

/// The part's own paper, its rectangle's lower left corner at `corner`.
/// @param quarter_turn  turned anticlockwise by 90 degrees; `corner` is then that of the turned
/// paper
/// @param mm_per_m      1000: full size
View paper_view(const Part& part,
                const Eigen::Vector2d& corner,
                bool quarter_turn,
                double mm_per_m = 1e3);

/// The check ruler: 100 mm from `at` to the right (or up), a mark every 10 mm.
void draw_ruler(Pen& pen, const Eigen::Vector2d& at, bool upright);
constexpr double kRuler_mm = 100.0;
constexpr double kRulerTick_mm = 5.0;  ///< height of the marks at 0 and 100 mm

/// Outline, cut-outs, cutting rectangle, number and size, relief cuts, the two marked corners with
/// arrows to the sides, and which way is up. For full-size pages.
void draw_part(Pen& pen, const LaidPart& laid, const View& view);

/// A corner's cross with its letter. @param away  unit vector on the page out of the part
void draw_corner(Pen& pen,
                 const MarkedCorner& corner,
                 const View& view,
                 const Eigen::Vector2d& away);

/// Middle of a box of points.
Eigen::Vector2d middle_of(const std::vector<Eigen::Vector2d>& points);

}  // namespace calmplate::cutting
