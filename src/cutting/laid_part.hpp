// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cutting/flatness.hpp"
#include "cutting/part.hpp"
#include "cutting/position.hpp"

namespace calmplate::cutting {

/// A part with what a fitter needs to lay it.
struct LaidPart {
  Part part;
  Position position;
  Flatness flatness;
  std::string from;  ///< the stock it is cut from: "sheet 1"
};

/// A stretch of the flat map with a name, drawn on templates so that nobody covers it.
struct NamedOutline {
  std::string name;
  panel::Polygon outline;  ///< m on the flat map
};

/// A distance as a tape is read: whole millimetres.
std::string tape_text(const SideDistance& side);

/// "128 mm from left and 70 mm from bottom"; of a rim without corners "128 mm from rim ...".
std::string corner_text(const MarkedCorner& corner);

/// "inner face, seen from inside the car"
std::string face_text(bool outer_face);

}  // namespace calmplate::cutting
