// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "picture/canvas.hpp"

namespace calmplate::picture {

/// Keeps labels on a map from covering one another.
class MapLabels {
 public:
  void keep_free(const Point& low, const Point& high) { boxes_.push_back({low, high}); }
  void keep_free_around(const Outline& outline);

  /// Sets the label on a white ground if nothing is there yet. @return whether it was set
  bool place(Canvas& canvas, const Point& at, const std::string& words, const Type& type);

  /// Keeps the place of a label free that is set later by other means.
  void keep_free_for(Canvas& canvas, const Point& at, const std::string& words, const Type& type);

 private:
  struct Box {
    Point low;
    Point high;
  };
  static Box box_of(Canvas& canvas, const Point& at, const std::string& words, const Type& type);
  std::vector<Box> boxes_;
};

}  // namespace calmplate::picture
