// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/spots.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::placement {
namespace {

constexpr double kTouch_m2 = 1e-9;  ///< rounding: edges on one line do not overlap

/// True if the polygons share area.
bool share_area(const panel::Polygon& a, const panel::Polygon& b) {
  const Eigen::RowVector2d a_low = a.colwise().minCoeff(), a_high = a.colwise().maxCoeff();
  const Eigen::RowVector2d b_low = b.colwise().minCoeff(), b_high = b.colwise().maxCoeff();
  if ((a_low.array() >= b_high.array()).any() || (b_low.array() >= a_high.array()).any())
    return false;
  return panel::overlap_area(a, b) > kTouch_m2;
}

}  // namespace

std::optional<Spot> spot_at(const panel::Panel& panel,
                            const SearchRequest& request,
                            std::size_t sheet,
                            const Eigen::Vector2d& size_m,
                            double angle_rad,
                            const Eigen::Vector2d& centre) {
  Spot spot{sheet, centre, size_m, angle_rad, {}, {}, 0.0};
  spot.outline = panel::rectangle(centre, size_m, angle_rad);
  const Eigen::Vector2d grown = size_m + Eigen::Vector2d::Constant(2.0 * request.rim_margin_m);
  if (panel::share_on_panel(panel, panel::rectangle(centre, grown, angle_rad)) < 1.0 - 1e-6)
    return std::nullopt;
  for (const panel::Polygon& k : request.keep_out)
    if (share_area(spot.outline, k)) return std::nullopt;
  const panel::Polygon with_gap =
      panel::rectangle(centre, size_m + Eigen::Vector2d::Constant(2.0 * request.gap_m), angle_rad);
  for (const panel::Polygon& t : request.taken)
    if (share_area(with_gap, t)) return std::nullopt;
  panel::Region region;
  region.outline = spot.outline;
  spot.covered = panel::cover(panel, region);
  spot.area_m2 = panel::covered_area(panel, spot.covered);
  return spot;
}

std::vector<Spot> all_spots(const panel::Panel& panel, const SearchRequest& request) {
  const Eigen::Vector2d map = panel.flat.size();
  std::vector<Spot> out;
  for (std::size_t s = 0; s < request.sheets.size(); ++s)
    for (const Eigen::Vector2d& size : request.sheets[s].sizes_m)
      for (const double angle : request.angles_rad)
        for (const double turn : {0.0, 0.5 * base::kPi}) {
          if (turn > 0.0 && std::abs(size.x() - size.y()) < 1e-9) continue;
          const double a = angle + turn;
          const int nx = std::max(1, static_cast<int>(std::floor(map.x() / request.spacing_m)));
          const int ny = std::max(1, static_cast<int>(std::floor(map.y() / request.spacing_m)));
          // The grid is centred on the map.
          const Eigen::Vector2d start =
              panel.flat.middle() - 0.5 * request.spacing_m * Eigen::Vector2d(nx, ny);
          for (int j = 0; j <= ny; ++j)
            for (int i = 0; i <= nx; ++i)
              if (auto spot = spot_at(panel,
                                      request,
                                      s,
                                      size,
                                      a,
                                      start + request.spacing_m * Eigen::Vector2d(i, j)))
                out.push_back(std::move(*spot));
        }
  return out;
}

bool in_the_way(const Spot& a, const Spot& b, double gap_m) {
  return share_area(
      panel::rectangle(a.centre, a.size + Eigen::Vector2d::Constant(2.0 * gap_m), a.angle_rad),
      b.outline);
}

}  // namespace calmplate::placement
