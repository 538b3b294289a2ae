// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/plan_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "cutting/marks.hpp"

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;
using Points = std::vector<Vector2d>;
using Lines = std::vector<std::pair<std::string, bool>>;  ///< words, bold

constexpr double kMargin = 12.0, kGutter = 16.0, kHead = 24.0;
constexpr double kCaption = 9.0;    ///< above each stock, mm
constexpr double kScaleRoom = 9.0;  ///< below each, for its length
constexpr double kSideRoom = 8.0;   ///< left of each, for its width
constexpr double kTallest = 190.0;  ///< height of the tallest drawn stock

/// One piece of stock on the page.
struct Block {
  const SheetPlan* sheet = nullptr;
  const StockPlan* stock = nullptr;
  double shown_m = 0.0;                ///< length that is drawn; a roll is broken off
  Vector2d corner = Vector2d::Zero();  ///< lower left of the drawn stock on the page
};

struct Sheetwise {
  CutPlan plan;
  std::string title, note;
  std::vector<Block> blocks;
  double mm_per_m = 0.0;
  double width_mm = 0.0, height_mm = 0.0;
};

double shown_length(const StockPlan& stock) {
  if (stock.kind != StockKind::roll) return stock.length_m;
  double reach = 0.0;
  for (const PlacedPart& p : stock.parts) reach = std::max(reach, p.box.x_m + p.box.w_m);
  return std::min(stock.length_m, reach + std::max(0.1, 0.15 * reach));
}

std::string caption_of(const Block& block) {
  const StockPlan& stock = *block.stock;
  const std::string size = mm_text(stock.width_m) + " x " + mm_text(stock.length_m) + " mm";
  const std::string number = std::to_string(stock.number);
  if (stock.kind == StockKind::offcut)
    return block.sheet->sheet + ": offcut " + number + " from the shelf, " + size;
  return block.sheet->sheet + ": " + (stock.kind == StockKind::roll ? "roll " : "sheet ") + number +
         " of " + std::to_string(block.sheet->bought) + ", " + size;
}

/// Words in the middle of a box, as large as fits, upright if the box is tall.
void words_in_box(
    Pen& pen, const Vector2d& low, const Vector2d& size, const Lines& lines, double largest) {
  const bool tall = size.y() > 1.3 * size.x();
  const double along = tall ? size.y() : size.x(), across = tall ? size.x() : size.y();
  const auto count = static_cast<double>(lines.size());
  double letter = std::min(largest, 0.85 * across / (1.25 * count));
  for (const auto& [words, bold] : lines)
    letter = std::min(letter, 0.88 * along / std::max(1e-9, text_width(words, 1.0, bold)));
  if (letter < 1.2) return;
  const Vector2d middle = low + 0.5 * size;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const double down =
        1.25 * letter * (static_cast<double>(i) - 0.5 * (count - 1.0)) + 0.35 * letter;
    pen.text(middle + (tall ? Vector2d(down, 0.0) : Vector2d(0.0, down)),
             lines[i].first,
             letter,
             Anchor::middle,
             lines[i].second,
             tall ? -0.5 * base::kPi : 0.0);
  }
}

class StockDrawing {
 public:
  StockDrawing(Pen& pen, const Sheetwise& page, const Block& block)
      : pen_(pen), page_(page), block_(block), scale_(page.mm_per_m) {}

  void draw() {
    pen_.grey(0.0);
    pen_.text(upper_left() - Vector2d(0.0, 3.0), caption_of(block_), 3.8, Anchor::left, true);
    for (const Box& box : block_.stock->scrap) draw_scrap(box);
    for (std::size_t i = 0; i < block_.stock->offcuts.size(); ++i)
      draw_offcut(block_.stock->offcuts[i]);
    for (const PlacedPart& placed : block_.stock->parts) draw_placed(placed);
    draw_border();
    for (const Cut& cut : block_.stock->cuts) draw_cut(cut);
    for (const Cut& cut : block_.stock->cuts) draw_cut_number(cut);
  }

 private:
  Vector2d at(double x_m, double y_m) const {
    return block_.corner + scale_ * Vector2d(std::min(x_m, block_.shown_m), -y_m);
  }
  Vector2d upper_left() const { return at(0.0, block_.stock->width_m); }
  Vector2d upper_left(const Box& b) const { return at(b.x_m, b.y_m + b.h_m); }
  Vector2d size(const Box& b) const { return at(b.x_m + b.w_m, b.y_m) - upper_left(b); }
  Points corners(const Box& b) const {
    return {at(b.x_m, b.y_m),
            at(b.x_m + b.w_m, b.y_m),
            at(b.x_m + b.w_m, b.y_m + b.h_m),
            at(b.x_m, b.y_m + b.h_m)};
  }

