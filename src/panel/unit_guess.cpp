// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/unit_guess.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <vector>

#include "base/input_error.hpp"

namespace calmplate::panel {
namespace {

constexpr double kShortest = 0.3;  // m
constexpr double kLongest = 3.0;   // m

std::string size_text(double a, double b) {
  char text[80];
  std::snprintf(text, sizeof text, "%.4g x %.4g", a, b);
  return text;
}

}  // namespace

MeshUnit guess_unit(const Eigen::Vector3d& box, const std::string& name) {
  static const std::array<MeshUnit, 4> kUnits{
      {{"m", 1.0}, {"cm", 0.01}, {"mm", 0.001}, {"inch", 0.0254}}};
  std::array<double, 3> sides{box[0], box[1], box[2]};
  std::sort(sides.begin(), sides.end());
  const double length = sides[2], height = sides[1];
  std::vector<const MeshUnit*> fitting;
  for (const MeshUnit& unit : kUnits)
    if (height * unit.metres >= kShortest && length * unit.metres <= kLongest)
      fitting.push_back(&unit);
  if (fitting.size() == 1) return *fitting[0];
  if (fitting.empty())
    throw base::InputError({name, 0, ""},
                           "is " + size_text(length, height) +
                               " in its own unit, which is no door in m, cm, mm or inch",
                           "a door skin of 0.3 to 3 m, or mesh_unit set to the file's unit");
  std::string readings, allowed;
  for (const MeshUnit* unit : fitting) {
    const bool first = unit == fitting.front(), last = unit == fitting.back();
    readings += (first  ? ""
                 : last ? " or "
                        : ", ") +
                size_text(length * unit->metres, height * unit->metres) + " m (" + unit->name + ")";
    allowed += (first  ? ""
                : last ? " or "
                       : ", ") +
               std::string("mesh_unit = \"") + unit->name + "\"";
  }
  throw base::InputError({name, 0, ""}, "may be a door of " + readings, allowed);
}

}  // namespace calmplate::panel
