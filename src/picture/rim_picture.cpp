// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/map_labels.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kTableX = 194.0;
constexpr double kWidthMm = 90.0;
constexpr double kRowMm = 6.0;
constexpr std::size_t kMostRows = 22;
constexpr double kInsideMm = 5.0;  ///< from a line to its label
const Type kWords{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
const Type kStrong{9.0, true, kBlack, Across::left, Upright::middle, 0.0};

/// Told apart without colour: four dashes, thin and black, then broad and grey.
Stroke part_stroke(std::size_t number) {
  static const std::array<std::vector<double>, 4> kDashes{
      {{}, {5.0, 1.8}, {1.4, 1.3}, {7.0, 1.5, 1.3, 1.5}}};
  const bool broad = number / kDashes.size() % 2 == 1;
  return {broad ? 1.7 : 0.9, broad ? grey(0.55) : kBlack, kDashes[number % kDashes.size()]};
}

bool is_hole(const RimPart& part) { return part.name.rfind("hole-", 0) == 0; }

bool is_closed(const RimPart& part) {
  const Point& a = part.line_mm.front();
  const Point& b = part.line_mm.back();
  return std::hypot(a.x - b.x, a.y - b.y) < 1e-6;
}

/// The point at a share of a line's length and the direction to its left, where the skin is.
struct Spot {
  Point at;
  Point left;
};

Spot spot_on(const std::vector<Point>& line, double share) {
  double length = 0.0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    length += std::hypot(line[i + 1].x - line[i].x, line[i + 1].y - line[i].y);
  double left = share * length;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double dx = line[i + 1].x - line[i].x, dy = line[i + 1].y - line[i].y;
    const double step = std::hypot(dx, dy);
    if (step > 0.0 && (left <= step || i + 2 == line.size())) {
      const double s = std::min(1.0, left / step);
      return {{line[i].x + s * dx, line[i].y + s * dy}, {-dy / step, dx / step}};
    }
    left -= step;
  }
  return {line.front(), {0.0, 0.0}};
}

/// Number and name beside the line, at the first place along it that is free.
void name_part(Canvas& canvas,
               const FlatView& view,
               const RimPart& part,
               std::size_t number,
               MapLabels& labels) {
  const std::vector<Point> line = view.to_page(part.line_mm);
  const std::string words = std::to_string(number) + " " + part.name;
  for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9}) {
    const Spot spot = spot_on(line, share);
    Type type = kStrong;
    type.across = spot.left.x > 0.5    ? Across::left
                  : spot.left.x < -0.5 ? Across::right
                                       : Across::middle;
    const double away = type.across == Across::middle ? kInsideMm : 0.6 * kInsideMm;
    const Point at{spot.at.x + away * spot.left.x, spot.at.y + away * spot.left.y};
    if (labels.place(canvas, at, words, type)) return;
  }
}

void draw_parts(Canvas& canvas, const FlatView& view, const PanelSheet& panel) {
  for (std::size_t k = 0; k < panel.rim.size(); ++k) {
    if (panel.rim[k].line_mm.size() > 1)
      canvas.line(view.to_page(panel.rim[k].line_mm), part_stroke(k));
  }
  MapLabels labels;
  for (const RimPart& part : panel.rim) {
    if (part.line_mm.size() < 2 || is_closed(part)) continue;
    const Point end = view.to_page(part.line_mm.front());
    canvas.disc(end, 1.3, kBlack);
    canvas.disc(end, 0.9, kWhite);
    labels.keep_free({end.x - 1.3, end.y - 1.3}, {end.x + 1.3, end.y + 1.3});
  }
  for (std::size_t k = 0; k < panel.rim.size(); ++k) {
    if (panel.rim[k].line_mm.size() > 1) name_part(canvas, view, panel.rim[k], k + 1, labels);
  }
}

