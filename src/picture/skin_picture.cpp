// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "picture/canvas.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/sheet_colours.hpp"
#include "picture/skin_scene.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr std::size_t kMostLayouts = 5;
constexpr double kHeadingMm = 12.0;
constexpr double kGapMm = 5.0;
constexpr double kLegendMm = 8.0;
const Colour kSkin = grey(0.84);

struct View {
  const Layout* layout = nullptr;  ///< none: the bare skin
  Side side = Side::outside;
  Point low;
  Point high;
  RgbaImage image;
};

Side side_of(const Layout& layout) {
  const auto outer = std::count_if(
      layout.pieces.begin(), layout.pieces.end(), [](const Piece& p) { return p.face == "outer"; });
  return 2 * std::size_t(outer) > layout.pieces.size() ? Side::outside : Side::inside;
}

std::vector<View> views_of(const Results& results) {
  std::vector<View> views(1);
  for (const Layout* layout : treated_layouts(results)) {
    if (views.size() > kMostLayouts) break;
    views.push_back({layout, side_of(*layout), {}, {}, {}});
  }
  const std::size_t columns = views.size() == 1 ? 1 : views.size() <= 4 ? 2 : 3;
  const std::size_t rows = (views.size() + columns - 1) / columns;
  const double width = (kContentHigh.x - kContentLow.x + kGapMm) / double(columns);
  const double height = (kContentHigh.y - kContentLow.y - kLegendMm) / double(rows);
  for (std::size_t k = 0; k < views.size(); ++k) {
    views[k].low = {kContentLow.x + width * double(k % columns),
                    kContentHigh.y - height * double(k / columns + 1)};
    views[k].high = {views[k].low.x + width - kGapMm, views[k].low.y + height - kHeadingMm};
  }
  return views;
}

void render(RenderWindow& window,
            const Results& results,
            const ResultFields& fields,
            const SheetColours& colours,
            View& view) {
  SkinPaint paint(fields, kSkin);
  if (view.layout != nullptr) {
    for (const Piece& piece : view.layout->pieces) {
      paint.fill(piece.outlines_mm, colours.fill(piece.sheet));
      paint.outline(piece.outlines_mm, 3.0, kBlack);
    }
  }
  for (const KeepOut& zone : results.panel.keep_outs) {
    paint.outline({zone.outline_mm}, 2.0, grey(0.35));
  }
  view.image = render_skin(window,
                           fields,
                           paint,
                           view.side,
                           int((view.high.x - view.low.x) * kPxPerMm),
                           int((view.high.y - view.low.y) * kPxPerMm));
}

void draw_view(Canvas& canvas, const View& view) {
  canvas.image(int(view.low.x * kPxPerMm), int(view.low.y * kPxPerMm), view.image);
  const Type heading{12.0, true, kBlack, Across::left, Upright::top, 0.0};
  const Type words{9.0, false, kBlack, Across::left, Upright::top, 0.0};
  const double width = view.high.x - view.low.x;
  const std::string from = view.side == Side::outside ? "from outside" : "from inside";
  const double y = view.high.y + kHeadingMm - 1.0;
  if (view.layout == nullptr) {
    canvas.text({view.low.x, y}, "the bare skin", heading);
    canvas.text({view.low.x, y - 5.8}, from, words);
    return;
  }
  canvas.text({view.low.x, y}, canvas.fitted(view.layout->name, heading, width), heading);
  const std::string figures = from + ": " + number(100.0 * view.layout->share, 0) + " %, " +
                              number(view.layout->mass_kg, 2) + " kg, " +
                              reduction_text(view.layout->band_reduction_db);
  canvas.text({view.low.x, y - 5.8}, canvas.fitted(figures, words, width), words);
}

void draw_legend(Canvas& canvas, const SheetColours& colours) {
  double x = kContentLow.x;
  const double y = kContentLow.y + 2.0;
  const Type type{9.5, false, kBlack, Across::left, Upright::middle, 0.0};
  for (const std::string& name : colours.names()) {
    const double width = canvas.text_size(name, type).first;
    if (x + 10.0 + width > kContentHigh.x) break;
    canvas.rectangle({x, y - 2.0}, {x + 7.0, y + 2.0}, colours.fill(name));
    canvas.frame({x, y - 2.0}, {x + 7.0, y + 2.0}, {0.25, kBlack, {}});
    canvas.text({x + 9.0, y}, name, type);
    x += 16.0 + width;
  }
}

}  // namespace

RgbaImage draw_skin(RenderWindow& window, const Results& results, const ResultFields& fields) {
  const SheetColours colours(results);
  std::vector<View> views = views_of(results);
  for (View& view : views) render(window, results, fields, colours, view);
  std::string caption =
      "The skin in space, lit from the upper left, with the pieces of each layout on the face that "
      "they are laid on: share of the skin covered, mass, and level over the band against bare.";
  const std::size_t left_out = treated_layouts(results).size() + 1 - views.size();
  if (left_out > 0) caption += " Not shown here: " + std::to_string(left_out) + " more layouts.";
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas, results, "The skin and its sheet", caption);
    for (const View& view : views) draw_view(canvas, view);
    draw_legend(canvas, colours);
  });
}

}  // namespace calmplate::picture
