// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <vector>

#include "picture/area_image.hpp"
#include "picture/render_window.hpp"
#include "picture/result_fields.hpp"

namespace calmplate::picture {

/// A picture on the flat map that is laid on the skin in space: what is sharp on the map stays
/// sharp on the skin, whatever the size of the triangles.
class SkinPaint {
 public:
  /// All in one colour at first.
  SkinPaint(const ResultFields& fields, const Colour& ground);

  void fill(const Outlines& flat_mm, const Colour& colour);
  /// Lines of a given width round the outlines.
  void outline(const Outlines& flat_mm, double width_mm, const Colour& colour);
  void field(const std::vector<double>& point_values,
             const std::function<Colour(double)>& colour_of);

  const RgbaImage& image() const noexcept { return image_; }
  Point low_mm() const noexcept { return low_mm_; }
  Point high_mm() const noexcept { return high_mm_; }

 private:
  Outlines to_pixels(const Outlines& flat_mm) const;
  const ResultFields& fields_;
  Point low_mm_;
  Point high_mm_;
  double px_per_mm_ = 1.0;
  RgbaImage image_;
};

enum class Side { outside, inside };

/// The painted skin, lit from the upper left, seen a little from the side and from above. The flat
/// map's y points upwards; seen from inside, its x points to the left.
RgbaImage render_skin(RenderWindow& window,
                      const ResultFields& fields,
                      const SkinPaint& paint,
                      Side side,
                      int width,
                      int height);

}  // namespace calmplate::picture
