// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "job/job.hpp"
#include "job/written_layout.hpp"
#include "panel/cover.hpp"
#include "panel/panel.hpp"

namespace calmplate::editing {

/// A piece of sheet on the skin, ready to be drawn, weighed and solved. It never changes: a command
/// puts another in its place, so it may be read from any thread.
struct Laid {
  int id = 0;                 ///< the same over moves, cuts, undo and saving; never used twice
  job::WrittenPiece written;  ///< as it stands, or will stand, in the file
  job::Piece piece;           ///< as the job means it
  std::vector<panel::CoveredTriangle> covered;
  std::vector<panel::Polygon> outlines;  ///< m on the flat map; holes run clockwise
  double area_m2 = 0.0;
};

using Pieces = std::vector<std::shared_ptr<const Laid>>;  ///< of one layout

struct Layout {
  int id = 0;  ///< as of a piece
  std::string name;
  bool to_place = false;  ///< the program is to find its pieces: commands on them are refused
  Pieces pieces;
};

/// The same piece elsewhere, numbers with up to three decimals; what lies everywhere stays.
/// @param by  m, in steps of 0.1 mm
job::WrittenPiece moved(job::WrittenPiece piece, const Eigen::Vector2d& by);
/// About the middle of the box around it, anticlockwise. @param by_deg  in steps of 0.1
job::WrittenPiece turned(job::WrittenPiece piece, double by_deg);
/// Corners on the flat map, m. [n x 2], no row for what lies everywhere
panel::Polygon corners_of(const job::WrittenPiece& piece);

/// @param written  accepted by the job's readers as `piece`
std::shared_ptr<const Laid> make_laid(const panel::Panel& panel,
                                      int id,
                                      const job::WrittenPiece& written,
                                      const job::Piece& piece);

/// How much of one sheet's stock a layout takes.
struct StockCount {
  std::string sheet;
  double area_m2 = 0.0;
  double mass_kg = 0.0;
  double cost = 0.0;     ///< by area, without offcuts; 0 if no price is given
  double sheets = 0.0;   ///< stock sheets by area; 0: no stock size is given
  int whole_sheets = 0;  ///< the same in whole ones: no cutting plan can do with fewer
};

/// What a layout is, but for what it does.
struct Figures {
  int pieces = 0;
  double area_m2 = 0.0;
  double share = 0.0;  ///< of the skin's area
  double mass_kg = 0.0;
  double cost = 0.0;              ///< by area, without offcuts; 0 if no price is given
  std::vector<StockCount> stock;  ///< of the sheets in use, in the order of the job
};

/// The same figures as those of study::LayoutResult.
Figures figures_of(const job::Job& job, const panel::Panel& panel, const Layout& layout);

/// Stock sheets that the cutting module needs, by its own plan with offcuts and gaps: for showing
/// once the hand rests. Slower than figures_of: milliseconds for a few pieces.
struct StockPlan {
  int bought = 0;       ///< whole sheets, all kinds together
  double cost = 0.0;    ///< of what is bought
  bool proven = false;  ///< no plan of straight cuts buys less
};
/// @throws base::InputError if a piece is larger than its stock and may not be split
StockPlan plan_of(const job::Job& job, const panel::Panel& panel, const Layout& layout);

}  // namespace calmplate::editing
