// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/flat_map.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "panel/flat_layout.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

/// A position may lie outside a triangle by this share of the triangle's height and still count as
/// in it: rounding must not open gaps between neighbours or at the rim.
constexpr double kEdgeSlack = 1e-9;

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

FlatPoints from_datum(FlatPoints points) {
  const Eigen::RowVector2d datum = points.colwise().minCoeff();
  points.rowwise() -= datum;
  return points;
}

}  // namespace

/// Uniform cells over the map; each lists the triangles whose bounding box meets it.
struct FlatMap::Grid {
  int nx = 1, ny = 1;
  double cell_m = 1.0;
  Vector2d low = Vector2d::Zero();
  std::vector<int> first;  // [nx ny + 1] into list
  std::vector<int> list;
  Eigen::Matrix<double, Eigen::Dynamic, 4, Eigen::RowMajor> box;  // [n_tri x 4] low x, y, high x, y
  struct RimEdge {
    int triangle, side;
  };
  std::vector<RimEdge> rim;

  int column(double x) const { return clamp_to((x - low.x()) / cell_m, nx); }
  int row(double y) const { return clamp_to((y - low.y()) / cell_m, ny); }
  static int clamp_to(double at, int count) {
    return at < 0.0 ? 0 : at >= count ? count - 1 : static_cast<int>(at);
  }
};

FlatMap::FlatMap(const Mesh& mesh, const Eigen::Vector3d& along, double tolerance)
    : FlatMap(mesh, from_datum(lay_flat(mesh, along, tolerance)), Known()) {}

FlatMap::FlatMap(const Mesh& mesh, const FlatPoints& points, Known)
    : nodes_(mesh.nodes), triangles_(mesh.triangles), points_(points) {
  if (points_.rows() != nodes_.rows() || points_.rows() == 0)
    throw std::invalid_argument("FlatMap: not as many points as nodes");
  low_ = points_.colwise().minCoeff().transpose();
  size_ = points_.colwise().maxCoeff().transpose() - low_;
  auto grid = std::make_shared<Grid>();
  grid->low = low_;
  const Eigen::Index n = triangles_.rows();
  grid->box.resize(n, 4);
  const Triangles across = neighbours(triangles_);
  for (Eigen::Index t = 0; t < n; ++t) {
    Vector2d low = points_.row(triangles_(t, 0)).transpose(), high = low;
    for (int k = 0; k < 3; ++k) {
      const int i = triangles_(t, k), j = triangles_(t, (k + 1) % 3);
      const Vector2d p = points_.row(i).transpose();
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
      const double skin = (nodes_.row(i) - nodes_.row(j)).norm();
      const double flat = (points_.row(i) - points_.row(j)).norm();
      worst_stretch_ = std::max(worst_stretch_, std::abs(flat / skin - 1.0));
      if (across(t, k) < 0) grid->rim.push_back({static_cast<int>(t), k});
    }
    grid->box.row(t) << low.transpose(), high.transpose();
    const Vector2d a = points_.row(triangles_(t, 0)).transpose();
    if (!(cross(points_.row(triangles_(t, 1)).transpose() - a,
                points_.row(triangles_(t, 2)).transpose() - a) > 0.0))
      throw std::invalid_argument("FlatMap: a triangle is turned over");
  }

  grid->cell_m =
      std::max(std::sqrt(size_.x() * size_.y() / static_cast<double>(n)), 1e-4 * size_.maxCoeff());
  grid->nx = 1 + static_cast<int>(size_.x() / grid->cell_m);
  grid->ny = 1 + static_cast<int>(size_.y() / grid->cell_m);
  grid->first.assign(static_cast<std::size_t>(grid->nx) * grid->ny + 1, 0);
  // First count, then fill: two passes over the same cells.
  std::vector<int> next;
  for (const bool fill : {false, true}) {
    if (fill) {
      for (std::size_t c = 1; c < grid->first.size(); ++c) grid->first[c] += grid->first[c - 1];
      grid->list.resize(static_cast<std::size_t>(grid->first.back()));
      next = grid->first;
    }
    for (Eigen::Index t = 0; t < n; ++t)
      for (int r = grid->row(grid->box(t, 1)); r <= grid->row(grid->box(t, 3)); ++r)
        for (int c = grid->column(grid->box(t, 0)); c <= grid->column(grid->box(t, 2)); ++c) {
          const auto cell = static_cast<std::size_t>(r) * grid->nx + c;
          if (fill)
            grid->list[static_cast<std::size_t>(next[cell]++)] = static_cast<int>(t);
          else
            ++grid->first[cell + 1];
        }
  }
  grid_ = std::move(grid);
}

