// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cutting/cut_tree.hpp"
#include "cutting/part.hpp"

namespace calmplate::cutting {

/// A rectangle on stock, m: lower left corner, size along x (the stock's length) and y.
struct Box {
  double x_m = 0.0, y_m = 0.0, w_m = 0.0, h_m = 0.0;
  double area_m2() const { return w_m * h_m; }
};

/// What lies on one side of a cut.
struct Side {
  enum class Kind { part, cut, offcut, scrap, nothing };
  Kind kind = Kind::nothing;
  int number = 0;  ///< of the part in CutPlan::parts, of the next cut, of the offcut on this stock
};

/// One straight cut right across the rectangle that former cuts have left.
struct Cut {
  int number = 0;  ///< from 1 on each piece of stock, in the order of work
  CutAxis axis = CutAxis::x;
  double at_m = 0.0;                ///< from the stock's left (axis x) or lower edge
  double on_rest_m = 0.0;           ///< the same from the edge of the rectangle that is cut
  double lost_m = 0.0;              ///< width that the cut takes away, above at_m
  double from_m = 0.0, to_m = 0.0;  ///< its ends along the other coordinate
  Box rest;                         ///< the rectangle that it cuts
  Side low, high;                   ///< to the left or below; to the right or above
};

struct PlacedPart {
  int part = 0;  ///< index into CutPlan::parts
  Box box;
  bool turned = false;  ///< the part's paper lies turned by 90 degrees on the stock
};

enum class StockKind { sheet, roll, offcut };

/// One piece of stock and all that is cut from it, seen from the side that is seen when it is laid.
struct StockPlan {
  StockKind kind = StockKind::sheet;
  int number = 0;  ///< from 1 among those of its kind and sheet
  double length_m = 0.0, width_m = 0.0;
  std::vector<PlacedPart> parts;
  std::vector<Cut> cuts;
  std::vector<Box> offcuts;  ///< rests worth keeping
  std::vector<Box> scrap;
};

/// Areas of all stock of a sheet that is cut up, m2; the five that follow add up to the first.
struct AreaCount {
  double stock = 0.0;
  double parts = 0.0;      ///< inside the outlines
  double trimmings = 0.0;  ///< between outlines and their rectangles
  double offcuts = 0.0;
  double scrap = 0.0;
  double gaps = 0.0;

  /// Share of what is used up that does not end on the skin; offcuts are not used up.
  double waste() const {
    const double used = stock - offcuts;
    return used > 0.0 ? 1.0 - parts / used : 0.0;
  }
};

/// All of one sheet.
struct SheetPlan {
  std::string sheet;
  StockForm form = StockForm::sheet;
  Direction direction = Direction::none;
  std::vector<StockPlan> stocks;  ///< offcuts first
  int bought = 0;
  double price = 0.0;  ///< of one; 0: not given
  double roll_used_m = 0.0;
  double roll_bound_m = 0.0;  ///< promise of the method for one roll; 0: does not apply
  double area_bound = 0.0;    ///< area to be cut from bought stock, in pieces of stock
  int fewest = 0;             ///< no plan can buy fewer
  double most = 0.0;          ///< promise of the method: bought is below this, or 1
  bool proven = false;        ///< no straight-cut plan buys less
  AreaCount area;

  double cost() const { return bought * price; }
};

struct CutPlan {
  std::vector<std::string> layouts;
  std::vector<Part> parts;
  std::vector<SheetPlan> sheets;  ///< those in use, in the order of the stock
  bool priced = false;            ///< every sheet that is bought has a price
  double cost = 0.0;

  int cut_count() const;
  double laid_m2() const;  ///< sheet laid, every layer counted
};

/// Nests parts on their stock, see nest().
/// @throws base::InputError at the sheet if parts are left over because an offcut that holds them
/// is
///         taken and stock is too small or of unknown size
CutPlan make_plan(const std::vector<Part>& parts,
                  const std::vector<Stock>& stocks,
                  const CuttingInput& input);

/// Minutes to clean, cut and lay: 10, and 1 a cut, 3 a part, 20 a square metre of sheet.
/// Source: [practice] common practice, no source; for the order of size only.
double laying_minutes(int cuts, int parts, double laid_m2);

}  // namespace calmplate::cutting
