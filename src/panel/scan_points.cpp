// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/scan_points.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/units.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

constexpr double kNear = 24.0;             // points in the narrowest circle
constexpr std::size_t kFewestFitted = 8;   // points of a fit
constexpr std::size_t kFewestJudged = 12;  // points of a place where noise is measured
constexpr std::size_t kNoisePlaces = 2000;
constexpr double kWiden = 1.25;
constexpr double kAhead = 1.6;     // points are looked up for so much more than the circle at hand
constexpr double kAgree = 1.5;     // standard errors
constexpr double kWidest = 0.060;  // m
constexpr int kBits = 21;          // of a cell's number along an axis

/// A plane through points and the two directions in it.
struct Frame {
  Vector3d u, v, normal;
};

template <typename Points>
Frame frame_of(const Points& points) {
  Vector3d mean = Vector3d::Zero();
  for (const Vector3d& p : points) mean += p / static_cast<double>(points.size());
  Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
  for (const Vector3d& p : points) spread += (p - mean) * (p - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes(spread);
  Frame frame;
  frame.normal = axes.eigenvectors().col(0);
  frame.u = axes.eigenvectors().col(2);
  frame.v = frame.normal.cross(frame.u);
  return frame;
}

/// Sums of a least-squares quadric over a plane, point by point. Lengths in units of `scale`.
class QuadricFit {
 public:
  QuadricFit(const Vector3d& origin, const Frame& frame, double scale)
      : origin_(origin), frame_(frame), scale_(scale) {}

  void add(const Vector3d& point) {
    const Vector3d d = (point - origin_) / scale_;
    const double u = d.dot(frame_.u), v = d.dot(frame_.v), w = d.dot(frame_.normal);
    Vector6d row;
    row << 1.0, u, v, u * u, u * v, v * v;
    normal_.triangularView<Eigen::Lower>() += row * row.transpose();
    right_ += w * row;
    square_ += w * w;
    ++count_;
  }

  std::size_t count() const { return count_; }

  /// Height over the origin and the variance of it for points of variance 1. @return false if the
  /// points do not settle it
  bool height(double& height, double& variance) const {
    if (count_ < kFewestFitted) return false;
    const Eigen::LDLT<Matrix6d, Eigen::Lower> solver(normal_);
    if (!(solver.vectorD().minCoeff() > 1e-9 * solver.vectorD().maxCoeff())) return false;
    const Vector6d unit = solver.solve(Vector6d::Unit(0));
    variance = unit[0];
    height = scale_ * unit.dot(right_);
    return variance > 0.0 && variance < 1.0 && std::isfinite(height);
  }

  /// Sum of squares that the quadric leaves over, m2.
  double left_over() const {
    const Vector6d x = Eigen::LDLT<Matrix6d, Eigen::Lower>(normal_).solve(right_);
    return std::max(0.0, square_ - x.dot(right_)) * scale_ * scale_;
  }

 private:
  Vector3d origin_;
  Frame frame_;
  double scale_;
  Matrix6d normal_ = Matrix6d::Zero();
  Vector6d right_ = Vector6d::Zero();
  double square_ = 0.0;
  std::size_t count_ = 0;
};

}  // namespace

ScanPoints::ScanPoints(const Nodes& nodes, double area_m2)
    : low_(nodes.colwise().minCoeff().transpose()) {
  const auto n = static_cast<std::size_t>(nodes.rows());
  const double extent = (nodes.colwise().maxCoeff() - nodes.colwise().minCoeff()).maxCoeff();
  cell_ = std::max(std::sqrt(kNear / base::kPi * area_m2 / static_cast<double>(n)),
                   1e-5 * extent + std::numeric_limits<double>::min());
  std::vector<std::pair<std::uint64_t, int>> order(n);
  for (std::size_t i = 0; i < n; ++i)
    order[i] = {key_of(nodes.row(static_cast<Eigen::Index>(i)).transpose(), 0),
                static_cast<int>(i)};
  std::sort(order.begin(), order.end());
  keys_.reserve(n);
  points_.reserve(n);
  for (const auto& [key, i] : order) {
    keys_.push_back(key);
    points_.emplace_back(nodes.row(i).transpose());
  }
}

