// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "base/input_error.hpp"
#include "cutting/cutting_input.hpp"
#include "panel/cover.hpp"
#include "panel/panel.hpp"

namespace calmplate::cutting {

/// A piece of a layout, as it shall be cut.
struct PieceToCut {
  std::string layout;
  int number = 0;                   ///< from 1, as on the layout's map
  std::vector<std::string> sheets;  ///< from the skin outwards
  bool outer_face = false;
  panel::Region region;
  base::Where where;  ///< of the piece in the job, for messages
};

/// Stock of one sheet.
struct Stock {
  std::string sheet;
  StockForm form = StockForm::sheet;
  Direction direction = Direction::none;
  double length_m = 0.0;  ///< 0: size not given
  double width_m = 0.0;
  double price = 0.0;                      ///< of one piece of stock; 0: not given
  double mass_per_area = 0.0;              ///< kg/m2
  std::vector<Eigen::Vector2d> offcuts_m;  ///< [2] along and across the stock's length, one each
  base::Where where;                       ///< of the sheet in the job, for messages
};

/// The flat map turned and moved so that a part's cutting rectangle lies square at the origin, seen
/// from where the fitter stands when the part is laid: from inside the car for the inner face.
struct PaperFrame {
  Eigen::Matrix2d turn = Eigen::Matrix2d::Identity();  ///< with a mirror for the inner face
  Eigen::Vector2d shift = Eigen::Vector2d::Zero();

  Eigen::Vector2d to_paper(const Eigen::Vector2d& map) const { return turn * map + shift; }
  Eigen::Vector2d to_map(const Eigen::Vector2d& paper) const {
    return turn.transpose() * (paper - shift);
  }
};

/// What comes out of the stock in one go: a piece, one sheet of a stack, or a part of a piece that
/// is larger than the stock or falls apart at keep-outs.
struct Part {
  std::string layout;
  int piece = 0;      ///< number of the piece
  std::string label;  ///< "3"; "3a" is the sheet on the skin of a stack; "3.2" the second part
  std::string sheet;
  bool outer_face = false;
  bool was_split = false;             ///< because the whole is larger than the stock
  std::vector<panel::Polygon> loops;  ///< m on the flat map: outline anticlockwise, holes clockwise
  double area_m2 = 0.0;               ///< on the flat map
  PaperFrame frame;
  Eigen::Vector2d size_m = Eigen::Vector2d::Zero();  ///< of the cutting rectangle on paper
  bool rectangular = false;                          ///< it fills its cutting rectangle

  double rectangle_m2() const { return size_m.x() * size_m.y(); }
};

/// The smallest rectangle round a part that its stock can hold, among those with a side on the
/// part's convex hull (the smallest of all is one of them) and those square to the map; turned by
/// no more than 45 degrees, and only if that saves a thousandth of the area. A sheet with a
/// direction allows only those square to the map. Source: [memory] Freeman & Shapira 1975, the
/// smallest rectangle has a side on the hull; checked by [derived] turned shapes in tests/cutting.
/// @return false if none fits; the frame and size are then of the smallest there is
bool fit_rectangle(Part& part, const Stock& stock);

/// The place inside a part that lies farthest from its edges, to a 30th of its size: where a number
/// goes.
struct LabelPlace {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< m on the flat map
  double clear_m = 0.0;                          ///< distance to the nearest edge
};
LabelPlace label_place(const Part& part);

/// Whether a place on the flat map lies on the part: inside its outline and outside its holes.
bool on_part(const Part& part, const Eigen::Vector2d& map);

/// Parts of one piece, layer by layer, in reading order (left to right, then up, on paper).
/// @param split  parts too large for the stock are cut in strips and rows of equal width, as few as
///               let the stock hold each one's own rectangle
/// @throws base::InputError at the sheet if a part fits no offcut and the stock's size is not
/// given; at
///         the piece if a part is larger than the stock and may not be split
/// @throws std::invalid_argument if a sheet of the piece has no stock
std::vector<Part> parts_of(const panel::Panel& panel,
                           const PieceToCut& piece,
                           const std::vector<Stock>& stocks,
                           bool split);

/// The stock of a sheet. @throws std::invalid_argument if there is none
const Stock& stock_of(const std::vector<Stock>& stocks, const std::string& sheet);

/// A length for messages: millimetres, up to one decimal ("250", "249.6").
std::string mm_text(double metres);

}  // namespace calmplate::cutting
