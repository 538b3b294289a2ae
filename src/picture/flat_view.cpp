// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/flat_view.hpp"

#include <algorithm>
#include <cmath>

#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kTapeGapMm = 2.5;
constexpr double kConeRadiusMm = 3.2;

/// Two rings, as one sees a loudspeaker from the front.
void draw_cone(Canvas& canvas, const Point& at) {
  canvas.disc(at, kConeRadiusMm, kWhite);
  canvas.disc(at, kConeRadiusMm - 0.4, kBlack);
  canvas.disc(at, kConeRadiusMm - 0.9, kWhite);
  canvas.disc(at, 1.2, kBlack);
  canvas.disc(at, 0.7, kWhite);
}

void box_of(const Outlines& outlines, Point& low, Point& high) {
  low = high = outlines.front().front();
  for (const Outline& outline : outlines) {
    for (const Point& p : outline) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
  }
}

}  // namespace

FlatView::FlatView(const PanelSheet& panel, const Point& low, const Point& high, bool with_tape)
    : panel_(panel), area_low_(low), area_high_(high) {
  box_of(panel.outlines_mm, low_mm_, high_mm_);
  const double room = with_tape ? kTapeRoomMm : 0.0;
  const double wide = high.x - low.x - room;
  const double tall = high.y - low.y - room;
  const double skin_wide = std::max(high_mm_.x - low_mm_.x, 1e-3);
  const double skin_tall = std::max(high_mm_.y - low_mm_.y, 1e-3);
  scale_ = std::min(wide / skin_wide, tall / skin_tall);
  low_ = {low.x + room + 0.5 * (wide - scale_ * skin_wide),
          low.y + room + 0.5 * (tall - scale_ * skin_tall)};
  high_ = {low_.x + scale_ * skin_wide, low_.y + scale_ * skin_tall};
}

Point FlatView::to_page(const Point& flat_mm) const {
  return {low_.x + scale_ * (flat_mm.x - low_mm_.x), low_.y + scale_ * (flat_mm.y - low_mm_.y)};
}

Outline FlatView::to_page(const Outline& flat_mm) const {
  Outline out;
  out.reserve(flat_mm.size());
  for (const Point& p : flat_mm) out.push_back(to_page(p));
  return out;
}

Outlines FlatView::to_page(const Outlines& flat_mm) const {
  Outlines out;
  for (const Outline& outline : flat_mm) out.push_back(to_page(outline));
  return out;
}

PixelBox FlatView::pixels() const {
  PixelBox p;
  p.i = int(std::floor(low_.x * kPxPerMm)) - 2;
  p.j = int(std::floor(low_.y * kPxPerMm)) - 2;
  p.width = int(std::ceil(high_.x * kPxPerMm)) + 2 - p.i;
  p.height = int(std::ceil(high_.y * kPxPerMm)) + 2 - p.j;
  return p;
}

Outlines FlatView::to_pixels(const Outlines& flat_mm, const PixelBox& pixels) const {
  Outlines out = to_page(flat_mm);
  for (Outline& outline : out) {
    for (Point& p : outline) p = {p.x * kPxPerMm - pixels.i, p.y * kPxPerMm - pixels.j};
  }
  return out;
}

void FlatView::fill(Canvas& canvas, const Outlines& flat_mm, const Colour& colour) const {
  const PixelBox px = pixels();
  const Outlines outlines = to_pixels(flat_mm, px);
  const PixelBox box = pixel_box(outlines, px.width, px.height);
  if (box.width == 0) return;
  const PixelGrid cover = pixel_cover(moved(outlines, box.i, box.j), box.width, box.height);
  canvas.image(px.i + box.i, px.j + box.j, colour_area(cover, colour));
}

void FlatView::fill_field(Canvas& canvas,
                          const ResultFields& fields,
                          const std::vector<double>& values,
                          bool at_points,
                          const std::vector<Outlines>& areas_mm,
                          const std::function<Colour(double)>& colour_of) const {
  const PixelBox px = pixels();
  const Outlines points = to_pixels({fields.flat_mm}, px);
  const PixelGrid field =
      pixel_field(points[0], fields.triangles, values, at_points, px.width, px.height);
  PixelGrid cover(px.width, px.height, 0.0);
  for (const Outlines& area : areas_mm) {
    const PixelGrid one = pixel_cover(to_pixels(area, px), px.width, px.height);
    for (std::size_t k = 0; k < cover.value.size(); ++k) {
      cover.value[k] = std::max(cover.value[k], one.value[k]);
    }
  }
  canvas.image(px.i, px.j, colour_field(field, cover, colour_of));
}

std::vector<Isoline> FlatView::isolines_on_page(const ResultFields& fields,
                                                const std::vector<double>& values,
                                                const std::vector<double>& levels) const {
  return isolines(to_page(fields.flat_mm), fields.triangles, values, levels);
}

void FlatView::draw_rim(Canvas& canvas, double width_mm) const {
  for (const Outline& outline : panel_.outlines_mm) {
    canvas.closed_line(to_page(outline), {width_mm, kBlack, {}});
  }
}

void FlatView::draw_keep_outs(Canvas& canvas) const {
  for (const KeepOut& zone : panel_.keep_outs) {
    const Outline outline = to_page(zone.outline_mm);
    draw_hatch(canvas, {outline}, 1.8, {0.22, grey(0.35), {}});
    canvas.closed_line(outline, {0.35, kBlack, {2.0, 1.0}});
  }
  for (const KeepOut& zone : panel_.keep_outs) {
    Point low;
    Point high;
    box_of({to_page(zone.outline_mm)}, low, high);
    Type type{8.5, false, kBlack, Across::middle, Upright::middle, 0.0};
    const Point centre{0.5 * (low.x + high.x), 0.5 * (low.y + high.y)};
    // A name too wide for a tall zone stands upright, so that it hides nothing beside the zone.
    const bool tall = high.y - low.y > high.x - low.x;
    if (tall && canvas.text_size(zone.name, type).first > high.x - low.x) type.turn_deg = 90.0;
    canvas.boxed_text(centre, zone.name, type);
  }
}