  void draw_scrap(const Box& box) {
    pen_.grey(0.80);
    pen_.fill({corners(box)});
    pen_.grey(0.45);
    pen_.width(0.15);
    pen_.hatch({corners(box)}, 1.6);
  }

  void draw_offcut(const Box& box) {
    pen_.colour(0.90, 0.95, 0.88);
    pen_.fill({corners(box)});
    pen_.grey(0.0);
    const bool rest = block_.stock->kind == StockKind::roll &&
                      box.x_m + box.w_m >= block_.stock->length_m - 1e-9 &&
                      box.h_m >= block_.stock->width_m - 1e-9;
    words_in_box(pen_,
                 upper_left(box),
                 size(box),
                 {{rest ? "rest of the roll" : "left over", false},
                  {mm_text(box.w_m) + " x " + mm_text(box.h_m), false}},
                 3.4);
  }

  void draw_placed(const PlacedPart& placed) {
    const Part& part = page_.plan.parts[static_cast<std::size_t>(placed.part)];
    const View view = paper_view(part, at(placed.box.x_m, placed.box.y_m), placed.turned, scale_);
    std::vector<Points> loops;
    for (const panel::Polygon& loop : part.loops) loops.push_back(view(loop));
    if (!part.rectangular) {
      pen_.grey(0.80);
      pen_.fill({corners(placed.box)});
      pen_.grey(0.45);
      pen_.width(0.15);
      pen_.hatch({corners(placed.box)}, 1.6);
    }
    pen_.colour(0.99, 0.96, 0.86);
    pen_.fill(loops);
    pen_.grey(0.0);
    if (!part.rectangular) {
      pen_.width(0.25);
      for (const Points& loop : loops) pen_.path(loop, true);
    }
    Lines lines = {{part.label, true},
                   {mm_text(placed.box.w_m) + " x " + mm_text(placed.box.h_m), false}};
    if (page_.plan.layouts.size() > 1) lines.push_back({part.layout, false});
    if (part.rectangular) {
      words_in_box(pen_, upper_left(placed.box), size(placed.box), lines, 6.0);
      return;
    }
    const LabelPlace place = label_place(part);
    const Vector2d room = scale_ * place.clear_m * Vector2d(1.8, 1.2);
    if (room.x() < 16.0) lines.resize(1);  // the number alone, but large enough to read
    words_in_box(pen_, view(place.at) - 0.5 * room, room, lines, 6.0);
  }

  void draw_border() {
    const StockPlan& stock = *block_.stock;
    const Vector2d low = at(0.0, 0.0), high = at(block_.shown_m, stock.width_m);
    pen_.grey(0.0);
    pen_.width(0.6);
    if (block_.shown_m < stock.length_m) {
      pen_.path({{high.x(), high.y()}, {low.x(), high.y()}, low, {high.x(), low.y()}}, false);
      // The roll goes on.
      Points zigzag;
      for (int i = 0; i <= 12; ++i)
        zigzag.push_back(
            {high.x() + (i % 2 == 0 ? 0.0 : 3.0), high.y() + (low.y() - high.y()) * i / 12.0});
      pen_.width(0.3);
      pen_.path(zigzag, false);
    } else {
      pen_.rectangle({low.x(), high.y()}, {high.x() - low.x(), low.y() - high.y()});
    }
    pen_.text({0.5 * (low.x() + high.x()), low.y() + 6.5},
              mm_text(stock.length_m) + " mm" +
                  (block_.sheet->direction == Direction::none ? "" : ", the sheet's direction"),
              3.2,
              Anchor::middle);
    pen_.text({low.x() - 3.0, 0.5 * (low.y() + high.y())},
              mm_text(stock.width_m) + " mm",
              3.2,
              Anchor::middle,
              false,
              -0.5 * base::kPi);
  }

  Vector2d start(const Cut& cut) const {
    return cut.axis == CutAxis::x ? at(cut.at_m, cut.from_m) : at(cut.from_m, cut.at_m);
  }
  Vector2d end(const Cut& cut) const {
    return cut.axis == CutAxis::x ? at(cut.at_m, cut.to_m) : at(cut.to_m, cut.at_m);
  }