std::optional<SkinPoint> FlatMap::to_skin(const Vector2d& flat) const {
  if (!flat.allFinite()) return std::nullopt;
  const auto cell =
      static_cast<std::size_t>(grid_->row(flat.y())) * grid_->nx + grid_->column(flat.x());
  SkinPoint best;
  double best_least = -kEdgeSlack;
  for (int i = grid_->first[cell]; i < grid_->first[cell + 1]; ++i) {
    const int t = grid_->list[static_cast<std::size_t>(i)];
    const Vector2d a = points_.row(triangles_(t, 0)).transpose() - flat;
    const Vector2d b = points_.row(triangles_(t, 1)).transpose() - flat;
    const Vector2d c = points_.row(triangles_(t, 2)).transpose() - flat;
    const Eigen::Vector3d part(cross(b, c), cross(c, a), cross(a, b));
    const Eigen::Vector3d weight = part / part.sum();
    if (weight.minCoeff() > best_least || (best.triangle < 0 && weight.minCoeff() >= best_least)) {
      best = {t, weight};
      best_least = weight.minCoeff();
    }
    if (best_least >= 0.0) break;
  }
  if (best.triangle < 0) return std::nullopt;
  best.weight = best.weight.cwiseMax(0.0);
  best.weight /= best.weight.sum();
  return best;
}

SkinPoint FlatMap::nearest(const Vector2d& flat) const {
  if (!flat.allFinite()) throw std::invalid_argument("FlatMap::nearest: position is not finite");
  if (const auto inside = to_skin(flat)) return *inside;
  SkinPoint best;
  double best_square = std::numeric_limits<double>::infinity();
  for (const Grid::RimEdge& edge : grid_->rim) {
    const int k = edge.side, next = (k + 1) % 3;
    const Vector2d a = points_.row(triangles_(edge.triangle, k)).transpose();
    const Vector2d ab = points_.row(triangles_(edge.triangle, next)).transpose() - a;
    const double share = std::clamp((flat - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
    const double square = (a + share * ab - flat).squaredNorm();
    if (square < best_square) {
      best_square = square;
      best.triangle = edge.triangle;
      best.weight.setZero();
      best.weight[k] = 1.0 - share;
      best.weight[next] = share;
    }
  }
  return best;
}

Vector2d FlatMap::to_flat(const SkinPoint& point) const {
  if (point.triangle < 0 || point.triangle >= triangles_.rows())
    throw std::out_of_range("FlatMap::to_flat: no such triangle");
  Vector2d sum = Vector2d::Zero();
  for (int k = 0; k < 3; ++k)
    sum += point.weight[k] * points_.row(triangles_(point.triangle, k)).transpose();
  return sum;
}

Eigen::Vector3d FlatMap::to_space(const SkinPoint& point) const {
  if (point.triangle < 0 || point.triangle >= triangles_.rows())
    throw std::out_of_range("FlatMap::to_space: no such triangle");
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (int k = 0; k < 3; ++k)
    sum += point.weight[k] * nodes_.row(triangles_(point.triangle, k)).transpose();
  return sum;
}

std::vector<int> FlatMap::triangles_in_box(const Vector2d& low, const Vector2d& high) const {
  std::vector<int> found;
  if (!(low.x() <= high.x() && low.y() <= high.y())) return found;
  for (int r = grid_->row(low.y()); r <= grid_->row(high.y()); ++r)
    for (int c = grid_->column(low.x()); c <= grid_->column(high.x()); ++c) {
      const auto cell = static_cast<std::size_t>(r) * grid_->nx + c;
      for (int i = grid_->first[cell]; i < grid_->first[cell + 1]; ++i) {
        const int t = grid_->list[static_cast<std::size_t>(i)];
        const auto box = grid_->box.row(t);
        if (box[0] <= high.x() && box[2] >= low.x() && box[1] <= high.y() && box[3] >= low.y())
          found.push_back(t);
      }
    }
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

}  // namespace calmplate::panel
