// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <limits>

#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

// The strip of the page that is kept, mm; large type, because the picture is shown small.
constexpr double kWidth = 150.0;
constexpr double kMargin = 4.0;
constexpr double kScaleHeight = 5.0;
constexpr double kScaleY = 16.0;
constexpr double kFoot = kScaleY + kScaleHeight + 4.0;  ///< below the map
constexpr double kTallest = 120.0;
constexpr double kMostShown_db = 25.0;

std::string field_name(const Layout& layout) { return "velocity_" + layout.name; }

/// One scale for the bare skin and all layouts: from the loudest place of all down, at most
/// kMostShown_db.
Ticks common_scale(const Results& results, const ResultFields& fields) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Layout& layout : results.layouts) {
    if (!fields.has_point_field(field_name(layout))) continue;
    for (const double v : fields.point_field(field_name(layout))) {
      if (!std::isfinite(v)) continue;
      low = std::min(low, v);
      high = std::max(high, v);
    }
  }
  if (low > high) return round_ticks(0.0, 1.0, 5);
  return round_ticks(std::max(low, high - kMostShown_db), high, 6);
}

void draw_scale(Canvas& canvas,
                const Results& results,
                const Ticks& ticks,
                const FlatView& view,
                const std::function<Colour(double)>& colour) {
  const double from = view.low().x, to = view.high().x;
  constexpr int kSteps = 160;
  for (int k = 0; k < kSteps; ++k) {
    const double a = from + (to - from) * k / kSteps, b = from + (to - from) * (k + 1) / kSteps;
    const double value =
        ticks.at.front() + (ticks.at.back() - ticks.at.front()) * (k + 0.5) / kSteps;
    canvas.rectangle({a, kScaleY}, {b, kScaleY + kScaleHeight}, colour(value));
  }
  canvas.frame({from, kScaleY}, {to, kScaleY + kScaleHeight}, {0.3, kBlack, {}});
  const Type type{13.0, false, kBlack, Across::middle, Upright::top, 0.0};
  for (const double tick : ticks.at) {
    const double x =
        from + (to - from) * (tick - ticks.at.front()) / (ticks.at.back() - ticks.at.front());
    canvas.line({{x, kScaleY - 1.0}, {x, kScaleY}}, {0.3, kBlack, {}});
    canvas.text({x, kScaleY - 1.6}, tick_label(tick, ticks.step), type);
  }
  canvas.text({0.5 * (from + to), kScaleY - 8.0}, results.level_unit, type);
}

/// Height of the strip that is kept: as the skin asks for.
double strip_height(const PanelSheet& panel) {
  const double tall = (kWidth - 2.0 * kMargin) * panel.height_mm / std::max(panel.width_mm, 1.0);
  return kFoot + std::min(std::max(tall, 10.0), kTallest) + 2.0;
}

/// The lower left part of a page. The page's rows run upwards from its foot.
RgbaImage cropped(const RgbaImage& page, double height_mm) {
  RgbaImage out;
  out.width = int(kWidth * kPxPerMm);
  out.height = int(height_mm * kPxPerMm);
  for (int j = 0; j < out.height; ++j) {
    const auto row = page.bytes.begin() + std::ptrdiff_t(4) * j * page.width;
    out.bytes.insert(out.bytes.end(), row, row + std::ptrdiff_t(4) * out.width);
  }
  return out;
}

}  // namespace

bool has_velocity(const ResultFields& fields, const Layout& layout) {
  return fields.has_point_field(field_name(layout));
}

RgbaImage draw_velocity(RenderWindow& window,
                        const Results& results,
                        const ResultFields& fields,
                        const Layout& layout) {
  const Ticks ticks = common_scale(results, fields);
  // Where the rim is held nothing moves and the level has no lower end: it stops at the scale's.
  std::vector<double> values = fields.point_field(field_name(layout));
  for (double& v : values) v = v > ticks.at.front() ? v : ticks.at.front();
  const auto colour = [&](double v) {
    return ColourScale::sequential().at((v - ticks.at.front()) /
                                        (ticks.at.back() - ticks.at.front()));
  };
  const double height = strip_height(results.panel);
  const RgbaImage page = window.draw_page([&](Canvas& canvas) {
    const FlatView view(results.panel, {kMargin, kFoot}, {kWidth - kMargin, height - 2.0}, false);
    view.fill_field(canvas, fields, values, true, {results.panel.outlines_mm}, colour);
    for (const Piece& piece : layout.pieces) {
      for (const Outline& outline : piece.outlines_mm) {
        canvas.closed_line(view.to_page(outline), {1.1, kWhite, {}});
        canvas.closed_line(view.to_page(outline), {0.5, kBlack, {}});
      }
    }
    view.draw_rim(canvas, 0.7);
    draw_scale(canvas, results, ticks, view, colour);
  });
  return cropped(page, height);
}

}  // namespace calmplate::picture
