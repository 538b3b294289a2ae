// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/scan_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

/// A crown that moved by more than this share is worth a look.
constexpr double kCrownKept = 0.01;

/// The crown as a person measures it, over the panel's own extent.
struct Gaps {
  double along_mm = 0.0, up_mm = 0.0;  ///< under the middle of a straightedge as long as the panel
  double volume_l = 0.0;               ///< under the skin, over the plane through its rim
};

Gaps gaps_of(const panel::Panel& panel, const panel::Crown& crown) {
  const auto gap = [](double curvature_1_m, double length_m) {
    return base::to_mm(curvature_1_m * length_m * length_m / 8.0);
  };
  return {gap(crown.along_1_m, panel.flat.size().x()),
          gap(crown.up_1_m, panel.flat.size().y()),
          1e3 * crown.mean_height_m * panel.area_m2};
}

/// Largest relative change of volume and mean curvature; of a flat panel's there is none to tell.
double crown_change(const panel::PanelReport& mending) {
  const auto change = [](double before, double after, double least) {
    return std::abs(before) > least ? std::abs(after / before - 1.0) : 0.0;
  };
  return std::max(change(mending.scanned.mean_height_m, mending.kept.mean_height_m, 1e-3),
                  change(mending.scanned.mean_curvature(), mending.kept.mean_curvature(), 0.02));
}

std::string crown_lines(const panel::Panel& panel, const panel::PanelReport& mending) {
  const Gaps before = gaps_of(panel, mending.scanned), after = gaps_of(panel, mending.kept);
  std::string out = "  crown before and after smoothing: straightedge gap " +
                    fixed(before.along_mm, 1) + " and " + fixed(after.along_mm, 1) + " mm along, " +
                    fixed(before.up_mm, 1) + " and " + fixed(after.up_mm, 1) +
                    " mm up; volume under the skin " + fixed(before.volume_l, 2) + " and " +
                    fixed(after.volume_l, 2) + " l\n";
  const double change = crown_change(mending);
  if (change > kCrownKept)
    out += "  look at it: smoothing changed the crown by " + fixed(100.0 * change, 1) + " %\n";
  return out;
}

}  // namespace

std::string scan_text(const panel::Panel& panel, const panel::PanelReport& mending) {
  std::string out;
  if (!mending.guessed_unit.empty())
    out += "  unit of the mesh: guessed as " + mending.guessed_unit + ", which makes the skin " +
           fixed(base::to_mm(panel.flat.size().x()), 0) + " x " +
           fixed(base::to_mm(panel.flat.size().y()), 0) +
           " mm; if that is right, write mesh_unit = \"" + mending.guessed_unit + "\"\n";
  const auto mended = [&](int count, const std::string& what) {
    if (count > 0) out += "  mended: " + std::to_string(count) + " " + what + "\n";
  };
  mended(mending.duplicate_nodes, "duplicate points welded");
  mended(mending.degenerate_triangles, "triangles without area dropped");
  mended(mending.flipped_triangles, "triangles turned round");
  mended(mending.islands_dropped, "loose islands dropped");
  mended(mending.holes_filled, "gaps and small holes closed");
  if (mending.smoothed)
    out += "  scan: " + std::to_string(mending.scan_triangles) + " triangles, points scatter by " +
           fixed(base::to_mm(mending.noise_m), 2) + " mm, smoothed\n" + crown_lines(panel, mending);
  return out;
}

Json mending_json(const panel::Panel& panel, const panel::PanelReport& mending) {
  Json crown = nullptr;
  if (mending.smoothed) {
    const auto figures = [&](const panel::Crown& c) -> Json {
      const Gaps gaps = gaps_of(panel, c);
      return {{"gap_along_mm", gaps.along_mm},
              {"gap_up_mm", gaps.up_mm},
              {"mean_curvature_1_m", c.mean_curvature()},
              {"volume_l", gaps.volume_l}};
    };
    crown = {{"scan", figures(mending.scanned)},
             {"smoothed", figures(mending.kept)},
             {"change", crown_change(mending)}};
  }
  return {
      {"guessed_unit", mending.guessed_unit.empty() ? Json(nullptr) : Json(mending.guessed_unit)},
      {"duplicate_points", mending.duplicate_nodes},
      {"triangles_without_area", mending.degenerate_triangles},
      {"triangles_turned", mending.flipped_triangles},
      {"islands_dropped", mending.islands_dropped},
      {"triangles_dropped", mending.dropped_triangles},
      {"holes_closed", mending.holes_filled},
      {"triangles_before", mending.scan_triangles},
      {"noise_mm", base::to_mm(mending.noise_m)},
      {"smoothed", mending.smoothed},
      {"crown", crown}};
}

}  // namespace calmplate::report