void FlatView::draw_tape(Canvas& canvas) const {
  const Stroke thin{0.25, kBlack, {}};
  const Type below{9.0, false, kBlack, Across::middle, Upright::top, 0.0};
  const Type beside{9.0, false, kBlack, Across::right, Upright::middle, 0.0};
  const double y = low_.y - kTapeGapMm;
  const double x = low_.x - kTapeGapMm;
  const double long_side = std::max(high_mm_.x - low_mm_.x, high_mm_.y - low_mm_.y);
  const double step = round_ticks(0.0, long_side, 14).step;
  canvas.line({{low_.x, y}, {high_.x, y}}, thin);
  canvas.line({{x, low_.y}, {x, high_.y}}, thin);
  const double every = step * scale_ < 11.0 ? 2.0 * step : step;
  for (double at = std::ceil(low_mm_.x / step - 1e-6) * step; at < high_mm_.x + 0.01 * step;
       at += step) {
    const double px = to_page({at, 0.0}).x;
    canvas.line({{px, y}, {px, y - 1.2}}, thin);
    if (std::abs(std::remainder(at, every)) < 0.01 * step) {
      canvas.text({px, y - 1.7}, number(at, 0), below);
    }
  }
  for (double at = std::ceil(low_mm_.y / step - 1e-6) * step; at < high_mm_.y + 0.01 * step;
       at += step) {
    const double py = to_page({0.0, at}).y;
    canvas.line({{x, py}, {x - 1.2, py}}, thin);
    if (std::abs(std::remainder(at, every)) < 0.01 * step) {
      canvas.text({x - 1.8, py}, number(at, 0), beside);
    }
  }
  const Type note{8.5, false, grey(0.25), Across::left, Upright::top, 0.0};
  const std::string words =
      "mm along the skin from the datum (lower left corner); skin seen from outside";
  const double last_start = area_high_.x - canvas.text_size(words, note).first;
  canvas.text({std::max(area_low_.x, std::min(low_.x, last_start)), y - 6.6}, words, note);
}

std::optional<DriveMark> FlatView::drive_mark(const Results& results) const {
  if (!results.drive_at_mm) return std::nullopt;
  DriveMark mark;
  mark.at = to_page(*results.drive_at_mm);
  mark.radius_mm = results.driven_by_woofer ? kConeRadiusMm : 1.7;
  mark.words_at = {mark.at.x + mark.radius_mm + 0.9, mark.at.y};
  mark.words = results.driven_by_woofer ? "woofer" : "drive";
  mark.type = {8.5, false, kBlack, Across::left, Upright::middle, 0.0};
  return mark;
}

void FlatView::draw_drive(Canvas& canvas, const Results& results) const {
  const std::optional<DriveMark> mark = drive_mark(results);
  if (!mark) return;
  if (results.driven_by_woofer) {
    draw_cone(canvas, mark->at);
  } else {
    canvas.disc(mark->at, 1.7, kWhite);
    canvas.disc(mark->at, 1.3, kBlack);
    canvas.disc(mark->at, 0.6, kWhite);
  }
  canvas.boxed_text(mark->words_at, mark->words, mark->type);
}

void draw_woofer_key(Canvas& canvas,
                     const Results& results,
                     const Point& top_left,
                     double width_mm) {
  if (!results.driven_by_woofer || !results.drive_at_mm) return;
  draw_cone(canvas, {top_left.x + kConeRadiusMm, top_left.y - kConeRadiusMm});
  const Type type{8.5, false, kBlack, Across::left, Upright::top, 0.0};
  const double indent = 2.0 * kConeRadiusMm + 1.5;
  canvas.text_block({top_left.x + indent, top_left.y},
                    "where the woofer's cone faces the air behind the skin",
                    type,
                    width_mm - indent,
                    3);
}

void draw_ruler(Canvas& canvas, const Point& at, double scale) {
  double length_mm = 100.0;
  for (const double choice : {100.0, 200.0, 500.0, 50.0, 20.0, 10.0}) {
    length_mm = choice;
    if (choice * scale > 9.0 && choice * scale < 45.0) break;
  }
  const double width = length_mm * scale;
  const double half = 0.5 * width;
  canvas.rectangle(at, {at.x + half, at.y + 1.6}, kBlack);
  canvas.frame(at, {at.x + width, at.y + 1.6}, {0.25, kBlack, {}});
  const Type type{9.0, false, kBlack, Across::left, Upright::bottom, 0.0};
  canvas.text({at.x, at.y + 2.4}, number(length_mm, 0) + " mm of skin", type);
}

void draw_hatch(Canvas& canvas, const Outlines& outlines, double spacing_mm, const Stroke& stroke) {
  // Turned by -45 degrees the hatch lines are level.
  const double c = std::sqrt(0.5);
  Outlines turned = outlines;
  double low = 1e300;
  double high = -1e300;
  for (Outline& outline : turned) {
    for (Point& p : outline) {
      p = {c * (p.x + p.y), c * (p.y - p.x)};
      low = std::min(low, p.y);
      high = std::max(high, p.y);
    }
  }
  for (double y = std::ceil(low / spacing_mm) * spacing_mm; y < high; y += spacing_mm) {
    for (const auto& [from, to] : inside_spans(turned, y)) {
      canvas.line({{c * (from - y), c * (from + y)}, {c * (to - y), c * (to + y)}}, stroke);
    }
  }
}

}  // namespace calmplate::picture