std::uint64_t ScanPoints::key_of(const Vector3d& place, std::int64_t dx) const {
  std::uint64_t key = 0;
  for (int a = 2; a >= 0; --a) {
    std::int64_t at = static_cast<std::int64_t>(std::floor((place[a] - low_[a]) / cell_));
    if (a == 0) at += dx;
    at = std::clamp<std::int64_t>(at, 0, (std::int64_t{1} << kBits) - 1);
    key = key << kBits | static_cast<std::uint64_t>(at);
  }
  return key;
}

void ScanPoints::gather(const Vector3d& place, double radius, Near& near) const {
  near.clear();
  const auto reach = static_cast<std::int64_t>(std::ceil(radius / cell_));
  for (std::int64_t z = -reach; z <= reach; ++z)
    for (std::int64_t y = -reach; y <= reach; ++y) {
      const Vector3d row = place + cell_ * Vector3d(0.0, double(y), double(z));
      if (row.y() < low_.y() - cell_ || row.z() < low_.z() - cell_) continue;
      const auto begin =
          std::lower_bound(keys_.begin(), keys_.end(), key_of(row, -reach)) - keys_.begin();
      const std::uint64_t last = key_of(row, reach);
      for (auto i = static_cast<std::size_t>(begin); i < keys_.size() && keys_[i] <= last; ++i) {
        const double square = (points_[i] - place).squaredNorm();
        if (square <= radius * radius) near.emplace_back(square, i);
      }
    }
  std::sort(near.begin(), near.end());
  // Rows that lie before the first one fall together with it.
  near.erase(std::unique(near.begin(), near.end()), near.end());
}

double ScanPoints::noise() const {
  std::vector<double> variances;
  const std::size_t stride = 1 + points_.size() / kNoisePlaces;
  Near near;
  std::vector<Vector3d> round;
  for (std::size_t i = 0; i < points_.size(); i += stride) {
    gather(points_[i], cell_, near);
    if (near.size() < kFewestJudged) continue;
    round.clear();
    for (const auto& entry : near) round.push_back(points_[entry.second]);
    QuadricFit fit(points_[i], frame_of(round), cell_);
    for (const Vector3d& p : round) fit.add(p);
    // The median of a mean of squares lies a little below their mean.
    const double freedom = static_cast<double>(near.size()) - 6.0;
    const double median = std::pow(1.0 - 2.0 / (9.0 * freedom), 3);
    variances.push_back(fit.left_over() / (freedom * median));
  }
  if (variances.empty()) return 0.0;
  const auto middle = variances.begin() + static_cast<std::ptrdiff_t>(variances.size() / 2);
  std::nth_element(variances.begin(), middle, variances.end());
  return std::sqrt(*middle);
}

Vector3d ScanPoints::foot(const Vector3d& place, double noise_m, double enough_m) const {
  Near near;
  double gathered = std::min(kAhead * cell_, std::max(kWidest, cell_));
  gather(place, gathered, near);
  while (near.size() < kFewestJudged && gathered < kWidest) {
    gathered = std::min(2.0 * gathered, kWidest);
    gather(place, gathered, near);
  }
  if (near.size() < kFewestFitted) return place;
  std::vector<Vector3d> nearest;
  for (std::size_t i = 0; i < near.size() && i < std::size_t(kNear); ++i)
    nearest.push_back(points_[near[i].second]);
  const Frame frame = frame_of(nearest);
  QuadricFit fit(place, frame, cell_);
  std::size_t next = 0;
  double best = 0.0, low = -1e300, high = 1e300;
  for (double radius = cell_;; radius *= kWiden) {
    if (radius > gathered && gathered < kWidest) {
      gathered = std::min(kAhead * radius, kWidest);
      gather(place, gathered, near);
    }
    for (; next < near.size() && near[next].first <= radius * radius; ++next)
      fit.add(points_[near[next].second]);
    double height = 0.0, variance = 0.0;
    if (fit.height(height, variance)) {
      const double error = noise_m * std::sqrt(variance);
      low = std::max(low, height - kAgree * error);
      high = std::min(high, height + kAgree * error);
      if (low > high) break;
      best = height;
      if (error < enough_m) break;
    }
    if (radius >= gathered && gathered >= kWidest) break;
  }
  return place + best * frame.normal;
}

}  // namespace calmplate::panel
