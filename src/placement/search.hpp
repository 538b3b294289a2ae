// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "base/progress.hpp"
#include "placement/judge.hpp"
#include "placement/search_request.hpp"

namespace calmplate::placement {

/// One moment of the search that led to the result.
struct SearchStep {
  int pieces = 0;
  double area_m2 = 0.0;
  double gain_db = 0.0;  ///< against nothing laid
};

struct SearchResult {
  std::vector<Spot> pieces;       ///< best layout found, in the order in which they were laid
  double gain_db = 0.0;           ///< what they give on the bench
  std::vector<SearchStep> steps;  ///< from nothing to all pieces, one a piece
  int spots = 0;                  ///< places that were free
  int screened = 0, solved = 0;   ///< first-order and full evaluations
  bool stopped = false;           ///< ended early on request: the best so far
};

/// Pieces that make the judged level small within the limits.
///
/// Grows the layout piece by piece: all free spots are screened by how they move the poles to first
/// order, the best few are solved in full, the best of these is laid. Then each piece in turn is
/// lifted and laid where it does most, half a grid step aside included, until nothing gains. From
/// several first pieces; the same request gives the same result on any number of threads.
///
/// @param benches  one for each temperature, all of the same panel and coordinates; must outlive
///                 the call
/// @param powers   one list for each bench, see Judge
/// @throws std::invalid_argument if there is no sheet, no bench or no wish
SearchResult search(const panel::Panel& panel,
                    const std::vector<const TrialBench*>& benches,
                    const std::vector<std::vector<PowerAt>>& powers,
                    const SearchRequest& request,
                    const base::Progress& progress);

}  // namespace calmplate::placement
