// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/map_labels.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/scale_bar.hpp"
#include "picture/skin_scene.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kColumnX = 230.0;
constexpr double kColumnWidth = 54.0;
constexpr double kInsetHeight = 36.0;
const Colour kNoPlace = grey(0.90);
const Type kBestType{10.0, true, kBlack, Across::middle, Upright::bottom, 0.0};

struct Scale {
  double step = 1.0;
  std::vector<double> levels;
  Colour of(double value) const { return band_colour(levels, value); }
};

Scale scale_of(const std::vector<double>& values) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const double v : values) {
    if (!std::isfinite(v)) continue;
    low = std::min(low, v);
    high = std::max(high, v);
  }
  if (low > high) return {1.0, {0.0, 1.0}};
  const Ticks ticks = round_ticks(low, high, 12);
  return {ticks.step, ticks.at};
}

Outline square(const Point& centre, double side) {
  const double h = 0.5 * side;
  return {{centre.x - h, centre.y - h},
          {centre.x + h, centre.y - h},
          {centre.x + h, centre.y + h},
          {centre.x - h, centre.y + h}};
}

void draw_isolines(Canvas& canvas,
                   const FlatView& view,
                   const ResultFields& fields,
                   const std::vector<double>& values,
                   const Scale& scale,
                   MapLabels& labels) {
  const std::vector<double> inner(scale.levels.begin() + 1, scale.levels.end() - 1);
  const std::vector<Isoline> lines = view.isolines_on_page(fields, values, inner);
  for (const Isoline& line : lines) {
    const bool dark = lightness(scale.of(line.level)) < 55.0;
    canvas.line(line.points, {0.25, dark ? kWhite : kBlack, {}});
  }
  const Type type{9.0, false, kBlack, Across::middle, Upright::middle, 0.0};
  for (const Isoline& line : lines) {
    if (length_of(line.points) < 20.0) continue;
    labels.place(canvas, label_place(line.points), tick_label(line.level, scale.step), type);
  }
}

std::string best_words(const BenefitMap& map) {
  return "best place " + number(map.best_db, 1) + " dB";
}

/// Where the best place's words stand: over the piece, or under it if the drive is drawn there.
struct BestLabel {
  Point at;
  Type type;
};

BestLabel best_label(const FlatView& view, const BenefitMap& map, const Results& results) {
  const Outline piece = view.to_page(square(map.best_centre_mm, map.piece_mm));
  BestLabel label{{0.5 * (piece[0].x + piece[2].x), piece[2].y + 1.5}, kBestType};
  const std::optional<DriveMark> drive = view.drive_mark(results);
  if (!drive) return label;
  constexpr double kReach = 25.0;  // half the words and the drive's own word beside it
  if (std::abs(drive->at.x - label.at.x) < kReach &&
      std::abs(drive->at.y - label.at.y - 2.0) < 4.5 + drive->radius_mm) {
    label.at.y = piece[0].y - 1.5;
    label.type.upright = Upright::top;
  }
  return label;
}

void keep_best_free(Canvas& canvas,
                    const FlatView& view,
                    const BenefitMap& map,
                    const BestLabel& label,
                    MapLabels& labels) {
  const Outline piece = view.to_page(square(map.best_centre_mm, map.piece_mm));
  labels.keep_free(piece[0], piece[2]);
  labels.keep_free_for(canvas, label.at, best_words(map), label.type);
}

void keep_drive_free(Canvas& canvas,
                     const FlatView& view,
                     const Results& results,
                     MapLabels& labels) {
  const std::optional<DriveMark> mark = view.drive_mark(results);
  if (!mark) return;
  const double r = mark->radius_mm;
  labels.keep_free({mark->at.x - r, mark->at.y - r}, {mark->at.x + r, mark->at.y + r});
  labels.keep_free_for(canvas, mark->words_at, mark->words, mark->type);
}

void draw_best(Canvas& canvas,
               const FlatView& view,
               const BenefitMap& map,
               const BestLabel& label) {
  const Outline piece = view.to_page(square(map.best_centre_mm, map.piece_mm));
  const Point centre = view.to_page(map.best_centre_mm);
  canvas.closed_line(piece, {1.3, kWhite, {}});
  canvas.closed_line(piece, {0.6, kBlack, {}});
  canvas.line({{centre.x - 2.0, centre.y}, {centre.x + 2.0, centre.y}}, {0.5, kBlack, {}});
  canvas.line({{centre.x, centre.y - 2.0}, {centre.x, centre.y + 2.0}}, {0.5, kBlack, {}});
  canvas.boxed_text(label.at, best_words(map), label.type);
}

