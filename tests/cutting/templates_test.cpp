// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/templates.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <regex>

#include "base/units.hpp"
#include "cutting/laying_sheet.hpp"
#include "cutting/marks.hpp"
#include "cutting/paper.hpp"
#include "cutting/plan_drawing.hpp"
#include "cutting/random_cuts.hpp"
#include "support/test_meshes.hpp"

namespace calmplate {
namespace {

using Catch::Contains;
using Catch::WithinAbs;
using Eigen::Vector2d;

constexpr double kDots = 300.0;
/// Two tenths of a millimetre: no steel rule reads finer.
constexpr double kTrue_mm = 0.2;

panel::Panel plate() {
  return panel::make_panel(testing::flat_plate(1.0, 0.6, 20, 12), {}, "plate");
}

cutting::LaidPart laid(const panel::Panel& panel,
                       const panel::Polygon& outline,
                       bool outer = false) {
  cutting::Stock stock;
  stock.sheet = "butyl";
  stock.width_m = stock.length_m = 2.0;
  cutting::PieceToCut piece;
  piece.layout = "partial";
  piece.number = 3;
  piece.sheets = {"butyl"};
  piece.outer_face = outer;
  piece.region.outline = outline;
  const cutting::Part part = cutting::parts_of(panel, piece, {stock}, false).front();
  return {part, cutting::position_of(panel, part), cutting::flatness_of(panel, part), "sheet 1"};
}

std::string tiles(const cutting::LaidPart& part, const std::string& paper) {
  return cutting::pdf_bytes(
      cutting::template_tiles({part}, cutting::paper_named(paper), "A job (invented)"),
      "Templates");
}

/// Length of the check ruler: between the middles of the only two marks of 5 mm, in a row that
/// passes above the others. Looked for upwards from the page's foot.
double ruler_mm(const testing::Print& print, double height_mm, double lowest_mm) {
  for (double y = height_mm - 6.0; y > height_mm - lowest_mm; y -= 0.05) {
    // The foot line of the ruler: one long stroke. The marks stand on it.
    double dark = 0.0;
    for (int x = 0; x < print.width; ++x)
      dark += print.at(x, static_cast<int>(y * print.dots_per_mm)) < 110 ? 1.0 : 0.0;
    if (dark / print.dots_per_mm < 90.0) continue;
    const auto marks = testing::strokes_in_row(print, y - 4.4, 0.0, 140.0);
    return marks.size() >= 2 ? marks[1] - marks[0] : 0.0;
  }
  return 0.0;
}

}  // namespace

// Source: [derived] true scale, measured on the printed page. Tolerance: 0.2 mm, as a fitter
// measures.
TEST_CASE("on paper 100 mm are 100 mm and a piece has its size", "[cutting][derived]") {
  const panel::Panel panel = plate();
  for (const std::string paper : {"A4", "Letter"}) {
    CAPTURE(paper);
    const double height = paper == "A4" ? 297.0 : 279.4, width = paper == "A4" ? 210.0 : 215.9;
    const std::string pdf =
        tiles(laid(panel, panel::rectangle({0.4, 0.3}, {0.15, 0.12}, 0.0)), paper);
    const testing::Print print = testing::printed(pdf, 1, kDots);
    CHECK_THAT(print.width / print.dots_per_mm, WithinAbs(width, 0.15));
    CHECK_THAT(print.height / print.dots_per_mm, WithinAbs(height, 0.15));
    CHECK_THAT(ruler_mm(print, height, 25.0), WithinAbs(100.0, kTrue_mm));
    // A row and a column through the piece where nothing is written: its edges are the outermost
    // strokes.
    const auto row = testing::strokes_in_row(print, 0.5 * height - 30.0, 3.0, width - 3.0);
    REQUIRE(row.size() >= 2);
    CHECK_THAT(row.back() - row.front(), WithinAbs(150.0, kTrue_mm));
    const auto column = testing::strokes_in_column(print, 0.35 * width, 20.0, height - 30.0);
    REQUIRE(column.size() >= 2);
    CHECK_THAT(column.back() - column.front(), WithinAbs(120.0, kTrue_mm));
  }
}

// Source: [derived] as above; a part's edges lie on two pages that overlap by 10 mm.
TEST_CASE("pages of one piece join to its size", "[cutting][derived]") {
  const panel::Panel panel = plate();
  const auto part = laid(panel, panel::rectangle({0.5, 0.3}, {0.32, 0.1}, 0.0));
  const auto pages = cutting::template_tiles({part}, cutting::paper_named("A4"), "A job");
  REQUIRE(pages.size() == 2);
  const std::string pdf = cutting::pdf_bytes(pages, "Templates");
  const testing::Print first = testing::printed(pdf, 1, kDots),
                       second = testing::printed(pdf, 2, kDots);
  // One end of the piece is on each; a row above the middle, where nothing is written.
  const double y = 7.0 + 11.0 + 0.5 * (297.0 - 2.0 * 7.0 - 11.0 - 17.0) - 40.0;
  const auto begin = testing::strokes_in_row(first, y, 3.0, 207.0);
  const auto end = testing::strokes_in_row(second, y, 3.0, 207.0);
  CAPTURE(begin, end);
  REQUIRE_FALSE(begin.empty());
  REQUIRE_FALSE(end.empty());
  const double area = 210.0 - 2.0 * 7.0;
  CHECK_THAT(end.back() + area - cutting::kOverlap_mm - begin.front(), WithinAbs(320.0, kTrue_mm));
  const std::string words = testing::words_of(pdf);
  CHECK_THAT(words, Contains("page 1 of 2") && Contains("page 2 of 2"));
  CHECK_THAT(ruler_mm(second, 297.0, 25.0), WithinAbs(100.0, kTrue_mm));
}

// Source: [derived] as above.
TEST_CASE("the whole face on one page is at full size", "[cutting][derived]") {
  const panel::Panel panel = plate();
  const auto part = laid(panel, panel::rectangle({0.3, 0.2}, {0.25, 0.16}, 0.0));
  const auto page = cutting::long_page(panel, {part}, {}, false, "A job (invented)");
  const std::string pdf = cutting::pdf_bytes({page}, "Whole face");
  const testing::Print print = testing::printed(pdf, 1, 150.0);
  CHECK_THAT(ruler_mm(print, page.height_mm, 60.0), WithinAbs(100.0, kTrue_mm));
  // The rim, in a row well above the piece: 1000 mm from side to side.
  const auto row = testing::strokes_in_row(print, 30.0 + 130.0, 22.0, page.width_mm - 22.0);
  REQUIRE(row.size() >= 2);
  CHECK_THAT(row.back() - row.front(), WithinAbs(1000.0, kTrue_mm));
  // Seen from inside, a piece near the left of the map stands on the right.
  const auto at_piece =
      testing::strokes_in_row(print, 30.0 + 600.0 - 240.0, 40.0, page.width_mm - 40.0);
  REQUIRE(at_piece.size() >= 2);
  CHECK(at_piece.front() > 0.5 * page.width_mm);
  const std::string words = testing::words_of(pdf);
  CHECK_THAT(words, Contains("inner face, seen from inside the car"));
  CHECK_THAT(words, Contains("120 mm to bottom") && Contains("175 mm to left"));
}

// Source: [derived] sizes as written in the file.
TEST_CASE("an SVG template says its size in mm and draws the piece in mm", "[cutting][derived]") {
  const panel::Panel panel = plate();
  const auto part = laid(panel, panel::rectangle({0.4, 0.3}, {0.25, 0.16}, 0.0));
  const auto page = cutting::template_page(part, "A job");
  const std::string svg = cutting::svg_bytes(page);
  std::smatch m;
  REQUIRE(std::regex_search(
      svg,
      m,
      std::regex(
          "width=\"([0-9.]+)mm\" height=\"([0-9.]+)mm\" viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"")));
  CHECK_THAT(std::stod(m[1]), WithinAbs(page.width_mm, 0.01));
  CHECK_THAT(std::stod(m[2]), WithinAbs(page.height_mm, 0.01));
  CHECK_THAT(std::stod(m[3]), WithinAbs(page.width_mm, 0.01));
  CHECK_THAT(std::stod(m[4]), WithinAbs(page.height_mm, 0.01));
  // Every stroked path that is not moved or scaled: is the piece among them, and the ruler?
  bool piece = false, ruler = false;
  const std::regex path("stroke-opacity[^>]* d=\"([^\"]*)\"/>"), pair("[ML] ([0-9.]+) ([0-9.]+)");
  for (std::sregex_iterator p(svg.begin(), svg.end(), path), end; p != end; ++p) {
    const std::string d = (*p)[1];
    Vector2d low(1e9, 1e9), high(-1e9, -1e9);
    int points = 0;
    for (std::sregex_iterator q(d.begin(), d.end(), pair); q != end; ++q, ++points) {
      const Vector2d at(std::stod((*q)[1]), std::stod((*q)[2]));
      low = low.cwiseMin(at);
      high = high.cwiseMax(at);
    }
    const Vector2d size = high - low;
    piece = piece || (points >= 4 && (size - Vector2d(250.0, 160.0)).norm() < 0.01);
    ruler = ruler || (points == 2 && (size - Vector2d(100.0, 0.0)).norm() < 0.01);
  }
  CHECK(piece);
  CHECK(ruler);
}

TEST_CASE("every page carries the ruler's words, the piece's number and its place", "[cutting]") {
  const panel::Panel panel = plate();
  const auto part = laid(panel, panel::rectangle({0.5, 0.3}, {0.5, 0.4}, 0.0));
  const std::string pdf = tiles(part, "A4");
  const std::string words = testing::words_of(pdf);
  int pages = 0;
  for (std::size_t from = 0, to; (to = words.find('\f', from)) != std::string::npos;
       from = to + 1) {
    const std::string page = words.substr(from, to - from);
    CHECK_THAT(page,
               Contains("this line must measure 100 mm") && Contains("Piece 3, layout partial"));
    CHECK_THAT(page, Contains("100 mm from bottom") && Contains("250 mm from left"));
    ++pages;
  }
  CHECK(pages == 6);
}

TEST_CASE("the same template gives the same bytes", "[cutting]") {
  const panel::Panel panel = plate();
  const auto part = laid(panel, panel::rectangle({0.4, 0.3}, {0.25, 0.16}, 0.3), true);
  CHECK(tiles(part, "A4") == tiles(part, "A4"));
  CHECK(tiles(part, "A4").find("/CreationDate (20260101000000Z)") != std::string::npos);
}

// Source: [derived] areas of the plan against areas of colour. Tolerance: words and lines cover
// some.
TEST_CASE("the drawn plan shows parts and rests by their areas, and cuts in red",
          "[cutting][derived]") {
  cutting::Stock stock;
  stock.sheet = "sheet";
  stock.length_m = 0.75;
  stock.width_m = 0.5;
  const std::vector<cutting::Part> parts = {testing::plain_part(1, 0.25, 0.16),
                                            testing::plain_part(2, 0.25, 0.16),
                                            testing::plain_part(3, 0.3, 0.2)};
  const auto plan = cutting::make_plan(parts, {stock}, {});
  const auto page = cutting::plan_page(plan, "Cutting plan", "A job");
  const testing::Print print = testing::printed(cutting::pdf_bytes({page}, "Plan"), 1, 100.0, true);
  double part = 0.0, rest = 0.0, red = 0.0;
  for (int y = 0; y < print.height; ++y)
    for (int x = 0; x < print.width; ++x) {
      const int r = print.at(x, y, 0), g = print.at(x, y, 1), b = print.at(x, y, 2);
      part += r > 245 && g > 235 && b > 205 && b < 235 ? 1.0 : 0.0;
      rest += r > 220 && r < 238 && g > 235 && b > 215 && b < 235 ? 1.0 : 0.0;
      red += r > 150 && g < 80 && b < 80 ? 1.0 : 0.0;
    }
  const auto& area = plan.sheets[0].area;
  REQUIRE(area.offcuts > 0.0);
  CHECK_THAT(part / rest, Catch::WithinRel(area.parts / area.offcuts, 0.12));
  CHECK(red > 500.0);
  const std::string words = testing::words_of(cutting::pdf_bytes({page}, "Plan"));
  CHECK_THAT(words, Contains("sheet 1 of 1, 500 x 750 mm") && Contains("left over"));
}

TEST_CASE("a long laying sheet goes on over pages and loses no row", "[cutting]") {
  const panel::Panel panel = plate();
  cutting::LayingWords words;
  words.title = "Laying sheet";
  words.job = "A job (invented)";
  words.facts = {"One fact."};
  words.head = {"piece", "corner A"};
  for (int i = 1; i <= 80; ++i)
    words.rows.push_back({"p" + std::to_string(i) + "x", "10 mm from bottom and 20 mm from left"});
  words.steps = {"First step.", "Last step."};
  words.warnings = {"A warning."};
  words.cautions = {"A caution."};
  const auto part = laid(panel, panel::rectangle({0.4, 0.3}, {0.25, 0.16}, 0.0));
  const auto pages = cutting::laying_pages(words, panel, {part}, {}, cutting::paper_named("A4"));
  CHECK(pages.size() >= 3);
  const std::string text = testing::words_of(cutting::pdf_bytes(pages, "Laying sheet"));
  for (int i = 1; i <= 80; ++i) CHECK_THAT(text, Contains("p" + std::to_string(i) + "x"));
  // The table's head stands on every page that has rows of it, and never without one.
  for (std::size_t from = 0, to; (to = text.find('\f', from)) != std::string::npos; from = to + 1) {
    const std::string page = text.substr(from, to - from);
    CHECK((page.find("corner A") != std::string::npos) ==
          (page.find("mm from left") != std::string::npos));
  }
  CHECK_THAT(text, Contains("First step.") && Contains("Last step.") && Contains("A caution."));
  CHECK_THAT(text, Contains("A warning.") && Contains("page 1 of " + std::to_string(pages.size())));
}

TEST_CASE("paper of another name is refused", "[cutting]") {
  CHECK_THROWS_AS(cutting::paper_named("A5"), std::invalid_argument);
}

}  // namespace calmplate
