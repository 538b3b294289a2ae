// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "picture/area_image.hpp"
#include "picture/colour_scale.hpp"

class vtkContext2D;

namespace calmplate::picture {

/// A4 landscape. Everything on a page is given in mm from its lower left corner.
constexpr int kDotsPerInch = 200;
constexpr double kPxPerMm = kDotsPerInch / 25.4;
constexpr int kPageWidthPx = 2339;
constexpr int kPageHeightPx = 1654;
constexpr double kPageWidthMm = 297.0;
constexpr double kPageHeightMm = 210.0;

/// How a line is drawn.
struct Stroke {
  double width_mm = 0.3;
  Colour colour = kBlack;
  std::vector<double> dash_mm;  ///< drawn, left out, drawn, ...; empty: unbroken
};

enum class Across { left, middle, right };  ///< which end of the text stands at the point
enum class Upright { bottom, middle, top };

/// How text is set.
struct Type {
  double size_pt = 9.0;
  bool bold = false;
  Colour colour = kBlack;
  Across across = Across::left;
  Upright upright = Upright::bottom;
  double turn_deg = 0.0;  ///< anticlockwise
};

/// Draws on one page. Lives only while the page is being painted.
class Canvas {
 public:
  explicit Canvas(vtkContext2D& painter) : painter_(painter) {}

  void line(const std::vector<Point>& points, const Stroke& stroke);
  void closed_line(const Outline& outline, const Stroke& stroke);
  void rectangle(const Point& low, const Point& high, const Colour& fill);
  void frame(const Point& low, const Point& high, const Stroke& stroke);
  /// A filled convex polygon.
  void convex(const Outline& outline, const Colour& fill);
  void disc(const Point& centre, double radius_mm, const Colour& fill);
  /// An arrow head with its tip at `tip`, pointing along (dx, dy).
  void arrow_head(const Point& tip, double dx, double dy, double length_mm, const Colour& fill);

  /// An image whose pixels are page pixels, its lower left pixel at pixel (i, j) of the page.
  void image(int i, int j, const RgbaImage& image);

  void text(const Point& at, const std::string& words, const Type& type);
  /// Text on a white ground a little larger than itself.
  void boxed_text(const Point& at, const std::string& words, const Type& type);
  /// Width and height of the text as set, mm; a turn is left out of account.
  std::pair<double, double> text_size(const std::string& words, const Type& type);

  /// The text cut to `width_mm` with dots at its end where it does not fit.
  std::string fitted(const std::string& words, const Type& type, double width_mm);
  /// The text broken at blanks into lines no wider than `width_mm`; at most `lines`, the last one
  /// cut with dots if more is left.
  std::vector<std::string> wrapped(const std::string& words,
                                   const Type& type,
                                   double width_mm,
                                   std::size_t lines);
  /// Sets wrapped text downwards from `top_left`. @return y under the last line
  double text_block(const Point& top_left,
                    const std::string& words,
                    const Type& type,
                    double width_mm,
                    std::size_t lines = 20);

 private:
  void use_pen(const Stroke& stroke);
  void use_brush(const Colour& fill);
  void use_type(const Type& type);
  vtkContext2D& painter_;
};

/// Height of one line of text, mm.
constexpr double line_height_mm(double size_pt) { return size_pt * 25.4 / 72.0 * 1.25; }

}  // namespace calmplate::picture
