// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/polygon.hpp"

#include <CGAL/Boolean_set_operations_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_set_2.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>
#include <utility>

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;
using Exact = CGAL::Exact_predicates_exact_constructions_kernel;
using ExactPolygon = CGAL::Polygon_2<Exact>;
using ExactSet = CGAL::Polygon_set_2<Exact>;

double cross(const Vector2d& a, const Vector2d& b) { return a.x() * b.y() - a.y() * b.x(); }

ExactPolygon exact(const Corners& corners) {
  ExactPolygon polygon;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (!corners[i].allFinite()) throw std::invalid_argument("polygon: a corner is not finite");
    if (corners[i] != corners[(i + 1) % corners.size()])
      polygon.push_back(Exact::Point_2(corners[i].x(), corners[i].y()));
  }
  if (polygon.size() < 3 || !polygon.is_simple() || polygon.orientation() == CGAL::COLLINEAR)
    throw std::invalid_argument("polygon: has under three corners, no area, or crosses itself");
  if (polygon.orientation() == CGAL::CLOCKWISE) polygon.reverse_orientation();
  return polygon;
}

/// Signed loops as a set: first all outer boundaries, then the holes cut from them.
ExactSet exact_set(const std::vector<Corners>& loops) {
  std::vector<ExactPolygon> outer, inner;
  for (const Corners& loop : loops)
    (signed_area(loop) > 0.0 ? outer : inner).push_back(exact(loop));
  ExactSet set, holes;
  set.join(outer.begin(), outer.end());
  holes.join(inner.begin(), inner.end());
  if (!inner.empty()) set.difference(holes);
  return set;
}

ExactSet filled(const std::vector<Corners>& polygons) {
  std::vector<ExactPolygon> all;
  for (const Corners& polygon : polygons) all.push_back(exact(polygon));
  ExactSet set;
  set.join(all.begin(), all.end());
  return set;
}

/// Begins each loop at its lowest, then leftmost corner, and orders the loops by that corner.
std::vector<Corners> signed_loops(const ExactSet& set) {
  std::vector<CGAL::Polygon_with_holes_2<Exact>> parts;
  set.polygons_with_holes(std::back_inserter(parts));
  std::vector<Corners> loops;
  const auto add = [&](const ExactPolygon& polygon) {
    Corners loop;
    for (const auto& p : polygon.vertices())
      loop.emplace_back(CGAL::to_double(p.x()), CGAL::to_double(p.y()));
    const auto lower = [](const Vector2d& a, const Vector2d& b) {
      return std::make_pair(a.y(), a.x()) < std::make_pair(b.y(), b.x());
    };
    std::rotate(loop.begin(), std::min_element(loop.begin(), loop.end(), lower), loop.end());
    loops.push_back(std::move(loop));
  };
  for (const auto& part : parts) {
    add(part.outer_boundary());
    for (const auto& hole : part.holes()) add(hole);
  }
  std::stable_sort(loops.begin(), loops.end(), [](const Corners& a, const Corners& b) {
    return std::make_pair(a[0].y(), a[0].x()) < std::make_pair(b[0].y(), b[0].x());
  });
  return loops;
}

}  // namespace

Corners to_corners(const Polygon& polygon) {
  Corners corners;
  for (Eigen::Index i = 0; i < polygon.rows(); ++i)
    corners.emplace_back(polygon(i, 0), polygon(i, 1));
  return corners;
}

Polygon to_polygon(const Corners& corners) {
  Polygon polygon(static_cast<Eigen::Index>(corners.size()), 2);
  for (std::size_t i = 0; i < corners.size(); ++i)
    polygon.row(static_cast<Eigen::Index>(i)) = corners[i].transpose();
  return polygon;
}

double signed_area(const Corners& corners) {
  double sum = 0.0;
  for (std::size_t i = 1; i + 1 < corners.size(); ++i)
    sum += cross(corners[i] - corners[0], corners[i + 1] - corners[0]);
  return 0.5 * sum;
}

bool is_convex(const Corners& corners) {
  const std::size_t n = corners.size();
  if (n < 3) return false;
  double turning = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const Vector2d in = corners[(i + 1) % n] - corners[i];
    const Vector2d out = corners[(i + 2) % n] - corners[(i + 1) % n];
    if (cross(in, out) < 0.0) return false;
    turning += std::atan2(cross(in, out), in.dot(out));
  }
  return turning < 7.0;  // one full turn is 6.28, two are 12.6
}

void clip(Corners& subject, const Corners& window, Corners& work) {
  for (std::size_t side = 0; side < window.size() && !subject.empty(); ++side) {
    const Vector2d& from = window[side];
    const Vector2d along = window[(side + 1) % window.size()] - from;
    work.clear();
    double before = cross(along, subject.back() - from);
    for (std::size_t i = 0; i < subject.size(); ++i) {
      const Vector2d& last = subject[i == 0 ? subject.size() - 1 : i - 1];
      const double now = cross(along, subject[i] - from);
      if ((before < 0.0 && now > 0.0) || (before > 0.0 && now < 0.0))
        work.push_back(last + before / (before - now) * (subject[i] - last));
      if (now >= 0.0) work.push_back(subject[i]);
      before = now;
    }
    subject.swap(work);
  }
}

std::vector<Corners> united(const std::vector<Corners>& polygons) {
  return signed_loops(filled(polygons));
}

std::vector<Corners> subtracted(const std::vector<Corners>& from,
                                const std::vector<Corners>& holes) {
  ExactSet set = exact_set(from);
  set.difference(filled(holes));
  return signed_loops(set);
}

std::vector<Corners> intersected(const std::vector<Corners>& a, const std::vector<Corners>& b) {
  ExactSet set = exact_set(a);
  set.intersection(exact_set(b));
  return signed_loops(set);
}

}  // namespace calmplate::panel
