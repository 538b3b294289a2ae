// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

#include "cutting/marks.hpp"
#include "cutting/templates.hpp"

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;

constexpr double kEdge = 7.0;    ///< most printers leave this much white
constexpr double kHead = 11.0;   ///< words above the template
constexpr double kFoot = 17.0;   ///< ruler and words below it
constexpr double kBorder = 2.0;  ///< white round the part

/// How one part is spread over pages.
struct Spread {
  bool quarter_turn = false;
  int across = 1, down = 1;
  Vector2d size = Vector2d::Zero();  ///< of the part with its border, mm
  int pages() const { return across * down; }
};

int pages_for(double size, double area) {
  if (size <= area + 1e-9) return 1;
  return static_cast<int>(std::ceil((size - kOverlap_mm) / (area - kOverlap_mm) - 1e-9));
}

Vector2d area_of(const Paper& paper) {
  return {paper.width_mm - 2.0 * kEdge, paper.height_mm - 2.0 * kEdge - kHead - kFoot};
}

Spread spread_of(const Part& part, const Vector2d& area) {
  Spread best;
  for (const bool turn : {false, true}) {
    Spread s;
    s.quarter_turn = turn;
    const Vector2d size = 1e3 * part.size_m;
    s.size = (turn ? Vector2d(size.y(), size.x()) : size) + Vector2d::Constant(2.0 * kBorder);
    s.across = pages_for(s.size.x(), area.x());
    s.down = pages_for(s.size.y(), area.y());
    if (!turn || s.pages() < best.pages()) best = s;
  }
  return best;
}

std::string size_words(const LaidPart& laid) {
  const Part& part = laid.part;
  return part.sheet + ", " + mm_text(part.size_m.x()) + " x " + mm_text(part.size_m.y()) + " mm, " +
         face_text(part.outer_face) + ", visible side up";
}

/// The lines under a template: how the corners lie, and how well it lies flat.
std::vector<std::string> foot_words(const LaidPart& laid) {
  std::vector<std::string> lines;
  for (const MarkedCorner* c : {&laid.position.a, &laid.position.b})
    lines.push_back(std::string("Corner ") + c->letter + ": " + corner_text(*c));
  if (!laid.part.outer_face) lines.push_back("Left and right as seen from outside the car.");
  std::string flat =
      "Laid on the skin, lengths differ by up to " + mm_text(laid.flatness.error_m) + " mm";
  if (laid.flatness.lies == LiesFlat::relief_cuts) flat += "; make the relief cuts";
  if (laid.flatness.lies == LiesFlat::warning) flat += ": will not lie flat, see the laying sheet";
  lines.push_back(flat);
  return lines;
}

void draw_head(
    Pen& pen, const LaidPart& laid, const std::string& job, const std::string& page, double width) {
  pen.grey(0.0);
  const std::string title = "Piece " + laid.part.label + ", layout " + laid.part.layout;
  pen.text({kEdge, kEdge + 4.2}, title, 4.4, Anchor::left, true);
  pen.text({width - kEdge, kEdge + 3.2}, page, 3.0, Anchor::right);
  pen.text({kEdge, kEdge + 8.4}, size_words(laid) + "; " + job, 2.6);
}

void draw_foot(Pen& pen, const LaidPart& laid, double width, double height) {
  const double line = height - kEdge - 4.0;
  draw_ruler(pen, {kEdge, line}, false);
  double y = height - kEdge - kFoot + 4.0;
  const double x = kEdge + kRuler_mm + 4.0, room = width - kEdge - x;
  for (const std::string& words : foot_words(laid))
    for (const std::string& part : text_lines(words, 2.4, room)) {
      pen.text({x, y}, part, 2.4);
      y += 2.8;
    }
}

