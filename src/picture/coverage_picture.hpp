// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "picture/area_image.hpp"
#include "picture/json_reader.hpp"
#include "picture/render_window.hpp"

namespace calmplate::picture {

struct Results;

/// One layout on the way from nothing to a full cover.
struct CoveragePoint {
  int pieces = 0;
  double share = 0.0;  ///< of the skin
  double mass_kg = 0.0;
  double cost = 0.0;  ///< 0: no price given
  double reduction_db = 0.0;
};

/// Benefit against coverage.
struct Coverage {
  std::string layout;
  std::string sentence;
  std::size_t knee = 0;
  std::vector<CoveragePoint> points;  ///< at least two, shares ascending
};

/// @param json  "coverage_curve" of results.json
/// @throws base::InputError naming file, key, what is wrong and what is allowed
Coverage read_coverage(const JsonReader& json);

RgbaImage draw_coverage(RenderWindow& window, const Results& results);

}  // namespace calmplate::picture