  void draw_cut(const Cut& cut) {
    pen_.colour(0.75, 0.1, 0.1);
    pen_.width(0.5);
    pen_.line(start(cut), end(cut));
  }

  /// Number in a disc near the cut's end, its distance from the edge beside it.
  void draw_cut_number(const Cut& cut) {
    const Vector2d from = start(cut), to = end(cut);
    const double length = (to - from).norm();
    const Vector2d along = (to - from) / std::max(length, 1e-9);
    const double radius = std::clamp(0.1 * length, 1.1, 2.4);
    const Vector2d centre = from + 1.9 * radius * along;
    pen_.grey(1.0);
    pen_.disc(centre, radius);
    pen_.colour(0.75, 0.1, 0.1);
    pen_.width(0.3);
    pen_.circle(centre, radius);
    const std::string number = std::to_string(cut.number);
    const double letter = std::min(1.35 * radius, 1.7 * radius / text_width(number, 1.0, true));
    pen_.text(centre + Vector2d(0.0, 0.36 * letter), number, letter, Anchor::middle, true);
    const std::string words = mm_text(cut.on_rest_m);
    const double letters = 2.6;
    if (length < 3.0 * radius + 2.0 + text_width(words, letters)) return;
    const Vector2d place = centre + (radius + 1.0) * along;
    if (cut.axis == CutAxis::x)
      pen_.text(place + Vector2d(-0.7, 0.0), words, letters, Anchor::left, false, -0.5 * base::kPi);
    else
      pen_.text(place + Vector2d(0.0, -0.7), words, letters);
  }

  Pen& pen_;
  const Sheetwise& page_;
  const Block& block_;
  double scale_;
};

/// Puts the stock in one or two columns, row by row.
void arrange(Sheetwise& page) {
  double longest = 0.0, widest = 0.0;
  for (const SheetPlan& sheet : page.plan.sheets)
    for (const StockPlan& stock : sheet.stocks) {
      page.blocks.push_back({&sheet, &stock, shown_length(stock), Vector2d::Zero()});
      longest = std::max(longest, page.blocks.back().shown_m);
      widest = std::max(widest, stock.width_m);
    }
  const std::size_t columns = page.blocks.size() > 1 ? 2 : 1;
  const double column = columns == 1 ? 260.0 : 180.0;
  page.mm_per_m = std::min(column / longest, kTallest / widest);
  const double pitch = std::max(120.0, longest * page.mm_per_m) + kSideRoom + kGutter;
  double top = kMargin + kHead;
  for (std::size_t i = 0; i < page.blocks.size(); i += columns) {
    double tall = 0.0;
    for (std::size_t k = i; k < std::min(i + columns, page.blocks.size()); ++k)
      tall = std::max(tall, page.blocks[k].stock->width_m * page.mm_per_m);
    for (std::size_t k = i; k < std::min(i + columns, page.blocks.size()); ++k)
      page.blocks[k].corner = {kMargin + kSideRoom + static_cast<double>(k - i) * pitch,
                               top + kCaption + tall};
    top += kCaption + tall + kScaleRoom + 4.0;
  }
  const double words = std::max(text_width(page.title, 6.0, true), text_width(page.note, 3.4));
  page.width_mm = std::max(2.0 * kMargin + words,
                           2.0 * kMargin + static_cast<double>(columns) * pitch - kGutter);
  page.height_mm = top + kMargin;
}

}  // namespace

PageDrawing plan_page(const CutPlan& plan, const std::string& title, const std::string& note) {
  auto page = std::make_shared<Sheetwise>();
  page->plan = plan;
  page->title = title;
  page->note = note;
  arrange(*page);
  return {
      page->width_mm, page->height_mm, [page](Pen& pen) {
        pen.text({kMargin, kMargin + 6.0}, page->title, 6.0, Anchor::left, true);
        pen.text({kMargin, kMargin + 12.5}, page->note, 3.4);
        pen.text(
            {kMargin, kMargin + 18.0},
            "Seen from the side that is seen when laid. Red: cuts in the order of their numbers, "
            "with mm from the edge they are measured from. Hatched: scrap.",
            3.0);
        for (const Block& block : page->blocks) StockDrawing(pen, *page, block).draw();
      }};
}

}  // namespace calmplate::cutting