/// Where this page joins its neighbours: a dashed line at each seam with the other page's number.
void draw_seams(
    Pen& pen, const Spread& s, int i, int j, const Vector2d& corner, const Vector2d& area) {
  pen.grey(0.35);
  pen.width(0.2);
  const double half = 0.5 * kOverlap_mm;
  const auto number = [&](int a, int b) { return std::to_string(b * s.across + a + 1); };
  const auto seam =
      [&](bool there, const Vector2d& from, const Vector2d& to, const std::string& page) {
        if (!there) return;
        pen.dash({2.0, 1.5});
        pen.line(from, to);
        pen.dash({});
        const Vector2d along = (to - from).normalized();
        for (const double share : {0.25, 0.75}) {
          const Vector2d at = from + share * (to - from);
          pen.cross(at, 6.0);
          pen.circle(at, 2.0);
        }
        const bool upright = std::abs(along.y()) > 0.5;
        pen.text(from + 0.5 * (to - from) + (upright ? Vector2d(-0.8, 0.0) : Vector2d(0.0, -0.8)),
                 "lay on the same line of page " + page,
                 2.4,
                 Anchor::middle,
                 false,
                 upright ? -1.5707963267948966 : 0.0);
      };
  const Vector2d far = corner + area;
  seam(i > 0, {corner.x() + half, corner.y()}, {corner.x() + half, far.y()}, number(i - 1, j));
  seam(i + 1 < s.across, {far.x() - half, corner.y()}, {far.x() - half, far.y()}, number(i + 1, j));
  seam(j > 0, {corner.x(), corner.y() + half}, {far.x(), corner.y() + half}, number(i, j - 1));
  seam(j + 1 < s.down, {corner.x(), far.y() - half}, {far.x(), far.y() - half}, number(i, j + 1));
}

/// A small picture of how the pages of a part lie together, this one filled.
void draw_key(Pen& pen, const Spread& s, int i, int j, double right) {
  const double cell = std::min(3.0, 6.0 / s.down);
  const Vector2d corner(right - cell * s.across, kEdge + 4.4);
  pen.grey(0.6);
  pen.fill_rectangle(corner + cell * Vector2d(i, j), Vector2d::Constant(cell));
  pen.grey(0.0);
  pen.width(0.15);
  for (int b = 0; b < s.down; ++b)
    for (int a = 0; a < s.across; ++a)
      pen.rectangle(corner + cell * Vector2d(a, b), Vector2d::Constant(cell));
}

}  // namespace

Paper paper_named(const std::string& name) {
  if (name == "A4") return {name, 210.0, 297.0};
  if (name == "Letter") return {name, 215.9, 279.4};
  throw std::invalid_argument("paper_named: no paper " + name);
}

std::vector<PageDrawing> template_tiles(const std::vector<LaidPart>& parts,
                                        const Paper& paper,
                                        const std::string& job) {
  const Vector2d area = area_of(paper), corner(kEdge, kEdge + kHead);
  std::vector<PageDrawing> pages;
  for (const LaidPart& part : parts) {
    const auto laid = std::make_shared<LaidPart>(part);
    const Spread s = spread_of(part.part, area);
    for (int j = 0; j < s.down; ++j)
      for (int i = 0; i < s.across; ++i) {
        // A part on one page stands in its middle.
        const Vector2d slack = 0.5 * (area - s.size);
        const Vector2d start(s.across == 1 ? slack.x() : -i * (area.x() - kOverlap_mm),
                             s.down == 1 ? slack.y() : -j * (area.y() - kOverlap_mm));
        const Vector2d low = corner + start + Vector2d(kBorder, s.size.y() - kBorder);
        pages.push_back({paper.width_mm, paper.height_mm, [=](Pen& pen) {
                           const auto draw = [&] {
                             draw_part(pen, *laid, paper_view(laid->part, low, s.quarter_turn));
                           };
                           // On one page the corners' marks may reach into the margin.
                           if (s.pages() == 1)
                             draw();
                           else
                             pen.clipped(corner, area, draw);
                           draw_seams(pen, s, i, j, corner, area);
                           const std::string page =
                               s.pages() == 1 ? "one page"
                                              : "page " + std::to_string(j * s.across + i + 1) +
                                                    " of " + std::to_string(s.pages());
                           draw_head(pen, *laid, job, page, paper.width_mm);
                           if (s.pages() > 1) draw_key(pen, s, i, j, paper.width_mm - kEdge);
                           draw_foot(pen, *laid, paper.width_mm, paper.height_mm);
                         }});
      }
  }
  return pages;
}

PageDrawing template_page(const LaidPart& part, const std::string& job) {
  const auto laid = std::make_shared<LaidPart>(part);
  const Vector2d size = 1e3 * part.part.size_m + Vector2d::Constant(2.0 * kBorder);
  const double width = std::max(200.0, size.x() + 2.0 * kEdge);
  const double height = size.y() + 2.0 * kEdge + kHead + kFoot;
  return {width, height, [=](Pen& pen) {
            const Vector2d low(0.5 * (width - size.x()) + kBorder,
                               kEdge + kHead + size.y() - kBorder);
            draw_part(pen, *laid, paper_view(laid->part, low, false));
            draw_head(pen, *laid, job, "", width);
            draw_foot(pen, *laid, width, height);
          }};
}

}  // namespace calmplate::cutting