/// Where lengths are counted from, and which way.
void draw_datum(Canvas& canvas, const FlatView& view) {
  constexpr double kArrow = 11.0;
  const Point at = view.to_page(Point{0.0, 0.0});
  for (const Point& way : {Point{1.0, 0.0}, Point{0.0, 1.0}}) {
    const Point tip{at.x + kArrow * way.x, at.y + kArrow * way.y};
    canvas.line({at, tip}, {0.5, kBlack, {}});
    canvas.arrow_head(tip, way.x, way.y, 2.6, kBlack);
  }
  canvas.disc(at, 1.5, kBlack);
  const Type type{8.5, true, kBlack, Across::left, Upright::bottom, 0.0};
  canvas.boxed_text({at.x + kArrow + 1.2, at.y - 1.2}, "x", type);
  canvas.boxed_text({at.x - 1.0, at.y + kArrow + 0.8}, "y", type);
}

std::string size_of(const RimPart& part) {
  if (!is_hole(part) || part.line_mm.empty()) return number(part.length_mm, 0) + " mm long";
  Point low = part.line_mm.front(), high = low;
  for (const Point& p : part.line_mm) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return number(high.x - low.x, 0) + " x " + number(high.y - low.y, 0) + " mm";
}

void draw_table(Canvas& canvas, const PanelSheet& panel) {
  double y = kContentHigh.y - 4.0;
  const double x = kTableX, right = kTableX + kWidthMm;
  Type end = kWords;
  end.across = Across::right;
  canvas.text({x, y}, "Rim parts and holes", kStrong);
  Type head = kStrong;
  head.across = Across::right;
  canvas.text({right, y}, "held by the job as", head);
  canvas.line({{x, y - 3.0}, {right, y - 3.0}}, {0.35, kBlack, {}});
  y -= 1.0;
  for (std::size_t k = 0; k < panel.rim.size() && k < kMostRows; ++k) {
    y -= kRowMm;
    const RimPart& part = panel.rim[k];
    canvas.text({x, y}, std::to_string(k + 1), kStrong);
    canvas.line({{x + 6.0, y}, {x + 22.0, y}}, part_stroke(k));
    canvas.text({x + 25.0, y}, canvas.fitted(part.name, kStrong, 20.0), kStrong);
    canvas.text({x + 46.0, y}, size_of(part), kWords);
    canvas.text({right, y}, canvas.fitted(part.hold, end, 20.0), end);
  }
  if (panel.rim.size() > kMostRows) {
    canvas.text({x, y - kRowMm},
                "and " + std::to_string(panel.rim.size() - kMostRows) + " more in check.json",
                kWords);
  }
}

}  // namespace

RgbaImage draw_rim_parts(RenderWindow& window, const CheckFile& check) {
  const PanelSheet& panel = check.panel;
  PageWords words;
  words.title = "The skin as it was understood";
  words.second = check.title + (check.note.empty() ? "" : "  (" + check.note + ")");
  words.caption =
      "Rim parts and holes by number and by the name that [[panel.edge]] gives as part. A part "
      "runs "
      "anticlockwise from one small circle to the next; \"rim\" means all of the outer rim. The "
      "dot "
      "is the datum.";
  words.footer = "Skin " + number(panel.width_mm, 0) + " x " + number(panel.height_mm, 0) +
                 " mm flat, " + three_digits(panel.area_m2) + " m², " +
                 number(panel.thickness_mm, 2) + " mm thick.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, words);
    const FlatView view(panel, kContentLow, {kTableX - 5.0, kContentHigh.y}, true);
    view.fill(canvas, panel.outlines_mm, grey(0.965));
    view.draw_keep_outs(canvas);
    draw_parts(canvas, view, panel);
    view.draw_tape(canvas);
    draw_datum(canvas, view);
    draw_table(canvas, panel);
    draw_ruler(canvas, {kTableX, 31.5}, view.scale());
  });
}

}  // namespace calmplate::picture
