// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace calmplate::page {

/// Writes one inline SVG drawing. Coordinates are in its own units, y downwards, one decimal.
class SvgWriter {
 public:
  using Attributes = std::vector<std::pair<std::string, std::string>>;

  /// @param id  unlike every other on the page; title and description are read by their ids
  SvgWriter(const std::string& id,
            double width,
            double height,
            const std::string& title,
            const std::string& description);

  void line(double x1, double y1, double x2, double y2, const std::string& css_class);
  void rectangle(double x, double y, double width, double height, const std::string& css_class);
  void disc(double x, double y, double radius, const std::string& css_class);
  /// An open line; points that are not finite break it.
  void path(const std::vector<std::pair<double, double>>& points, const std::string& css_class);
  /// @param anchor  "start", "middle" or "end"
  void text(double x,
            double y,
            const std::string& words,
            const std::string& anchor,
            const std::string& css_class,
            double turn_deg = 0.0);

  std::string finished() const { return out_ + "</svg>"; }

 private:
  void element(const std::string& name, const Attributes& attributes, const std::string& content);
  std::string out_;
};

/// The points without those nearer than `tolerance` to the line through their neighbours kept
/// (Douglas and Peucker's way, [memory]); both ends stay. All must be finite.
std::vector<std::pair<double, double>> thinned(const std::vector<std::pair<double, double>>& points,
                                               double tolerance);

}  // namespace calmplate::page
