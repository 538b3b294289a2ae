// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/marks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "base/units.hpp"

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;
using Points = std::vector<Vector2d>;

struct Extent {
  Vector2d low = Vector2d::Constant(std::numeric_limits<double>::max());
  Vector2d high = Vector2d::Constant(std::numeric_limits<double>::lowest());
  explicit Extent(const Points& points) {
    for (const Vector2d& p : points) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  }
  Vector2d size() const { return high - low; }
  Vector2d middle() const { return 0.5 * (low + high); }
};

/// A short arrow inside the part, by a corner, that points to a side, with the tape's figure.
void draw_side_arrow(Pen& pen,
                     const MarkedCorner& corner,
                     const SideDistance& side,
                     const View& view,
                     const Vector2d& inward) {
  if (side.distance_m < 5e-4) return;  // the corner lies on the side
  const Vector2d at = view(corner.at), along = view.direction(side.foot - corner.at);
  // The arrow stands beside the edge, on the part's side of it.
  Vector2d beside(-along.y(), along.x());
  if (beside.dot(inward) < 0.0) beside = -beside;
  const int axis = std::abs(along.x()) > std::abs(along.y()) ? 0 : 1;
  const bool across_part = along[axis] * inward[axis] > 0.0;
  const Vector2d foot = at + 7.0 * beside + (across_part ? 3.0 : -15.0) * along;
  const Vector2d tip = foot + 14.0 * along;
  pen.width(0.3);
  pen.arrow(foot, tip);
  // The figure lies beyond the end of the arrow that is in the part, level.
  const Vector2d away = across_part ? along : Vector2d(-along);
  const Vector2d end = across_part ? tip : foot;
  const std::string words = tape_text(side) + " to " + side.side;
  constexpr double kLetters = 3.2;
  if (std::abs(away.x()) > 0.5) {
    pen.text(end + 1.5 * away + Vector2d(0.0, 1.1),
             words,
             kLetters,
             away.x() > 0.0 ? Anchor::left : Anchor::right);
    return;
  }
  // Beside an upright arrow, on the side away from the edge.
  const double side_x = inward.x() > 0.0 ? 1.0 : -1.0;
  pen.text(end + Vector2d(-2.0 * side_x, away.y() > 0.0 ? 4.2 : -1.8),
           words,
           kLetters,
           side_x > 0.0 ? Anchor::left : Anchor::right);
}

void draw_up(Pen& pen, const View& view, const Vector2d& from) {
  constexpr double kLength = 18.0;
  const Vector2d up = view.direction(Vector2d::UnitY()), tip = from + kLength * up;
  pen.width(0.4);
  pen.arrow(from, tip);
  const bool level = std::abs(up.x()) > 0.5;
  const Anchor anchor = !level ? Anchor::middle : up.x() > 0.0 ? Anchor::left : Anchor::right;
  pen.text(tip + (level ? 1.5 : 2.5) * up +
               Vector2d(0.0,
                        up.y() > 0.5 ? 2.0
                        : level      ? 1.1
                                     : 0.0),
           "up in the door",
           3.0,
           anchor);
}

void draw_relief(Pen& pen, const Flatness& flat, const View& view) {
  for (const ReliefCut& cut : flat.cuts) {
    const Vector2d from = view(cut.from), to = view(cut.to);
    pen.width(0.4);
    pen.dash({6.0, 1.5, 1.0, 1.5});
    pen.line(from, to);
    pen.dash({});
    const std::string words =
        "relief cut " + std::to_string(std::lround(1e3 * (cut.to - cut.from).norm())) + ", " +
        (cut.width_m > 0.0 ? "take out " : "opens ") + mm_text(std::abs(cut.width_m)) + " mm";
    pen.text(0.5 * (from + to) + Vector2d(1.5, -1.5), words, 3.0);
  }
}

}  // namespace

Points View::operator()(const panel::Polygon& polygon) const {
  Points points;
  for (Eigen::Index i = 0; i < polygon.rows(); ++i)
    points.push_back((*this)(Vector2d(polygon.row(i).transpose())));
  return points;
}

Vector2d middle_of(const Points& points) { return Extent(points).middle(); }

View paper_view(const Part& part, const Vector2d& corner, bool quarter_turn, double mm_per_m) {
  // Paper to page, where y runs down. Turned anticlockwise, (x, y) comes to (h - y, x).
  Eigen::Matrix2d turn;
  Vector2d shift = corner;
  if (quarter_turn) {
    turn << 0.0, -mm_per_m, -mm_per_m, 0.0;
    shift.x() += mm_per_m * part.size_m.y();
  } else {
    turn << mm_per_m, 0.0, 0.0, -mm_per_m;
  }
  return {turn * part.frame.turn, turn * part.frame.shift + shift};
}

