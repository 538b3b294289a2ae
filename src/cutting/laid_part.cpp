// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/laid_part.hpp"

namespace calmplate::cutting {

std::string corner_text(const MarkedCorner& corner) {
  std::string words;
  for (const SideDistance& side : corner.sides)
    words += (words.empty() ? "" : " and ") + mm_text(side.distance_m) + " mm from " + side.side +
             (side.square ? ", square to that" : "");
  return words;
}

std::string face_text(bool outer_face) {
  return outer_face ? "outer face, seen from outside the car"
                    : "inner face, seen from inside the car";
}

}  // namespace calmplate::cutting
