// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <memory>
#include <set>

#include "base/units.hpp"
#include "cutting/marks.hpp"
#include "cutting/templates.hpp"

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;
using Points = std::vector<Vector2d>;

constexpr double kMargin = 30.0, kTitle = 40.0;
constexpr double kGrid_m = 0.1;

/// The flat map on a page as the fitter sees it, its lower left corner (upper right on a map that
/// is mirrored) at `corner`.
View face_view(const panel::Panel& panel,
               bool outer_face,
               const Vector2d& corner,
               double mm_per_m) {
  View view;
  view.turn << (outer_face ? mm_per_m : -mm_per_m), 0.0, 0.0, -mm_per_m;
  view.shift = corner;
  if (!outer_face) view.shift.x() += mm_per_m * panel.flat.size().x();
  return view;
}

Points rim_points(const panel::Panel& panel, const panel::RimPart& rim, const View& view) {
  Points points;
  for (const int node : rim.nodes)
    points.push_back(view(Vector2d(panel.flat.points().row(node).transpose())));
  return points;
}

void draw_rims(Pen& pen, const panel::Panel& panel, const View& view, double letter, double out) {
  pen.grey(0.0);
  pen.dash({});
  for (const panel::RimPart& rim : panel.rim) {
    const Points points = rim_points(panel, rim, view);
    pen.width(rim.hole ? 0.3 : 0.6);
    pen.path(points, false);
    if (rim.hole) continue;
    // The side's name outside its middle.
    const std::size_t i = points.size() / 2;
    const Vector2d along =
        (points[std::min(i + 1, points.size() - 1)] - points[i - 1]).normalized();
    Vector2d away(-along.y(), along.x());
    if (away.dot(points[i] - view(Vector2d(0.5 * panel.flat.size()))) < 0.0) away = -away;
    const Anchor anchor = away.x() > 0.5    ? Anchor::left
                          : away.x() < -0.5 ? Anchor::right
                                            : Anchor::middle;
    pen.text(points[i] + out * away + Vector2d(0.0, 0.35 * letter), rim.name, letter, anchor, true);
  }
  // Ends of the sides.
  pen.width(0.4);
  for (const panel::RimPart& rim : panel.rim)
    if (!rim.hole && rim.nodes.front() != rim.nodes.back()) {
      const Points points = rim_points(panel, rim, view);
      pen.circle(points.front(), 0.4 * letter);
    }
}

void draw_keep_outs(Pen& pen,
                    const std::vector<NamedOutline>& keep_out,
                    const View& view,
                    double letter) {
  for (const NamedOutline& k : keep_out) {
    const Points points = view(k.outline);
    pen.grey(0.55);
    pen.width(0.2);
    pen.hatch({points}, 0.8 * letter);
    pen.dash({2.0, 1.0});
    pen.path(points, true);
    pen.dash({});
    const Vector2d middle = middle_of(points);
    const double width = text_width("keep free: " + k.name, letter);
    pen.grey(1.0);
    pen.fill_rectangle(middle - Vector2d(0.5 * width + 1.0, 0.8 * letter),
                       {width + 2.0, 1.3 * letter});
    pen.grey(0.25);
    pen.text(middle + Vector2d(0.0, 0.2 * letter), "keep free: " + k.name, letter, Anchor::middle);
  }
}

/// Crosses every 100 mm from the datum, where there is skin.
void draw_grid(Pen& pen, const panel::Panel& panel, const View& view) {
  pen.width(0.15);
  const Vector2d size = panel.flat.size();
  for (int j = 0; j * kGrid_m <= size.y() + 1e-9; ++j)
    for (int i = 0; i * kGrid_m <= size.x() + 1e-9; ++i) {
      const Vector2d map(i * kGrid_m, j * kGrid_m);
      if (!panel.flat.to_skin(map)) continue;
      pen.grey(0.45);
      pen.cross(view(map), 8.0);
      pen.text(view(map) + Vector2d(0.8, -0.8),
               std::to_string(100 * i) + " | " + std::to_string(100 * j),
               2.4);
    }
}

/// The tape's way from a corner to a side, with its length.
void draw_tape(Pen& pen, const MarkedCorner& corner, const SideDistance& side, const View& view) {
  const Vector2d from = view(corner.at), to = view(side.foot);
  if ((to - from).norm() < 3.0) return;
  pen.grey(0.0);
  pen.width(0.25);
  pen.arrow(from, to);
  double angle = std::atan2((to - from).y(), (to - from).x());
  if (angle > 0.5 * base::kPi + 1e-9) angle -= base::kPi;
  if (angle < -0.5 * base::kPi + 1e-9) angle += base::kPi;
  const Vector2d above(std::sin(angle), -std::cos(angle));
  const std::string words =
      tape_text(side) + " mm to " + side.side + (side.square ? ", square" : "");
  const double width = text_width(words, 3.6), length = (to - from).norm();
  // Near the corner, where tapes to one place have not run together yet.
  const double share = std::min(0.5, (12.0 + 0.5 * width) / length);
  const Vector2d middle = from + share * (to - from) + 1.2 * above;
  if (width < length - 8.0)
    pen.text(middle, words, 3.6, Anchor::middle, false, angle);
  else
    pen.text(to + Vector2d(2.0, -1.5), words, 3.6);
}

