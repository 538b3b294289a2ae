// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "base/input_error.hpp"

namespace calmplate::cutting {

/// How a sheet is sold: as sheets of one size, or as a roll of one width and a length.
enum class StockForm { sheet, roll };

/// Which way the stock's length runs on the laid piece, for sheets with a grain or a print.
enum class Direction {
  none,   ///< any: pieces may be turned on the stock
  along,  ///< along the panel, x of the flat map
  up      ///< up the panel, y of the flat map
};

/// What cutting needs to know of a sheet beside its size and price.
struct StockInput {
  StockForm form = StockForm::sheet;
  Direction direction = Direction::none;
};

/// Rests of a sheet that lie on the shelf.
struct OffcutInput {
  std::string sheet;
  Eigen::Vector2d size_m = Eigen::Vector2d::Zero();  ///< across and along the stock's length
  int count = 1;
  base::Where where;
};

struct CuttingInput {
  double gap_m = 0.0;                ///< lost at every cut; a knife loses nothing
  double smallest_offcut_m = 0.100;  ///< a rest with a shorter side is scrap
  bool split = false;                ///< pieces larger than the stock are cut in parts
  std::vector<OffcutInput> offcuts;
};

}  // namespace calmplate::cutting