void draw_column(Canvas& canvas,
                 const BenefitMap& map,
                 const FlatView& view,
                 const Scale& scale,
                 const RgbaImage& inset) {
  ScaleBar bar;
  bar.low = {kColumnX, 111.0};
  bar.height_mm = 58.0;
  bar.from = scale.levels.front();
  bar.to = scale.levels.back();
  bar.ticks = scale.levels;
  for (const double level : scale.levels) bar.labels.push_back(tick_label(level, scale.step));
  bar.heading = "Fall of the band level with one piece, dB";
  bar.heading_width_mm = kColumnWidth;
  draw_scale_bar(canvas, bar, [&](double value) { return scale.of(value); });
  canvas.rectangle({kColumnX + 24.0, 111.0}, {kColumnX + 30.0, 115.0}, kNoPlace);
  canvas.frame({kColumnX + 24.0, 111.0}, {kColumnX + 30.0, 115.0}, {0.25, kBlack, {}});
  const Type small{9.0, false, kBlack, Across::left, Upright::middle, 0.0};
  canvas.text({kColumnX + 31.5, 113.0}, "no piece fits", small);
  const Type words{10.0, false, kBlack, Across::left, Upright::top, 0.0};
  const Type strong{10.0, true, kBlack, Across::left, Upright::top, 0.0};
  double y = canvas.text_block({kColumnX, 105.0}, "Best place", strong, kColumnWidth);
  y = canvas.text_block({kColumnX, y},
                        "centre " + number(map.best_centre_mm.x, 0) + " mm right, " +
                            number(map.best_centre_mm.y, 0) + " mm up: " + number(map.best_db, 1) +
                            " dB",
                        words,
                        kColumnWidth,
                        3);
  canvas.image(int(kColumnX * kPxPerMm), int(45.0 * kPxPerMm), inset);
  const Type note{8.5, false, grey(0.25), Across::left, Upright::top, 0.0};
  canvas.text({kColumnX, 44.0}, "the same on the skin in space", note);
  draw_ruler(canvas, {kColumnX, 31.5}, view.scale());
}

}  // namespace

RgbaImage draw_benefit(RenderWindow& window, const Results& results, const ResultFields& fields) {
  if (!results.benefit) throw std::invalid_argument("draw_benefit: no benefit map");
  const BenefitMap& map = *results.benefit;
  const std::vector<double>& values = fields.point_field(map.field);
  const Scale scale = scale_of(values);
  SkinPaint paint(fields, kNoPlace);
  paint.field(values, [&](double value) { return scale.of(value); });
  paint.outline({square(map.best_centre_mm, map.piece_mm)}, 8.0, kBlack);
  const RgbaImage inset = render_skin(window,
                                      fields,
                                      paint,
                                      Side::outside,
                                      int(kColumnWidth * kPxPerMm),
                                      int(kInsetHeight * kPxPerMm));
  const std::string caption = "Each point stands for the centre of one trial piece of " +
                              map.sheet + ", " + number(map.piece_mm, 0) +
                              " mm square. Its colour says by how many dB the level over " +
                              band_text(results) + " falls if the piece is laid there.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Where sheet helps most", caption);
    const FlatView view(results.panel, kContentLow, {kColumnX - 6.0, kContentHigh.y}, true);
    MapLabels labels;
    view.fill(canvas, results.panel.outlines_mm, kNoPlace);
    view.fill_field(canvas, fields, values, true, {results.panel.outlines_mm}, [&](double value) {
      return scale.of(value);
    });
    for (const KeepOut& zone : results.panel.keep_outs) {
      labels.keep_free_around(view.to_page(zone.outline_mm));
    }
    const BestLabel label = best_label(view, map, results);
    keep_best_free(canvas, view, map, label, labels);
    keep_drive_free(canvas, view, results, labels);
    draw_isolines(canvas, view, fields, values, scale, labels);
    view.draw_rim(canvas);
    view.draw_keep_outs(canvas);
    draw_best(canvas, view, map, label);
    view.draw_drive(canvas, results);
    view.draw_tape(canvas);
    draw_column(canvas, map, view, scale, inset);
    draw_woofer_key(canvas, results, {kColumnX, 88.5}, kColumnWidth);
  });
}

}  // namespace calmplate::picture
