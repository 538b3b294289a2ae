// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/crown_spline.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "panel/line_geometry.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;
using Quadratic = Eigen::Matrix<double, 6, 1>;

constexpr double kSamePlace = 1e-3;      // m
constexpr double kShortestEdge = 10e-3;  // m
constexpr double kBesideEdge = 2e-3;     // m
constexpr double kRank = 1e-11;
constexpr double kMeets = 1e-6;  // m

Quadratic powers(const Vector2d& p) {
  Quadratic out;
  out << 1.0, p.x(), p.y(), p.x() * p.x(), p.x() * p.y(), p.y() * p.y();
  return out;
}

/// r^4 log r.
double radial(double square) {
  return square > 0.0 ? 0.5 * square * square * std::log(square) : 0.0;
}

void check_edge(const CrownPoint& p) {
  const Vector2d along = *p.to - *p.from;
  if (along.norm() < kShortestEdge)
    throw base::InputError(p.where, "has a straight edge shorter than 10 mm", "10 mm or more");
  FlatPoints edge(2, 2);
  edge << p.from->transpose(), p.to->transpose();
  const double share = (p.at - *p.from).dot(along) / along.squaredNorm();
  if (nearest_on_line(p.at, edge, false).distance_m > kBesideEdge || !(share > 0.0 && share < 1.0))
    throw base::InputError(p.where,
                           "does not lie on its straight edge, which goes from from_mm to to_mm",
                           "a place between the two, within 2 mm of the line");
}

bool same_measurement(const CrownPoint& a, const CrownPoint& b) {
  const auto near = [](const Vector2d& p, const Vector2d& q) {
    return (p - q).norm() < kSamePlace;
  };
  if (!near(a.at, b.at) || a.from.has_value() != b.from.has_value()) return false;
  return !a.from || (near(*a.from, *b.from) && near(*a.to, *b.to)) ||
         (near(*a.from, *b.to) && near(*a.to, *b.from));
}

void check_points(const std::vector<CrownPoint>& points) {
  if (points.empty()) throw std::invalid_argument("CrownSpline: no point");
  std::size_t edges = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (points[i].from) {
      check_edge(points[i]);
      ++edges;
    }
    for (std::size_t j = 0; j < i; ++j)
      if (same_measurement(points[i], points[j]))
        throw base::InputError(points[i].where,
                               "is measured where " + points[j].where.key + " is already",
                               "each place once");
  }
  if (edges == 0 && points.size() < 4)
    throw base::InputError(points[0].where,
                           "is one of " + std::to_string(points.size()) +
                               " heights over a plane, through which a flat skin goes too",
                           "four or more, or a gap under a straight edge (from_mm, to_mm)");
}

}  // namespace

CrownSpline::Measurement CrownSpline::measurement(const CrownPoint& p) const {
  if (!p.from) return {{scaled(p.at), 1.0}};
  const Vector2d along = *p.to - *p.from;
  const double share = (p.at - *p.from).dot(along) / along.squaredNorm();
  return {{scaled(*p.from + share * along), 1.0},
          {scaled(*p.from), share - 1.0},
          {scaled(*p.to), -share}};
}

double CrownSpline::kernel(const Vector2d& at, const Measurement& m) const {
  double sum = 0.0;
  for (const Term& term : m) sum += term.share * radial((at - term.at).squaredNorm());
  return sum;
}

double CrownSpline::scaled_height(const Vector2d& at) const {
  double sum = quadratic_.dot(powers(at));
  for (std::size_t i = 0; i < measurements_.size(); ++i)
    sum += weight_[static_cast<Eigen::Index>(i)] * kernel(at, measurements_[i]);
  return sum;
}

CrownSpline::CrownSpline(const std::vector<CrownPoint>& points) {
  check_points(points);
  Vector2d low = points[0].at, high = low;
  for (const CrownPoint& p : points)
    for (const Vector2d& at : {p.at, p.from.value_or(p.at), p.to.value_or(p.at)}) {
      low = low.cwiseMin(at);
      high = high.cwiseMax(at);
    }
  middle_ = 0.5 * (low + high);
  scale_m_ = std::max(0.5 * (high - low).norm(), kShortestEdge);
  for (const CrownPoint& p : points) measurements_.push_back(measurement(p));

  const auto n = static_cast<Eigen::Index>(points.size());
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n + 6, n + 6);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(n + 6);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& row = measurements_[static_cast<std::size_t>(i)];
    right[i] = points[static_cast<std::size_t>(i)].height_m;
    for (const Term& term : row) {
      matrix.block<1, 6>(i, n) += term.share * powers(term.at).transpose();
      for (Eigen::Index j = 0; j < n; ++j)
        matrix(i, j) += term.share * kernel(term.at, measurements_[static_cast<std::size_t>(j)]);
    }
  }
  matrix.bottomLeftCorner(6, n) = matrix.topRightCorner(n, 6).transpose();
  Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> solver;
  solver.setThreshold(kRank);
  solver.compute(matrix);
  const Eigen::VectorXd answer = solver.solve(right);
  weight_ = answer.head(n);
  quadratic_ = answer.tail<6>();

  for (Eigen::Index i = 0; i < n; ++i) {
    double height = 0.0;
    for (const Term& term : measurements_[static_cast<std::size_t>(i)])
      height += term.share * scaled_height(term.at);
    residual_ = std::max(residual_, std::abs(height - right[i]));
  }
  if (residual_ > kMeets)
    throw base::InputError(points[0].where,
                           "and the other crown heights contradict each other",
                           "heights that one smooth skin can have");
}

double CrownSpline::height(const Vector2d& at) const { return scaled_height(scaled(at)); }

}  // namespace calmplate::panel
