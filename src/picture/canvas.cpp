// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/canvas.hpp"

#include <vtkBrush.h>
#include <vtkContext2D.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPen.h>
#include <vtkTextProperty.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <sstream>

#include "base/units.hpp"

namespace calmplate::picture {
namespace {

float to_px(double mm) { return static_cast<float>(mm * kPxPerMm); }

std::vector<float> to_px(const std::vector<Point>& points) {
  std::vector<float> px;
  px.reserve(2 * points.size() + 2);
  for (const Point& p : points) {
    px.push_back(to_px(p.x));
    px.push_back(to_px(p.y));
  }
  return px;
}

Point between(const Point& a, const Point& b, double s) {
  return {a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)};
}

/// The drawn pieces of a dashed line.
std::vector<std::vector<Point>> dashes(const std::vector<Point>& points,
                                       const std::vector<double>& dash_mm) {
  std::vector<std::vector<Point>> drawn;
  std::size_t part = 0;
  double left = dash_mm[0];
  std::vector<Point> now{points.front()};
  for (std::size_t k = 0; k + 1 < points.size(); ++k) {
    const double length = std::hypot(points[k + 1].x - points[k].x, points[k + 1].y - points[k].y);
    double done = 0.0;
    while (length - done > left) {
      done += left;
      const Point here = between(points[k], points[k + 1], done / length);
      if (part % 2 == 0) {
        now.push_back(here);
        drawn.push_back(now);
      }
      now.assign(1, here);
      part = (part + 1) % dash_mm.size();
      left = std::max(dash_mm[part], 0.05);
    }
    left -= length - done;
    if (part % 2 == 0) now.push_back(points[k + 1]);
  }
  if (part % 2 == 0 && now.size() > 1) drawn.push_back(now);
  return drawn;
}

/// A font with wide coverage where the machine has it, else the rendering library's own, which
/// holds Latin letters only.
void set_font(vtkTextProperty& property, bool bold) {
  static const std::string folder = CALMPLATE_FONT_FOLDER;
  static const std::string plain_file = folder + "/DejaVuSans.ttf";
  static const std::string bold_file = folder + "/DejaVuSans-Bold.ttf";
  static const bool found =
      std::filesystem::exists(plain_file) && std::filesystem::exists(bold_file);
  if (found) {
    property.SetFontFamily(VTK_FONT_FILE);
    property.SetFontFile((bold ? bold_file : plain_file).c_str());
    property.SetBold(0);
  } else {
    property.SetFontFamilyToArial();
    property.SetBold(bold);
  }
}

/// Number of bytes of `words` that hold whole characters only, at most `bytes`.
std::size_t whole_characters(const std::string& words, std::size_t bytes) {
  while (bytes > 0 && bytes < words.size() && (words[bytes] & 0xC0) == 0x80) --bytes;
  return bytes;
}

}  // namespace

void Canvas::use_pen(const Stroke& stroke) {
  vtkPen* pen = painter_.GetPen();
  pen->SetLineType(vtkPen::SOLID_LINE);
  pen->SetColorF(stroke.colour.r, stroke.colour.g, stroke.colour.b);
  pen->SetOpacityF(1.0);
  pen->SetWidth(to_px(stroke.width_mm));
}

void Canvas::use_brush(const Colour& fill) {
  painter_.GetPen()->SetLineType(vtkPen::NO_PEN);
  painter_.GetBrush()->SetColorF(fill.r, fill.g, fill.b);
  painter_.GetBrush()->SetOpacityF(1.0);
}

void Canvas::use_type(const Type& type) {
  vtkTextProperty* property = painter_.GetTextProp();
  set_font(*property, type.bold);
  property->SetFontSize(int(std::lround(type.size_pt)));
  property->SetItalic(0);
  property->SetShadow(0);
  property->SetColor(type.colour.r, type.colour.g, type.colour.b);
  property->SetOpacity(1.0);
  property->SetOrientation(type.turn_deg);
  property->SetJustification(type.across == Across::left     ? VTK_TEXT_LEFT
                             : type.across == Across::middle ? VTK_TEXT_CENTERED
                                                             : VTK_TEXT_RIGHT);
  property->SetVerticalJustification(type.upright == Upright::bottom   ? VTK_TEXT_BOTTOM
                                     : type.upright == Upright::middle ? VTK_TEXT_CENTERED
                                                                       : VTK_TEXT_TOP);
}

void Canvas::line(const std::vector<Point>& points, const Stroke& stroke) {
  if (points.size() < 2) return;
  if (!stroke.dash_mm.empty()) {
    const Stroke solid{stroke.width_mm, stroke.colour, {}};
    for (const auto& dash : dashes(points, stroke.dash_mm)) line(dash, solid);
    return;
  }
  use_pen(stroke);
  std::vector<float> px = to_px(points);
  painter_.DrawPoly(px.data(), int(points.size()));
  // Round the joins of wide lines: the pieces of a line are drawn as plain quadrilaterals.
  if (stroke.width_mm < 0.45) return;
  use_brush(stroke.colour);
  const float radius = 0.5F * to_px(stroke.width_mm);
  for (std::size_t k = 1; k + 1 < points.size(); ++k) {
    painter_.DrawEllipse(px[2 * k], px[2 * k + 1], radius, radius);
  }
}

