// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "base/progress.hpp"
#include "panel/cover.hpp"
#include "placement/trial_bench.hpp"
#include "sheet/sheet.hpp"

namespace calmplate::placement {

/// What to try where.
struct MapRequest {
  const sheet::Sheet* sheet = nullptr;
  bool outer_face = false;
  double piece_m = 0.150;                ///< side of the square trial piece
  double spacing_m = 0.050;              ///< distance between places
  std::vector<panel::Polygon> keep_out;  ///< cut from the trial piece
  /// Regions of the layout below, with their face; a trial piece that would overlap is left out
  std::vector<panel::Region> taken;
  unsigned threads = 1;
};

/// One place on the map.
struct Place {
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();  ///< m on the flat map
  double area_m2 = 0.0;     ///< that the piece covers here (less than full at the rim)
  double benefit_db = 0.0;  ///< fall of the band response, above 0 is good
};

/// How much the band response falls if one trial piece is laid at each place in turn.
struct BenefitMap {
  std::vector<Place> places;  ///< only where at least half of the piece lies on free skin
  int best = -1;              ///< index into places, -1 if there is none
  /// [n_node] dB, bilinear between places; NaN where no place is near
  Eigen::VectorXd at_nodes;
};

/// @throws std::invalid_argument if piece_m or spacing_m is not above 0 or sheet is null
/// @throws base::Cancelled
BenefitMap benefit_map(const panel::Panel& panel,
                       const TrialBench& bench,
                       const MapRequest& request,
                       const base::Progress& progress);

}  // namespace calmplate::placement
