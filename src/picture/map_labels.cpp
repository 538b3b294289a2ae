// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/map_labels.hpp"

#include <algorithm>
#include <utility>

namespace calmplate::picture {

void MapLabels::keep_free_around(const Outline& outline) {
  if (outline.empty()) return;
  Box box{outline.front(), outline.front()};
  for (const Point& p : outline) {
    box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
    box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
  }
  boxes_.push_back(box);
}

MapLabels::Box MapLabels::box_of(Canvas& canvas,
                                 const Point& at,
                                 const std::string& words,
                                 const Type& type) {
  auto [width, height] = canvas.text_size(words, type);
  if (type.turn_deg == 90.0) std::swap(width, height);
  const double dx = type.across == Across::left ? 0.0 : type.across == Across::middle ? 0.5 : 1.0;
  const double dy = type.upright == Upright::bottom   ? 0.0
                    : type.upright == Upright::middle ? 0.5
                                                      : 1.0;
  const Point low{at.x - dx * width - 1.0, at.y - dy * height - 0.7};
  return {low, {low.x + width + 2.0, low.y + height + 1.4}};
}

bool MapLabels::place(Canvas& canvas, const Point& at, const std::string& words, const Type& type) {
  const Box box = box_of(canvas, at, words, type);
  for (const Box& other : boxes_) {
    if (box.low.x < other.high.x && other.low.x < box.high.x && box.low.y < other.high.y &&
        other.low.y < box.high.y) {
      return false;
    }
  }
  boxes_.push_back(box);
  canvas.boxed_text(at, words, type);
  return true;
}

void MapLabels::keep_free_for(Canvas& canvas,
                              const Point& at,
                              const std::string& words,
                              const Type& type) {
  boxes_.push_back(box_of(canvas, at, words, type));
}

}  // namespace calmplate::picture
