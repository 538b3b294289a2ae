// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/laid_part.hpp"

#include <cmath>

#include "base/units.hpp"

namespace calmplate::cutting {

std::string tape_text(const SideDistance& side) {
  return std::to_string(std::lround(base::to_mm(side.distance_m)));
}

std::string corner_text(const MarkedCorner& corner) {
  std::string words;
  for (const SideDistance& side : corner.sides) {
    if (!words.empty()) words += side.square ? " and, square to that, " : " and ";
    words += tape_text(side) + " mm from " + side.side;
  }
  return words;
}

std::string face_text(bool outer_face) {
  return outer_face ? "outer face, seen from outside the car"
                    : "inner face, seen from inside the car";
}

}  // namespace calmplate::cutting
