// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "picture/canvas.hpp"
#include "picture/isolines.hpp"
#include "picture/result_fields.hpp"
#include "picture/result_folder.hpp"

namespace calmplate::picture {

/// How the place is marked at which the drive acts: a dot for a force, two rings for a woofer's
/// cone, which drives the air behind the skin and not the skin itself.
struct DriveMark {
  Point at;  ///< mm on the page
  double radius_mm = 0.0;
  Point words_at;
  std::string words;
  Type type;
};

/// Room for the tape marks below and left of the panel, mm on the page.
constexpr double kTapeRoomMm = 13.0;

/// The panel's flat map laid into a rectangle of the page: as seen from outside, x to the right and
/// y up, one scale for both.
class FlatView {
 public:
  /// @param low,high  corners of the page rectangle, mm
  /// @param with_tape room for draw_tape() is kept free
  FlatView(const PanelSheet& panel, const Point& low, const Point& high, bool with_tape);

  Point to_page(const Point& flat_mm) const;
  Outline to_page(const Outline& flat_mm) const;
  Outlines to_page(const Outlines& flat_mm) const;
  double scale() const noexcept { return scale_; }  ///< mm on the page per mm of skin
  Point low() const noexcept { return low_; }       ///< of the drawn panel, mm on the page
  Point high() const noexcept { return high_; }

  void fill(Canvas& canvas, const Outlines& flat_mm, const Colour& colour) const;
  /// A field where it is inside at least one of the areas.
  void fill_field(Canvas& canvas,
                  const ResultFields& fields,
                  const std::vector<double>& values,
                  bool at_points,
                  const std::vector<Outlines>& areas_mm,
                  const std::function<Colour(double)>& colour_of) const;
  std::vector<Isoline> isolines_on_page(const ResultFields& fields,
                                        const std::vector<double>& values,
                                        const std::vector<double>& levels) const;

  /// Rim and holes.
  void draw_rim(Canvas& canvas, double width_mm = 0.5) const;
  /// Hatched, with their names.
  void draw_keep_outs(Canvas& canvas) const;
  /// A tape along the bottom and the left side, counted from the datum, with the note from which
  /// side the skin is seen.
  void draw_tape(Canvas& canvas) const;
  /// None if the drive acts at no point.
  std::optional<DriveMark> drive_mark(const Results& results) const;
  /// Where the drive acts, if it acts at a point.
  void draw_drive(Canvas& canvas, const Results& results) const;

 private:
  PixelBox pixels() const;  ///< the page pixels that the drawn panel meets
  Outlines to_pixels(const Outlines& flat_mm, const PixelBox& pixels) const;
  const PanelSheet& panel_;
  Point low_mm_;  ///< of the panel on the flat map
  Point high_mm_;
  Point area_low_;  ///< of the page rectangle given
  Point area_high_;
  Point low_;
  Point high_;
  double scale_ = 1.0;
};

/// A bar of 100 mm of skin (or 10, 20, 50, 200, 500 mm where that draws better) with its length.
/// @param at  its left end, mm on the page
void draw_ruler(Canvas& canvas, const Point& at, double scale);

/// The mark of a woofer's cone with what it means; nothing for other drives.
/// @param top_left  mm on the page; at most three lines, `width_mm` wide
void draw_woofer_key(Canvas& canvas,
                     const Results& results,
                     const Point& top_left,
                     double width_mm);

/// Lines at 45 degrees inside the outlines, all in page mm.
void draw_hatch(Canvas& canvas, const Outlines& outlines, double spacing_mm, const Stroke& stroke);

}  // namespace calmplate::picture
