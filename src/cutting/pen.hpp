// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace calmplate::cutting {

enum class Anchor { left, middle, right };

/// Draws on one page in millimetres: x to the right, y down, from the upper left corner. Line
/// widths and letter heights are millimetres on paper.
class Pen {
 public:
  struct Page;  ///< what the drawing library holds
  explicit Pen(Page& page) : page_(page) {}

  void grey(double level);                    ///< 0 black to 1 white
  void colour(double r, double g, double b);  ///< 0 to 1 each
  void width(double mm);
  void dash(const std::vector<double>& mm);  ///< empty: a whole line

  void line(const Eigen::Vector2d& a, const Eigen::Vector2d& b);
  /// @param closed  the last point is joined to the first
  void path(const std::vector<Eigen::Vector2d>& points, bool closed);
  void rectangle(const Eigen::Vector2d& corner, const Eigen::Vector2d& size);
  void fill_rectangle(const Eigen::Vector2d& corner, const Eigen::Vector2d& size);
  /// Fills closed loops by the even-odd rule.
  void fill(const std::vector<std::vector<Eigen::Vector2d>>& loops);
  /// Strokes slanting lines over the loops' inside.
  void hatch(const std::vector<std::vector<Eigen::Vector2d>>& loops, double spacing_mm);
  void disc(const Eigen::Vector2d& centre, double radius);
  void circle(const Eigen::Vector2d& centre, double radius);
  /// A line with a filled head at `to`.
  void arrow(const Eigen::Vector2d& from, const Eigen::Vector2d& to);
  /// Two crossing lines, each `size` long.
  void cross(const Eigen::Vector2d& at, double size);

  /// @param at       on the base line
  /// @param size     height of the letters' body, about 1.4 times that of a capital
  /// @param radians  turned clockwise as seen
  void text(const Eigen::Vector2d& at,
            const std::string& words,
            double size,
            Anchor anchor = Anchor::left,
            bool bold = false,
            double radians = 0.0);
  /// Draws only inside a rectangle while `draw` runs.
  void clipped(const Eigen::Vector2d& corner,
               const Eigen::Vector2d& size,
               const std::function<void()>& draw);

 private:
  void trace(const std::vector<Eigen::Vector2d>& points, bool closed);
  Page& page_;
};

/// Width of words in a letter height, and words broken at spaces into lines of at most `width`, mm.
double text_width(const std::string& words, double size, bool bold = false);
std::vector<std::string> text_lines(const std::string& words, double size, double width);

/// What a page looks like: its size and what is drawn on it.
struct PageDrawing {
  double width_mm = 0.0, height_mm = 0.0;
  std::function<void(Pen&)> draw;
};

/// Files as bytes; the same drawing gives the same bytes. Sizes hold in print: 1 mm is 1 mm.
/// @throws std::runtime_error if the drawing library fails
std::string pdf_bytes(const std::vector<PageDrawing>& pages, const std::string& title);
std::string svg_bytes(const PageDrawing& page);  ///< width and height in mm, one unit a mm
std::string png_bytes(const PageDrawing& page, double dots_per_inch);

}  // namespace calmplate::cutting
