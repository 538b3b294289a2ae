// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "picture/canvas.hpp"
#include "picture/flat_view.hpp"
#include "picture/map_labels.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/scale_bar.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kColumnX = 232.0;

/// The factor that brings a value's size to between 1 and 1000, and its unit with a prefix.
struct Prefix {
  double factor = 1.0;
  std::string letters;
};

Prefix prefix_for(double largest) {
  const struct {
    double from;
    double factor;
    const char* letters;
  } choices[] = {{1e3, 1e-3, "k"},
                 {1.0, 1.0, ""},
                 {1e-3, 1e3, "m"},
                 {1e-6, 1e6, "µ"},
                 {1e-9, 1e9, "n"},
                 {1e-12, 1e12, "p"}};
  for (const auto& c : choices) {
    if (largest >= c.from) return {c.factor, c.letters};
  }
  return {};
}

std::vector<Outlines> areas_of(const Layout& layout) {
  std::vector<Outlines> areas;
  for (const Piece& piece : layout.pieces) areas.push_back(piece.outlines_mm);
  return areas;
}

/// The largest value but for the highest one in two hundred: one hot triangle at a corner must not
/// take the whole scale.
double top_of_scale(const std::vector<double>& values) {
  std::vector<double> positive;
  for (const double v : values) {
    if (v > 0.0 && std::isfinite(v)) positive.push_back(v);
  }
  if (positive.empty()) return 0.0;
  std::sort(positive.begin(), positive.end());
  return positive[positive.size() - 1 - positive.size() / 200];
}

/// At each point the mean of the triangles beside it that carry sheet: a triangle's own value jumps
/// from one to the next on a coarse mesh. Zero where none does.
std::vector<double> at_points(const ResultFields& fields, const std::vector<double>& cells) {
  std::vector<double> sum(fields.flat_mm.size(), 0.0);
  std::vector<int> count(fields.flat_mm.size(), 0);
  for (std::size_t t = 0; t < cells.size(); ++t) {
    if (!(cells[t] > 0.0) || !std::isfinite(cells[t])) continue;
    for (const int p : fields.triangles[t]) {
      sum[std::size_t(p)] += cells[t];
      ++count[std::size_t(p)];
    }
  }
  for (std::size_t p = 0; p < sum.size(); ++p) {
    if (count[p] > 0) sum[p] /= count[p];
  }
  return sum;
}

void draw_column(Canvas& canvas,
                 const FlatView& view,
                 const Layout& layout,
                 const Ticks& ticks,
                 const std::string& quantity,
                 double top) {
  ScaleBar bar;
  bar.low = {kColumnX, 84.0};
  bar.height_mm = 82.0;
  bar.from = 0.0;
  bar.to = ticks.at.back();
  bar.ticks = ticks.at;
  for (const double tick : ticks.at) bar.labels.push_back(tick_label(tick, ticks.step));
  bar.heading = quantity;
  bar.heading_width_mm = 52.0;
  draw_scale_bar(canvas, bar, [&](double v) { return ColourScale::sequential().at(v / top); });
  const Type words{10.0, false, kBlack, Across::left, Upright::top, 0.0};
  canvas.text_block({kColumnX, 76.0},
                    number(layout.area_m2, 3) + " m² of sheet, " + number(100.0 * layout.share, 0) +
                        " % of the skin, " + number(layout.mass_kg, 2) + " kg: band level " +
                        reduction_text(layout.band_reduction_db) + " than bare",
                    words,
                    52.0,
                    6);
  draw_ruler(canvas, {kColumnX, 31.5}, view.scale());
}

}  // namespace

std::string working_quantity(const std::string& field, const std::string& prefix) {
  const std::string ending = "_J_per_m2";
  const bool energy = field.size() >= ending.size() &&
                      field.compare(field.size() - ending.size(), ending.size(), ending) == 0;
  return std::string(energy ? "Energy" : "Power") + " turned into heat in the sheet, " + prefix +
         (energy ? "J/m²" : "W/m²");
}

RgbaImage draw_working(RenderWindow& window,
                       const Results& results,
                       const ResultFields& fields,
                       const Layout& layout) {
  const std::vector<double>& raw = fields.cell_field(layout.working_field);
  const double largest = top_of_scale(raw);
  const Prefix prefix = prefix_for(largest);
  const Ticks ticks = round_ticks(0.0, largest > 0.0 ? largest * prefix.factor : 1.0, 6);
  const double top = ticks.at.back();
  std::vector<double> values = at_points(fields, raw);
  for (double& v : values) v *= prefix.factor;
  const auto colour = [&](double v) { return ColourScale::sequential().at(v / top); };
  const std::string quantity = working_quantity(layout.working_field, prefix.letters);
  const std::string caption = "How hard each part of the sheet works over " + band_text(results) +
                              ". Pale parts take most energy out of the skin; sheet in dark parts "
                              "could go to a better place. Grey: no sheet.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "Where the sheet works: layout " + layout.name, caption);
    const FlatView view(results.panel, kContentLow, {kColumnX - 6.0, kContentHigh.y}, true);
    view.fill(canvas, results.panel.outlines_mm, grey(0.90));
    view.fill_field(canvas, fields, values, true, areas_of(layout), colour);
    MapLabels labels;
    for (const Piece& piece : layout.pieces) {
      for (const Outline& outline : piece.outlines_mm) {
        canvas.closed_line(view.to_page(outline), {0.4, kBlack, {}});
      }
    }
    view.draw_rim(canvas);
    view.draw_keep_outs(canvas);
    const Type type{10.0, true, kBlack, Across::left, Upright::top, 0.0};
    for (const Piece& piece : layout.pieces) {
      const Outline first = view.to_page(piece.outlines_mm.front());
      const auto corner =
          std::min_element(first.begin(), first.end(), [](const Point& a, const Point& b) {
            return a.x - a.y < b.x - b.y;
          });
      labels.place(canvas, {corner->x + 1.4, corner->y - 1.2}, std::to_string(piece.number), type);
    }
    view.draw_drive(canvas, results);
    view.draw_tape(canvas);
    draw_column(canvas, view, layout, ticks, quantity, top);
    draw_woofer_key(canvas, results, {kColumnX, 52.0}, 52.0);
  });
}

}  // namespace calmplate::picture
