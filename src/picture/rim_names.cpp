// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/rim_names.hpp"

#include <algorithm>
#include <cmath>

namespace calmplate::picture {
namespace {

constexpr double kInsideMm = 3.0;  ///< from the rim to the middle of a name
const Type kLevel{8.5, false, grey(0.1), Across::middle, Upright::middle, 0.0};
const Type kUpright{8.5, false, grey(0.1), Across::middle, Upright::middle, 90.0};

bool starts_with(const std::string& words, const char* start) { return words.rfind(start, 0) == 0; }

Outline swapped(const Outline& outline) {
  Outline out = outline;
  for (Point& p : out) std::swap(p.x, p.y);
  return out;
}

/// Tries places along a side, from its middle outwards, until one is free.
void name_side(Canvas& canvas,
               const FlatView& view,
               const Outline& rim,
               const std::string& side,
               MapLabels& labels) {
  const bool upright = side == "left" || side == "right";
  const bool first = side == "left" || side == "bottom";
  const Outlines outlines{upright ? rim : swapped(rim)};
  const double from = upright ? view.low().y : view.low().x;
  const double to = upright ? view.high().y : view.high().x;
  for (const double share : {0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82}) {
    const double along = from + share * (to - from);
    const auto spans = inside_spans(outlines, along);
    if (spans.empty()) continue;
    const double rim_at = first ? spans.front().first + kInsideMm : spans.back().second - kInsideMm;
    const Point at = upright ? Point{rim_at, along} : Point{along, rim_at};
    if (labels.place(canvas, at, side, upright ? kUpright : kLevel)) return;
  }
}

double area_of(const Outline& outline) {
  double twice = 0.0;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const Point& a = outline[k];
    const Point& b = outline[(k + 1) % outline.size()];
    twice += a.x * b.y - b.x * a.y;
  }
  return 0.5 * std::abs(twice);
}

Point middle_of(const Outline& outline) {
  Point low = outline.front();
  Point high = outline.front();
  for (const Point& p : outline) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return {0.5 * (low.x + high.x), 0.5 * (low.y + high.y)};
}

void name_holes(Canvas& canvas, const FlatView& view, const PanelSheet& panel, MapLabels& labels) {
  std::vector<Outline> holes(panel.outlines_mm.begin() + 1, panel.outlines_mm.end());
  std::stable_sort(holes.begin(), holes.end(), [](const Outline& a, const Outline& b) {
    return area_of(a) > area_of(b);
  });
  for (std::size_t k = 0; k < holes.size(); ++k) {
    const std::string name = "hole-" + std::to_string(k + 1);
    const bool listed = std::any_of(
        panel.rim.begin(), panel.rim.end(), [&](const RimPart& part) { return part.name == name; });
    if (listed) labels.place(canvas, view.to_page(middle_of(holes[k])), name, kLevel);
  }
}

/// At the middle of the part's line, moved towards the middle of the panel.
void name_line(Canvas& canvas, const FlatView& view, const RimPart& part, MapLabels& labels) {
  const Point at = view.to_page(part.line_mm[part.line_mm.size() / 2]);
  const double dx = 0.5 * (view.low().x + view.high().x) - at.x;
  const double dy = 0.5 * (view.low().y + view.high().y) - at.y;
  const double size = std::max(std::hypot(dx, dy), 1e-9);
  const bool upright = starts_with(part.name, "left") || starts_with(part.name, "right");
  const Point place{at.x + kInsideMm * dx / size, at.y + kInsideMm * dy / size};
  labels.place(canvas, place, part.name, upright ? kUpright : kLevel);
}

}  // namespace

void draw_rim_names(Canvas& canvas,
                    const FlatView& view,
                    const PanelSheet& panel,
                    MapLabels& labels) {
  const Outline rim = view.to_page(panel.outlines_mm[0]);
  for (const RimPart& part : panel.rim) {
    if (starts_with(part.name, "hole-")) continue;
    if (!part.line_mm.empty()) {
      name_line(canvas, view, part, labels);
    } else if (part.name == "left" || part.name == "right" || part.name == "bottom" ||
               part.name == "top") {
      name_side(canvas, view, rim, part.name, labels);
    }
  }
  name_holes(canvas, view, panel, labels);
}

}  // namespace calmplate::picture