void draw_on_face(Pen& pen, const LaidPart& laid, const View& view) {
  LaidPart plain = laid;
  // On the whole face the tape's ways are drawn at full length, not as arrows in the part.
  for (MarkedCorner* corner : {&plain.position.a, &plain.position.b}) corner->sides.clear();
  draw_part(pen, plain, view);
  for (const MarkedCorner* corner : {&laid.position.a, &laid.position.b})
    for (const SideDistance& side : corner->sides) draw_tape(pen, *corner, side, view);
}

/// Of a stack one part stands for all, they have one outline.
std::vector<LaidPart> one_a_place(const std::vector<LaidPart>& parts, bool outer_face) {
  std::vector<LaidPart> chosen;
  for (const LaidPart& laid : parts) {
    if (laid.part.outer_face != outer_face) continue;
    bool known = false;
    for (LaidPart& other : chosen)
      if (other.part.piece == laid.part.piece && other.part.layout == laid.part.layout &&
          other.part.sheet != laid.part.sheet &&
          (other.part.loops.front().row(0) - laid.part.loops.front().row(0)).norm() < 1e-9) {
        other.part.label += " + " + laid.part.label;
        known = true;
      }
    if (!known) chosen.push_back(laid);
  }
  return chosen;
}

}  // namespace

PageDrawing long_page(const panel::Panel& panel,
                      const std::vector<LaidPart>& parts,
                      const std::vector<NamedOutline>& keep_out,
                      bool outer_face,
                      const std::string& job) {
  const Vector2d size = 1e3 * panel.flat.size();
  const double width = std::max(size.x() + 2.0 * kMargin, 300.0);
  const double height = size.y() + 2.0 * kMargin + kTitle;
  const auto chosen = std::make_shared<std::vector<LaidPart>>(one_a_place(parts, outer_face));
  const std::string layout = chosen->empty() ? "" : chosen->front().part.layout;
  return {width, height, [=, &panel](Pen& pen) {
            const View view = face_view(panel, outer_face, {kMargin, kMargin + size.y()}, 1e3);
            for (const LaidPart& laid : *chosen) draw_on_face(pen, laid, view);
            draw_keep_outs(pen, keep_out, view, 4.5);
            draw_grid(pen, panel, view);
            draw_rims(pen, panel, view, 8.0, 8.0);
            const double top = height - kMargin - kTitle + 22.0;
            pen.grey(0.0);
            pen.text({kMargin, top},
                     "Layout " + layout + ", " + face_text(outer_face),
                     8.0,
                     Anchor::left,
                     true);
            pen.text({kMargin, top + 8.0}, job, 4.5);
            pen.text({kMargin, top + 14.5},
                     "Full size. Distances are along the skin. Crosses stand every 100 mm from the "
                     "datum, the lower left corner of the map seen from outside.",
                     3.6);
            draw_ruler(pen, {kMargin, top + 27.0}, false);
            draw_ruler(pen, {12.0, 0.5 * height + 0.5 * kRuler_mm}, true);
          }};
}

void draw_face_map(Pen& pen,
                   const panel::Panel& panel,
                   const std::vector<LaidPart>& parts,
                   const std::vector<NamedOutline>& keep_out,
                   bool outer_face,
                   const Vector2d& corner,
                   const Vector2d& size) {
  const Vector2d room = size - Vector2d(34.0, 16.0);
  const double scale = room.cwiseQuotient(panel.flat.size()).minCoeff();
  const Vector2d drawn = scale * panel.flat.size();
  const View view =
      face_view(panel, outer_face, corner + 0.5 * (size - drawn) + Vector2d(0.0, drawn.y()), scale);
  for (const NamedOutline& k : keep_out) {
    pen.grey(0.55);
    pen.width(0.15);
    pen.hatch({view(k.outline)}, 1.2);
    pen.path(view(k.outline), true);
  }
  for (const LaidPart& laid : one_a_place(parts, outer_face)) {
    std::vector<Points> loops;
    for (const panel::Polygon& loop : laid.part.loops) loops.push_back(view(loop));
    pen.colour(0.99, 0.96, 0.86);
    pen.fill(loops);
    pen.grey(0.0);
    pen.width(0.3);
    for (const Points& loop : loops) pen.path(loop, true);
    const LabelPlace place = label_place(laid.part);
    const double clear = scale * place.clear_m;
    const double letters =
        std::clamp(1.6 * clear / text_width(laid.part.label, 1.0, true), 1.8, 4.6);
    pen.text(view(place.at) + Vector2d(0.0, 0.35 * letters),
             laid.part.label,
             letters,
             Anchor::middle,
             true);
    const Vector2d middle = middle_of(loops.front());
    for (const MarkedCorner* c : {&laid.position.a, &laid.position.b}) {
      const Vector2d at = view(c->at), inward = (middle - at).normalized();
      pen.disc(at, 0.6);
      if (clear < 4.0) continue;  // no room for letters beside the number
      pen.text(
          at + 2.6 * inward + Vector2d(0.0, 1.0), std::string(1, c->letter), 2.8, Anchor::middle);
    }
  }
  draw_rims(pen, panel, view, 3.4, 2.5);
}

}  // namespace calmplate::cutting
