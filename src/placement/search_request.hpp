// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <limits>
#include <vector>

#include "panel/cover.hpp"
#include "sheet/sheet.hpp"

namespace calmplate::placement {

/// What a layout is judged by, all in dB and lower is better.
enum class Goal {
  velocity,     ///< mean square velocity of the skin over the band
  radiated,     ///< sound power of its outer face over the band
  worst_third,  ///< velocity in the worst one-third octave of the band
  worst_point   ///< velocity at the worst named point over the band
};

/// One goal and how much it counts.
struct Wish {
  Goal goal = Goal::velocity;
  double weight = 1.0;  ///< above 0
};

/// A sheet to place and the pieces a person cuts from it.
struct SearchSheet {
  const sheet::Sheet* sheet = nullptr;  ///< must outlive the search
  std::vector<Eigen::Vector2d> sizes_m;
  /// Longer and shorter side up to which laid pieces may also be stretched, cut back and joined to
  /// any rectangle, in steps of the grid. 0: sizes_m only.
  Eigen::Vector2d free_up_to_m = Eigen::Vector2d::Zero();
};

/// How much may be laid. Infinity: no limit of that kind.
struct SearchLimits {
  double area_m2 = std::numeric_limits<double>::infinity();
  double mass_kg = std::numeric_limits<double>::infinity();
  double cost = std::numeric_limits<double>::infinity();    ///< by area, in the job's currency
  double sheets = std::numeric_limits<double>::infinity();  ///< stock sheets, by area
  int pieces = 1000;
};

struct SearchRequest {
  std::vector<SearchSheet> sheets;
  std::vector<double> angles_rad = {0.0};  ///< each size is tried at each angle and turned by 90
  double spacing_m = 0.05;                 ///< of the grid of places; moves go to half of it
  double gap_m = 0.0;                      ///< least distance between pieces
  double rim_margin_m = 0.0;               ///< from pieces to the rim and holes
  std::vector<panel::Polygon> keep_out;    ///< pieces stay out
  std::vector<panel::Polygon> taken;       ///< outlines of what is laid already
  bool outer_face = false;
  std::vector<Wish> wishes = {{}};
  bool worst_temperature = false;  ///< judge by the worst of the benches, else by their mean
  SearchLimits limits;
  int starts = 2;  ///< how many first pieces are followed to the end
  unsigned threads = 1;
};

/// A place for a piece that lies on the skin and out of every keep-out.
struct Spot {
  std::size_t sheet = 0;  ///< in SearchRequest::sheets
  Eigen::Vector2d centre = Eigen::Vector2d::Zero(), size = Eigen::Vector2d::Zero();  ///< m
  double angle_rad = 0.0;
  panel::Polygon outline;
  std::vector<panel::CoveredTriangle> covered;
  double area_m2 = 0.0;
};

}  // namespace calmplate::placement