void draw_ruler(Pen& pen, const Vector2d& at, bool upright) {
  pen.grey(0.0);
  pen.dash({});
  pen.width(0.2);
  const Vector2d along = upright ? Vector2d(0.0, -1.0) : Vector2d(1.0, 0.0);
  const Vector2d across = upright ? Vector2d(-1.0, 0.0) : Vector2d(0.0, -1.0);
  pen.line(at, at + kRuler_mm * along);
  for (int i = 0; i <= 10; ++i) {
    const double height = i % 10 == 0 ? kRulerTick_mm : (i == 5 ? 3.5 : 2.0);
    const Vector2d foot = at + 10.0 * i * along;
    pen.line(foot, foot + height * across);
  }
  const std::string words =
      "this line must measure 100 mm; else print at 100 %, not \"fit to page\"";
  if (upright)
    pen.text(at + Vector2d(3.2, 0.0), words, 2.6, Anchor::left, false, -0.5 * base::kPi);
  else
    pen.text(at + Vector2d(0.0, 3.4), words, 2.6);
}

void draw_corner(Pen& pen, const MarkedCorner& corner, const View& view, const Vector2d& away) {
  const Vector2d at = view(corner.at);
  pen.grey(0.0);
  pen.width(0.25);
  pen.cross(at, 9.0);
  pen.circle(at, 1.5);
  pen.text(at - 3.4 * away + Vector2d(0.0, 1.4),
           std::string(1, corner.letter),
           4.2,
           Anchor::middle,
           true);
}

void draw_part(Pen& pen, const LaidPart& laid, const View& view) {
  const Part& part = laid.part;
  std::vector<Points> loops;
  for (const panel::Polygon& loop : part.loops) loops.push_back(view(loop));
  const Extent extent(loops.front());
  pen.dash({});
  pen.grey(0.95);
  pen.fill(loops);
  if (!part.rectangular) {
    Points rectangle;
    for (const Vector2d& c : {Vector2d(0, 0), Vector2d(1, 0), Vector2d(1, 1), Vector2d(0, 1)})
      rectangle.push_back(view(part.frame.to_map(c.cwiseProduct(part.size_m))));
    pen.grey(0.4);
    pen.width(0.2);
    pen.dash({3.0, 2.0});
    pen.path(rectangle, true);
    pen.dash({});
  }
  pen.grey(0.0);
  pen.width(0.4);
  for (std::size_t i = 0; i < loops.size(); ++i) {
    pen.path(loops[i], true);
    if (i == 0) continue;
    pen.width(0.2);
    pen.hatch({loops[i]}, 4.0);
    pen.width(0.4);
  }
  const LabelPlace place = label_place(part);
  const Vector2d middle = view(place.at);
  const double scale = (view.turn * Vector2d::UnitX()).norm();  // mm a metre
  const double clear = scale * place.clear_m;
  const double number =
      std::clamp(0.35 * clear, 3.0, std::max(3.0, 1.8 * clear / text_width(part.label, 1.0, true)));
  const double letters = std::min(number, 22.0);
  pen.text(middle + Vector2d(0.0, 0.1 * letters), part.label, letters, Anchor::middle, true);
  if (clear > 15.0)
    pen.text(middle + Vector2d(0.0, 0.1 * letters + 5.5),
             mm_text(part.size_m.x()) + " x " + mm_text(part.size_m.y()) + " mm",
             3.6,
             Anchor::middle);
  draw_relief(pen, laid.flatness, view);
  for (const MarkedCorner* corner : {&laid.position.a, &laid.position.b}) {
    const Vector2d inward = extent.middle() - view(corner->at);
    const Vector2d signs(inward.x() < 0.0 ? -1.0 : 1.0, inward.y() < 0.0 ? -1.0 : 1.0);
    draw_corner(pen, *corner, view, -signs * 1.0);
    if (extent.size().minCoeff() < 60.0) continue;
    for (const SideDistance& side : corner->sides)
      draw_side_arrow(pen, *corner, side, view, inward);
  }
  if (clear > 30.0) draw_up(pen, view, middle + Vector2d(0.0, -1.2 * letters));
}

}  // namespace calmplate::cutting