void Canvas::closed_line(const Outline& outline, const Stroke& stroke) {
  if (outline.size() < 2) return;
  std::vector<Point> points = outline;
  points.push_back(outline.front());
  line(points, stroke);
}

void Canvas::rectangle(const Point& low, const Point& high, const Colour& fill) {
  use_brush(fill);
  painter_.DrawRect(to_px(low.x), to_px(low.y), to_px(high.x - low.x), to_px(high.y - low.y));
}

void Canvas::frame(const Point& low, const Point& high, const Stroke& stroke) {
  closed_line({low, {high.x, low.y}, high, {low.x, high.y}}, stroke);
}

void Canvas::convex(const Outline& outline, const Colour& fill) {
  if (outline.size() < 3) return;
  use_brush(fill);
  std::vector<float> px = to_px(outline);
  painter_.DrawPolygon(px.data(), int(outline.size()));
}

void Canvas::disc(const Point& centre, double radius_mm, const Colour& fill) {
  use_brush(fill);
  painter_.DrawEllipse(to_px(centre.x), to_px(centre.y), to_px(radius_mm), to_px(radius_mm));
}

void Canvas::arrow_head(
    const Point& tip, double dx, double dy, double length_mm, const Colour& fill) {
  const double size = std::hypot(dx, dy);
  if (size == 0.0) return;
  const double ux = dx / size * length_mm;
  const double uy = dy / size * length_mm;
  convex({tip,
          {tip.x - ux - 0.3 * uy, tip.y - uy + 0.3 * ux},
          {tip.x - ux + 0.3 * uy, tip.y - uy - 0.3 * ux}},
         fill);
}

void Canvas::image(int i, int j, const RgbaImage& image) {
  vtkNew<vtkImageData> pixels;
  pixels->SetDimensions(image.width, image.height, 1);
  pixels->AllocateScalars(VTK_UNSIGNED_CHAR, 4);
  std::memcpy(pixels->GetScalarPointer(), image.bytes.data(), image.bytes.size());
  use_brush(kWhite);
  painter_.DrawImage(float(i), float(j), pixels);
}

void Canvas::text(const Point& at, const std::string& words, const Type& type) {
  if (words.empty()) return;
  use_type(type);
  painter_.DrawString(to_px(at.x), to_px(at.y), words.c_str());
}

std::pair<double, double> Canvas::text_size(const std::string& words, const Type& type) {
  Type level = type;
  level.turn_deg = 0.0;
  use_type(level);
  float bounds[4] = {0.0F, 0.0F, 0.0F, 0.0F};
  painter_.ComputeStringBounds(words.c_str(), bounds);
  return {bounds[2] / kPxPerMm, bounds[3] / kPxPerMm};
}

void Canvas::boxed_text(const Point& at, const std::string& words, const Type& type) {
  const auto [width, height] = text_size(words, type);
  const double turn = base::from_degrees(type.turn_deg);
  const double share_x = type.across == Across::left     ? 0.0
                         : type.across == Across::middle ? 0.5
                                                         : 1.0;
  const double share_y = type.upright == Upright::bottom   ? 0.0
                         : type.upright == Upright::middle ? 0.5
                                                           : 1.0;
  const double x0 = -share_x * width - 0.5;
  const double y0 = -share_y * height - 0.3;
  const double x1 = x0 + width + 1.0;
  const double y1 = y0 + height + 0.6;
  Outline box;
  for (const Point& p : {Point{x0, y0}, Point{x1, y0}, Point{x1, y1}, Point{x0, y1}}) {
    box.push_back({at.x + p.x * std::cos(turn) - p.y * std::sin(turn),
                   at.y + p.x * std::sin(turn) + p.y * std::cos(turn)});
  }
  convex(box, kWhite);
  text(at, words, type);
}

std::string Canvas::fitted(const std::string& words, const Type& type, double width_mm) {
  if (text_size(words, type).first <= width_mm) return words;
  for (std::size_t bytes = words.size(); bytes > 0;) {
    bytes = whole_characters(words, bytes - 1);
    std::string shorter = words.substr(0, bytes) + "...";
    if (text_size(shorter, type).first <= width_mm) return shorter;
  }
  return "...";
}

std::vector<std::string> Canvas::wrapped(const std::string& words,
                                         const Type& type,
                                         double width_mm,
                                         std::size_t lines) {
  std::vector<std::string> out;
  std::istringstream stream(words);
  std::string word;
  std::string row;
  while (stream >> word) {
    const std::string longer = row.empty() ? word : row + " " + word;
    const bool last = out.size() + 1 == lines;
    if (row.empty() || last || text_size(longer, type).first <= width_mm) {
      row = longer;
      continue;
    }
    out.push_back(fitted(row, type, width_mm));
    row = word;
  }
  if (!row.empty()) out.push_back(fitted(row, type, width_mm));
  return out;
}

double Canvas::text_block(const Point& top_left,
                          const std::string& words,
                          const Type& type,
                          double width_mm,
                          std::size_t lines) {
  Type set = type;
  set.upright = Upright::top;
  double y = top_left.y;
  for (const std::string& row : wrapped(words, type, width_mm, lines)) {
    text({top_left.x, y}, row, set);
    y -= line_height_mm(type.size_pt);
  }
  return y;
}

}  // namespace calmplate::picture
