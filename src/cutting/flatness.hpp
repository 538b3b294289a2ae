// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "cutting/part.hpp"
#include "panel/panel.hpp"

namespace calmplate::cutting {

/// A cut from the edge of a part towards its middle that lets it follow a skin crowned both ways.
struct ReliefCut {
  Eigen::Vector2d from = Eigen::Vector2d::Zero();  ///< on the outline, m on the flat map
  Eigen::Vector2d to = Eigen::Vector2d::Zero();
  double width_m =
      0.0;  ///< at the edge: above 0 a wedge to take out, below 0 how far the cut opens
};

enum class LiesFlat {
  yes,
  relief_cuts,  ///< with the relief cuts listed
  warning       ///< crowned both ways in places of either sense, or too much: cut it smaller
};

/// How well a flat part lies on its place of the skin.
struct Flatness {
  /// Largest difference between a straight line on the template and the same line along the skin,
  /// m, over lines between points of the outline that stay on the part.
  double error_m = 0.0;
  double curvature = 0.0;  ///< Gaussian curvature summed over the part, rad; above 0: a dome
  double excess_m =
      0.0;  ///< what the edge of the flat part has too much (dome, above 0) or too little
  LiesFlat lies = LiesFlat::yes;
  std::vector<ReliefCut> cuts;
};

/// A part wants relief if its error is above kFlatError_m and its edge is out by as much.
///
/// A disc of radius a on a skin of Gaussian curvature K has a rim shorter than 2 pi a by
/// pi K a^3 / 3 (terms of higher order left out); a part counts as the disc of its area, K as its
/// mean. Each cut takes up to kCutTakes_m at the edge, and all run inwards to the radius inside
/// which what is left is below kFlatError_m. Above kMostCuts, or where domes and saddles in the
/// part cancel by more than half (a dish, a swage line), there is a warning instead.
///
/// Source: [derived] docs/cutting.md "Pieces that do not lie flat".
Flatness flatness_of(const panel::Panel& panel, const Part& part);

constexpr double kFlatError_m = 0.001;
constexpr double kCutTakes_m = 0.002;  ///< Source: [practice] common practice, no source
constexpr int kMostCuts = 8;

}  // namespace calmplate::cutting
