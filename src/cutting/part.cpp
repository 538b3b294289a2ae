// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/part.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <stdexcept>
#include <utility>

#include "base/units.hpp"
#include "cutting/cut_tree.hpp"
#include "panel/polygon.hpp"

namespace calmplate::cutting {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;
using panel::Corners;

constexpr double kSmallestPart_m2 = 25e-6;  ///< smaller crumbs of a split piece are left out
constexpr double kFull = 1e-6;              ///< share of a rectangle that may be missing
constexpr double kWorthTurning = 1e-3;      ///< share of area that a turned rectangle must save
constexpr int kMostCells = 60;              ///< of one piece that is split

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

/// Source: [memory] monotone chain, Andrew 1979; anticlockwise, without corners on a straight line.
Corners hull_of(Corners points) {
  std::sort(points.begin(), points.end(), [](const Vector2d& a, const Vector2d& b) {
    return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
  });
  Corners hull;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t first = hull.size();
    for (const Vector2d& p : points) {
      while (hull.size() >= first + 2 &&
             cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0)
        hull.pop_back();
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

struct Fit {
  PaperFrame frame;
  Vector2d size = Vector2d::Zero();
  bool held = false;
};

/// The rectangle round the hull whose sides are turned by `angle` against the map (mirrored or
/// not).
Fit rectangle_at(const Corners& hull, double angle, bool mirrored, const Stock& stock) {
  Fit fit;
  Matrix2d mirror = Matrix2d::Identity();
  if (mirrored) mirror(0, 0) = -1.0;
  Matrix2d back;
  back << std::cos(angle), std::sin(angle), -std::sin(angle), std::cos(angle);
  fit.frame.turn = back * mirror;
  Vector2d low = fit.frame.turn * hull.front(), high = low;
  for (const Vector2d& p : hull) {
    const Vector2d q = fit.frame.turn * p;
    low = low.cwiseMin(q);
    high = high.cwiseMax(q);
  }
  fit.frame.shift = -low;
  fit.size = high - low;
  const Length w = length_to_cut(fit.size.x()), h = length_to_cut(fit.size.y());
  const auto holds = [&](double length_m, double width_m) {
    const Length l = length_at_hand(length_m), b = length_at_hand(width_m);
    return (stock.direction != Direction::up && w <= l && h <= b) ||
           (stock.direction != Direction::along && h <= l && w <= b);
  };
  fit.held = holds(stock.length_m, stock.width_m);
  for (const Vector2d& offcut : stock.offcuts_m)
    fit.held = fit.held || holds(offcut.x(), offcut.y());
  return fit;
}

/// The angle of a direction against the sides of a square, from -45 to 45 degrees.
double side_angle(const Vector2d& direction) {
  const double quarter = 0.5 * base::kPi;
  const double angle = std::atan2(direction.y(), direction.x());
  return angle - quarter * std::round(angle / quarter);
}

std::vector<Part> islands(const Part& whole, const std::vector<Corners>& loops) {
  std::vector<Part> parts;
  for (const Corners& loop : loops) {
    if (panel::signed_area(loop) < kSmallestPart_m2) continue;
    Part part = whole;
    part.loops = {panel::to_polygon(loop)};
    part.area_m2 = panel::signed_area(loop);
    parts.push_back(std::move(part));
  }
  // A hole belongs to the island that it lies in.
  for (const Corners& loop : loops) {
    const double area = panel::signed_area(loop);
    if (area >= 0.0) continue;
    const panel::Polygon hole = panel::to_polygon(loop);
    for (Part& part : parts)
      if (panel::overlap_area(part.loops.front(), hole) > -0.5 * area) {
        part.loops.push_back(hole);
        part.area_m2 += area;
        break;
      }
  }
  return parts;
}

/// A part cut into nx strips and ny rows of the rectangle that lies in `frame`.
std::vector<Part> cells_of(
    const Part& part, const PaperFrame& frame, const Vector2d& size, int nx, int ny) {
  std::vector<Part> cells;
  std::vector<Corners> whole;
  for (const panel::Polygon& loop : part.loops) whole.push_back(panel::to_corners(loop));
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      Corners cell;
      for (const Vector2d& corner :
           {Vector2d(i, j), Vector2d(i + 1, j), Vector2d(i + 1, j + 1), Vector2d(i, j + 1)})
        cell.push_back(frame.to_map(corner.cwiseProduct(size).cwiseQuotient(Vector2d(nx, ny))));
      if (panel::signed_area(cell) < 0.0) std::reverse(cell.begin(), cell.end());
      for (Part& island : islands(part, panel::intersected(whole, {cell}))) {
        island.was_split = true;
        cells.push_back(std::move(island));
      }
    }
  return cells;
}

/// Strips and rows, those with the shortest joints first.
std::vector<std::pair<int, int>> grids_of(int cells, const Vector2d& size) {
  std::vector<std::pair<int, int>> grids;
  for (int nx = 1; nx <= cells; ++nx)
    if (cells % nx == 0) grids.push_back({nx, cells / nx});
  std::stable_sort(grids.begin(), grids.end(), [&](const auto& a, const auto& b) {
    const auto joints = [&](const auto& g) {
      return (g.first - 1) * size.y() + (g.second - 1) * size.x();
    };
    return joints(a) < joints(b);
  });
  return grids;
}

/// Cuts a part into the fewest strips and rows of equal width, square to the map or to the part's
/// own rectangle, that the stock holds, each by its own smallest rectangle. Empty: kMostCells would
/// not do.
std::vector<Part> split_part(const Part& part, const Stock& stock) {
  const Corners hull = hull_of(panel::to_corners(part.loops.front()));
  std::vector<Fit> frames = {rectangle_at(hull, 0.0, !part.outer_face, stock),
                             {part.frame, part.size_m, false}};
  if (stock.direction != Direction::none) frames.pop_back();
  for (int count = 2; count <= kMostCells; ++count) {
    // No cut can do with less than the area.
    if (part.area_m2 > count * stock.length_m * stock.width_m) continue;
    for (const Fit& fit : frames)
      for (const auto& [nx, ny] : grids_of(count, fit.size)) {
        std::vector<Part> cells = cells_of(part, fit.frame, fit.size, nx, ny);
        if (std::all_of(
                cells.begin(), cells.end(), [&](Part& cell) { return fit_rectangle(cell, stock); }))
          return cells;
      }
  }
  return {};
}

std::vector<Corners> loops_of(const panel::Panel& panel, const panel::Region& region) {
  std::vector<Corners> loops;
  if (region.outline.rows() == 0) {
    for (const panel::Polygon& loop : panel::outlines(panel, region))
      loops.push_back(panel::to_corners(loop));
    return loops;
  }
  // As written: what hangs over the rim by the tape's error is not taken off.
  Corners outline = panel::to_corners(region.outline);
  if (panel::signed_area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
  return {outline};
}

[[noreturn]] void refuse(const PieceToCut& piece, const Part& part, const Stock& stock) {
  if (stock.length_m <= 0.0)
    throw base::InputError(stock.where,
                           "has no stock size, and " + mm_text(part.size_m.x()) + " x " +
                               mm_text(part.size_m.y()) + " mm of it are to be cut",
                           "stock_width_mm and stock_length_mm as it is sold");
  const std::string turning =
      stock.direction == Direction::none ? "" : ", which may not be turned for its direction";
  throw base::InputError(piece.where,
                         "is " + mm_text(part.size_m.x()) + " x " + mm_text(part.size_m.y()) +
                             " mm when cut, larger than the stock of \"" + stock.sheet + "\", " +
                             mm_text(stock.width_m) + " x " + mm_text(stock.length_m) + " mm" +
                             turning,
                         "pieces that the stock holds, or split = true under [cutting]");
}

/// The parts of one sheet of the piece.
std::vector<Part> layer_parts(const PieceToCut& piece,
                              const Part& whole,
                              const std::vector<Corners>& loops,
                              const Stock& stock,
                              bool split) {
  std::vector<Part> parts;
  for (Part& island : islands(whole, loops)) {
    if (fit_rectangle(island, stock)) {
      parts.push_back(std::move(island));
      continue;
    }
    if (!split || stock.length_m <= 0.0) refuse(piece, island, stock);
    std::vector<Part> cells = split_part(island, stock);
    if (cells.empty()) refuse(piece, island, stock);
    for (Part& cell : cells) parts.push_back(std::move(cell));
  }
  return parts;
}

}  // namespace

std::string mm_text(double metres) {
  char text[32];
  const double mm = std::round(base::to_mm(metres) * 10.0) / 10.0;
  std::snprintf(text, sizeof text, mm == std::round(mm) ? "%.0f" : "%.1f", mm + 0.0);
  return text;
}

const Stock& stock_of(const std::vector<Stock>& stocks, const std::string& sheet) {
  for (const Stock& stock : stocks)
    if (stock.sheet == sheet) return stock;
  throw std::invalid_argument("stock_of: no stock of " + sheet);
}

bool on_part(const Part& part, const Vector2d& p) {
  bool in = false;
  for (const panel::Polygon& loop : part.loops)
    for (Eigen::Index i = 0, j = loop.rows() - 1; i < loop.rows(); j = i++) {
      const double xi = loop(i, 0), yi = loop(i, 1), xj = loop(j, 0), yj = loop(j, 1);
      if ((yi > p.y()) != (yj > p.y()) && p.x() < xi + (xj - xi) * (p.y() - yi) / (yj - yi))
        in = !in;
    }
  return in;
}

LabelPlace label_place(const Part& part) {
  constexpr int kSteps = 30;
  LabelPlace best{part.frame.to_map(0.5 * part.size_m), 0.0};
  if (part.rectangular) {
    best.clear_m = 0.5 * part.size_m.minCoeff();
    return best;
  }
  for (int j = 1; j < kSteps; ++j)
    for (int i = 1; i < kSteps; ++i) {
      const Vector2d p = part.frame.to_map(Vector2d(i, j).cwiseProduct(part.size_m) / kSteps);
      if (!on_part(part, p)) continue;
      double clear = std::numeric_limits<double>::max();
      for (const panel::Polygon& loop : part.loops)
        for (Eigen::Index k = 0; k < loop.rows(); ++k) {
          const Vector2d a = loop.row(k).transpose();
          const Vector2d d = loop.row((k + 1) % loop.rows()).transpose() - a;
          const double length2 = d.squaredNorm();
          const double s = length2 > 0.0 ? std::clamp((p - a).dot(d) / length2, 0.0, 1.0) : 0.0;
          clear = std::min(clear, (a + s * d - p).norm());
        }
      if (clear > best.clear_m + 1e-9) best = {p, clear};
    }
  return best;
}

bool fit_rectangle(Part& part, const Stock& stock) {
  const Corners hull = hull_of(panel::to_corners(part.loops.front()));
  std::vector<double> angles = {0.0};
  if (stock.direction == Direction::none)
    for (std::size_t i = 0; i < hull.size(); ++i) {
      Vector2d side = hull[(i + 1) % hull.size()] - hull[i];
      if (!part.outer_face) side.x() = -side.x();
      angles.push_back(side_angle(side));
    }
  Fit best;
  for (const double angle : angles) {
    const Fit fit = rectangle_at(hull, angle, !part.outer_face, stock);
    // A rectangle square to the map comes first and is left only for one that is really smaller.
    const bool smaller = fit.size.prod() < best.size.prod() * (1.0 - kWorthTurning);
    if (best.size.x() == 0.0 || (fit.held && !best.held) || (fit.held == best.held && smaller))
      best = fit;
  }
  part.frame = best.frame;
  part.size_m = best.size;
  part.rectangular = part.area_m2 >= (1.0 - kFull) * best.size.prod();
  return best.held;
}

std::vector<Part> parts_of(const panel::Panel& panel,
                           const PieceToCut& piece,
                           const std::vector<Stock>& stocks,
                           bool split) {
  const std::vector<Corners> loops = loops_of(panel, piece.region);
  std::vector<Part> parts;
  for (std::size_t layer = 0; layer < piece.sheets.size(); ++layer) {
    Part whole;
    whole.layout = piece.layout;
    whole.piece = piece.number;
    whole.sheet = piece.sheets[layer];
    whole.outer_face = piece.outer_face;
    std::string label = std::to_string(piece.number);
    if (piece.sheets.size() > 1) label += static_cast<char>('a' + layer);
    std::vector<Part> made = layer_parts(piece, whole, loops, stock_of(stocks, whole.sheet), split);
    for (std::size_t k = 0; k < made.size(); ++k) {
      made[k].label = made.size() > 1 ? label + "." + std::to_string(k + 1) : label;
      parts.push_back(std::move(made[k]));
    }
  }
  return parts;
}

}  // namespace calmplate::cutting
