// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "base/units.hpp"
#include "job/read_sections.hpp"
#include "panel/drawn_shape.hpp"

/// A skin drawn in the job file: [panel] outline_mm and what belongs to it.
namespace calmplate::job {
namespace {

constexpr Range kCornerRadius{0.0, 1000.0};  // mm
constexpr Range kBow{-1000.0, 1000.0};       // mm
constexpr Range kCrownRadius{0.3, 1000.0};   // m
constexpr Range kHeight{-300.0, 300.0};      // mm
constexpr Range kOpening{2.0, 2000.0};       // mm
constexpr Range kAngle{-360.0, 360.0};       // degrees
constexpr Range kSwageWidth{5.0, 500.0};     // mm
constexpr Range kSwageHeight{-50.0, 50.0};   // mm
constexpr Range kRecessSize{5.0, 2000.0};    // mm
constexpr Range kDepth{-100.0, 100.0};       // mm
constexpr Range kWall{1.0, 500.0};           // mm
constexpr Eigen::Index kMostCorners = 500;
constexpr std::size_t kMostCrownPoints = 200;

/// outline_mm with corner_radius_mm and bow_mm.
panel::ClosedLine read_closed_line(TableReader& reader) {
  panel::ClosedLine line;
  const double radius = reader.number_or("corner_radius_mm", kCornerRadius, 0.0);
  Corners corners = reader.corners("outline_mm", kPosition, kCornerRadius, radius, 3);
  const Eigen::Index last = corners.rows() - 1;
  if (last >= 3 && corners.row(0).head<2>() == corners.row(last).head<2>())
    corners.conservativeResize(last, 3);
  const Eigen::Index n = corners.rows();
  if (n > kMostCorners)
    reader.fail("outline_mm",
                "has " + std::to_string(n) + " points",
                "3 to " + std::to_string(kMostCorners) + "; for more, a mesh");
  line.corners = corners.leftCols<2>();
  for (Eigen::Index i = 0; i < n; ++i) line.radius_m.push_back(corners(i, 2));
  line.bow_m.assign(static_cast<std::size_t>(n), 0.0);
  if (reader.has("bow_mm")) {
    line.bow_m = reader.numbers("bow_mm", kBow);
    if (line.bow_m.size() != static_cast<std::size_t>(n))
      reader.fail("bow_mm",
                  "has " + std::to_string(line.bow_m.size()) + " numbers for " + std::to_string(n) +
                      " sides",
                  "one for each side, 0 where it is straight; the first side goes from point 1 to "
                  "point 2");
  }
  line.where = reader.where("outline_mm");
  return line;
}

panel::ClosedLine read_hole(TableReader& reader) {
  const bool round = reader.has("diameter_mm"), slot = reader.has("length_mm"),
             polygon = reader.has("outline_mm");
  const std::string allowed = "one of diameter_mm, length_mm with width_mm (a slot), outline_mm";
  if (round + slot + polygon != 1)
    throw base::InputError(
        reader.where(), round + slot + polygon == 0 ? "has no shape" : "has two shapes", allowed);
  panel::ClosedLine line;
  if (polygon) {
    line = read_closed_line(reader);
  } else if (round) {
    line =
        panel::circle(reader.point("centre_mm", kPosition), reader.number("diameter_mm", kOpening));
    line.where = reader.where();
  } else {
    const Eigen::Vector2d centre = reader.point("centre_mm", kPosition);
    const double length = reader.number("length_mm", kOpening);
    const double width = reader.number("width_mm", kOpening);
    if (!(length > width * (1.0 + 1e-9)))
      reader.fail("length_mm",
                  "is not above width_mm",
                  "the slot's whole length, ends included; or diameter_mm for a round hole");
    line = panel::slot(centre, length, width, reader.number_or("angle_deg", kAngle, 0.0));
    line.where = reader.where();
  }
  reader.finish(polygon ? "outline_mm" : round ? "diameter_mm" : "length_mm");
  return line;
}

panel::CrownPoint read_crown_point(TableReader& reader) {
  panel::CrownPoint point;
  point.at = reader.point("at_mm", kPosition);
  point.height_m = reader.number("height_mm", kHeight);
  point.from = reader.point_or_none("from_mm", kPosition);
  point.to = reader.point_or_none("to_mm", kPosition);
  if (point.from.has_value() != point.to.has_value())
    reader.fail_missing(point.from ? "to_mm" : "from_mm", "both from_mm and to_mm, or neither");
  reader.finish();
  point.where = reader.where();
  return point;
}

void read_crown(TableReader& panel, panel::DrawnInput& drawn) {
  drawn.crown_where = panel.where();
  for (const char* key : {"crown_radius_up_m", "crown_radius_along_m"}) {
    if (!panel.has(key)) continue;
    drawn.crown_where = panel.where(key);
    if (panel.has("crown"))
      panel.fail(key, "stands beside [[panel.crown]]", "radii or measured heights");
  }
  drawn.radius_along_m = panel.number_or("crown_radius_along_m", kCrownRadius, 0.0);
  drawn.radius_up_m = panel.number_or("crown_radius_up_m", kCrownRadius, 0.0);
  const bool radii = drawn.radius_along_m > 0.0 || drawn.radius_up_m > 0.0;
  if (!radii && panel.has("crown_centre_mm"))
    panel.fail("crown_centre_mm",
               "has no radius beside it",
               "crown_radius_along_m or crown_radius_up_m with it");
  drawn.crown_centre = panel.point_or_none("crown_centre_mm", kPosition);
  for (TableReader& reader : panel.sections("crown", keys::kCrown)) {
    drawn.crown.push_back(read_crown_point(reader));
    if (drawn.crown.size() > kMostCrownPoints)
      throw base::InputError(drawn.crown.back().where,
                             "is one too many",
                             "up to " + std::to_string(kMostCrownPoints) + " crown points");
  }
  if (!drawn.crown.empty()) drawn.crown_where = drawn.crown.front().where;
}

panel::SwageInput read_swage(TableReader& reader) {
  panel::SwageInput swage;
  const std::string allowed = "from_mm and to_mm, or line_mm with two points or more";
  if (reader.has("line_mm") == (reader.has("from_mm") || reader.has("to_mm")))
    throw base::InputError(
        reader.where(), reader.has("line_mm") ? "has two lines" : "has no line", allowed);
  if (reader.has("line_mm")) {
    swage.line = reader.points("line_mm", kPosition, 2);
  } else {
    swage.line.resize(2, 2);
    swage.line.row(0) = reader.point("from_mm", kPosition).transpose();
    swage.line.row(1) = reader.point("to_mm", kPosition).transpose();
  }
  swage.width_m = reader.number("width_mm", kSwageWidth);
  swage.height_m = reader.number("height_mm", kSwageHeight);
  reader.finish(reader.has("line_mm") ? "line_mm" : "from_mm and to_mm");
  swage.where = reader.where();
  return swage;
}

panel::RecessInput read_recess(TableReader& reader) {
  panel::RecessInput recess;
  recess.centre = reader.point("centre_mm", kPosition);
  recess.size = reader.point("size_mm", kRecessSize);
  recess.angle_rad = reader.number_or("angle_deg", kAngle, 0.0);
  recess.depth_m = reader.number("depth_mm", kDepth);
  const double half_mm = base::to_mm(0.5 * recess.size.minCoeff());
  recess.corner_radius_m = reader.number_or("corner_radius_mm", kCornerRadius, half_mm);
  const double wall_mm =
      std::clamp(1.5 * base::to_mm(std::abs(recess.depth_m)), 1.0, 0.9 * half_mm);
  recess.wall_m = reader.number_or("wall_mm", kWall, wall_mm);
  reader.finish();
  recess.where = reader.where();
  return recess;
}

}  // namespace

panel::DrawnInput read_drawn(TableReader& panel) {
  panel::DrawnInput drawn;
  drawn.outline = read_closed_line(panel);
  for (TableReader& reader : panel.sections("hole", keys::kHole))
    drawn.holes.push_back(read_hole(reader));
  read_crown(panel, drawn);
  for (TableReader& reader : panel.sections("swage", keys::kSwage))
    drawn.swages.push_back(read_swage(reader));
  for (TableReader& reader : panel.sections("recess", keys::kRecess))
    drawn.recesses.push_back(read_recess(reader));
  panel::drawn_shape(drawn);  // refuses what is no skin
  return drawn;
}

}  // namespace calmplate::job
