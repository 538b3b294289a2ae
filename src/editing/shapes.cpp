// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "base/units.hpp"
#include "editing/laid.hpp"
#include "editing/rounding.hpp"

namespace calmplate::editing {

job::WrittenPiece moved(job::WrittenPiece piece, const Eigen::Vector2d& by) {
  const Eigen::Vector2d step_mm = tenths(1e3 * by);
  if (piece.shape == job::Shape::rectangle)
    piece.centre_mm = thousandths(piece.centre_mm + step_mm);
  for (Eigen::Index i = 0; i < piece.outline_mm.rows(); ++i)
    piece.outline_mm.row(i) =
        thousandths(piece.outline_mm.row(i).transpose() + step_mm).transpose();
  return piece;
}

job::WrittenPiece turned(job::WrittenPiece piece, double by_deg) {
  const double step_deg = tenths(by_deg);
  if (piece.shape == job::Shape::rectangle) {
    // -180 to 180, so that turning on never leaves what the job allows.
    piece.angle_deg = thousandths(std::remainder(piece.angle_deg + step_deg, 360.0));
    return piece;
  }
  if (piece.outline_mm.rows() == 0) return piece;
  const Eigen::RowVector2d middle =
      0.5 * (piece.outline_mm.colwise().minCoeff() + piece.outline_mm.colwise().maxCoeff());
  const double c = std::cos(base::from_degrees(step_deg)),
               s = std::sin(base::from_degrees(step_deg));
  for (Eigen::Index i = 0; i < piece.outline_mm.rows(); ++i) {
    const Eigen::RowVector2d from = piece.outline_mm.row(i) - middle;
    const Eigen::Vector2d to(c * from.x() - s * from.y(), s * from.x() + c * from.y());
    piece.outline_mm.row(i) = thousandths(middle.transpose() + to).transpose();
  }
  return piece;
}

panel::Polygon corners_of(const job::WrittenPiece& piece) {
  if (piece.shape == job::Shape::rectangle)
    return panel::rectangle(
        1e-3 * piece.centre_mm, 1e-3 * piece.size_mm, base::from_degrees(piece.angle_deg));
  return 1e-3 * piece.outline_mm;
}

}  // namespace calmplate::editing
