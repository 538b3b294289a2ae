// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/cover.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

#include "panel/polygon.hpp"
#include "panel/region_domain.hpp"

namespace calmplate::panel {
namespace {

using Eigen::Vector2d;

constexpr double kSmallestShare = 1e-9;
constexpr double kWhole = 1e-12;  // a share nearer to 1 than this is 1

struct Box {
  Vector2d low, high;
  bool meets(const Box& other) const {
    return low.x() < other.high.x() && other.low.x() < high.x() && low.y() < other.high.y() &&
           other.low.y() < high.y();
  }
};

Box box_of(const Corners& corners) {
  Box box{corners.front(), corners.front()};
  for (const Vector2d& p : corners) {
    box.low = box.low.cwiseMin(p);
    box.high = box.high.cwiseMax(p);
  }
  return box;
}

Corners anticlockwise(const Polygon& polygon, const char* what) {
  if (polygon.rows() < 3 || !polygon.allFinite())
    throw std::invalid_argument(std::string("region: ") + what +
                                " has under three corners or one that is not finite");
  Corners corners = to_corners(polygon);
  if (signed_area(corners) < 0.0) std::reverse(corners.begin(), corners.end());
  return corners;
}

/// A region made ready for clipping: area in a triangle = area of `window` there (of the triangle
/// itself if it is empty, or of the signed `loops` if there are some) minus that of `cuts`.
struct Ready {
  Corners window;              // convex, anticlockwise
  std::vector<Corners> loops;  // signed; used where the outline is not convex
  std::vector<Corners> cuts;   // signed, overlap-free
  bool outlined = false;
  Box box;
};

/// Holes that can matter, without overlaps between them.
std::vector<Corners> separate_holes(const Region& region, const Box* box) {
  std::vector<Corners> holes;
  std::vector<Box> boxes;
  bool apart = true;
  for (const Polygon& polygon : region.holes) {
    Corners hole = anticlockwise(polygon, "a hole");
    const Box here = box_of(hole);
    if (box != nullptr && !box->meets(here)) continue;
    for (const Box& other : boxes) apart = apart && !other.meets(here);
    boxes.push_back(here);
    holes.push_back(std::move(hole));
  }
  return apart ? holes : united(holes);
}

Ready make_ready(const Region& region) {
  Ready ready;
  if (region.outline.rows() == 0) {
    ready.cuts = separate_holes(region, nullptr);
    return ready;
  }
  ready.outlined = true;
  Corners outline = anticlockwise(region.outline, "the outline");
  ready.box = box_of(outline);
  ready.cuts = separate_holes(region, &ready.box);
  if (is_convex(outline)) {
    ready.window = std::move(outline);
  } else if (ready.cuts.empty()) {
    ready.loops.push_back(std::move(outline));
  } else {
    ready.loops = subtracted({outline}, ready.cuts);
    ready.cuts.clear();
  }
  return ready;
}

/// True if the triangle lies wholly in the convex window.
bool wholly_in(const Corners& triangle, const Corners& window) {
  for (std::size_t i = 0; i < window.size(); ++i) {
    const Vector2d along = window[(i + 1) % window.size()] - window[i];
    for (const Vector2d& p : triangle) {
      const Vector2d to = p - window[i];
      if (along.x() * to.y() - along.y() * to.x() < 0.0) return false;
    }
  }
  return true;
}

/// Buffers that are used again for every triangle.
struct Scratch {
  Corners domain, piece, part, work;
};

/// Area of the region in one triangle on the map.
double area_in(const Ready& ready, Scratch& s) {
  if (!ready.loops.empty()) {
    double sum = 0.0;
    for (const Corners& loop : ready.loops) {
      s.part = loop;
      clip(s.part, s.domain, s.work);
      sum += signed_area(s.part);
    }
    return sum;
  }
  s.piece = s.domain;
  if (!ready.window.empty() && !wholly_in(s.domain, ready.window))
    clip(s.piece, ready.window, s.work);
  if (s.piece.size() < 3) return 0.0;
  double sum = signed_area(s.piece);
  for (const Corners& cut : ready.cuts) {
    s.part = cut;
    clip(s.part, s.piece, s.work);
    sum -= signed_area(s.part);
  }
  return sum;
}

void check_margins(const Region& region) {
  if (!(region.rim_margin_m >= 0.0) || !(region.hole_margin_m >= 0.0))
    throw std::invalid_argument("region: a margin is negative or not a number");
}

}  // namespace

std::vector<CoveredTriangle> cover(const Panel& panel, const Region& region) {
  check_margins(region);
  const Ready ready = make_ready(region);
  std::vector<CoveredTriangle> covered;
  if (ready.outlined && ready.window.empty() && ready.loops.empty()) return covered;
  const RegionDomain domain(panel, region.rim_margin_m, region.hole_margin_m);
  Scratch scratch;
  const auto take = [&](int t) {
    const double whole = domain.triangle_area(t);
    domain.corners(t, scratch.domain);
    if (scratch.domain.size() < 3) return;
    const double share = area_in(ready, scratch) / whole;
    if (share >= kSmallestShare) covered.push_back({t, share > 1.0 - kWhole ? 1.0 : share});
  };
  if (ready.outlined) {
    for (const int t : panel.flat.triangles_in_box(ready.box.low, ready.box.high)) take(t);
  } else {
    for (int t = 0; t < static_cast<int>(panel.mesh.triangles.rows()); ++t) take(t);
  }
  return covered;
}

double covered_area(const Panel& panel, const std::vector<CoveredTriangle>& covered) {
  double sum = 0.0;
  for (const CoveredTriangle& c : covered) {
    if (c.triangle < 0 || c.triangle >= panel.mesh.triangles.rows())
      throw std::out_of_range("covered_area: no such triangle");
    const Eigen::Vector3d a = panel.mesh.nodes.row(panel.mesh.triangles(c.triangle, 0)).transpose();
    const Eigen::Vector3d b = panel.mesh.nodes.row(panel.mesh.triangles(c.triangle, 1)).transpose();
    const Eigen::Vector3d d = panel.mesh.nodes.row(panel.mesh.triangles(c.triangle, 2)).transpose();
    sum += c.fraction * 0.5 * (b - a).cross(d - a).norm();
  }
  return sum;
}

std::vector<Polygon> outlines(const Panel& panel, const Region& region) {
  check_margins(region);
  std::vector<Corners> loops =
      RegionDomain(panel, region.rim_margin_m, region.hole_margin_m).loops();
  if (region.outline.rows() > 0 && !loops.empty())
    loops = intersected(loops, {anticlockwise(region.outline, "the outline")});
  if (!region.holes.empty() && !loops.empty()) {
    std::vector<Corners> holes;
    for (const Polygon& hole : region.holes) holes.push_back(anticlockwise(hole, "a hole"));
    loops = subtracted(loops, holes);
  }
  std::vector<Polygon> polygons;
  for (const Corners& loop : loops) polygons.push_back(to_polygon(loop));
  return polygons;
}

Polygon rectangle(const Vector2d& centre, const Vector2d& size, double angle_rad) {
  const Vector2d x = 0.5 * size.x() * Vector2d(std::cos(angle_rad), std::sin(angle_rad));
  const Vector2d y = 0.5 * size.y() * Vector2d(-std::sin(angle_rad), std::cos(angle_rad));
  Polygon polygon(4, 2);
  polygon.row(0) = (centre - x - y).transpose();
  polygon.row(1) = (centre + x - y).transpose();
  polygon.row(2) = (centre + x + y).transpose();
  polygon.row(3) = (centre - x + y).transpose();
  return polygon;
}

double polygon_area(const Polygon& polygon) { return signed_area(to_corners(polygon)); }

double share_on_panel(const Panel& panel, const Polygon& polygon) {
  Region region;
  region.outline = polygon;
  const Ready ready = make_ready(region);
  const double whole = signed_area(ready.window.empty() ? ready.loops.front() : ready.window);
  if (!(whole > 0.0)) throw std::invalid_argument("share_on_panel: the polygon has no area");
  const RegionDomain domain(panel, 0.0, 0.0);
  Scratch scratch;
  double sum = 0.0;
  for (const int t : panel.flat.triangles_in_box(ready.box.low, ready.box.high)) {
    domain.corners(t, scratch.domain);
    sum += area_in(ready, scratch);
  }
  const double share = sum / whole;
  return share > 1.0 - kWhole ? 1.0 : std::max(share, 0.0);
}

double overlap_area(const Polygon& a, const Polygon& b) {
  Corners first = anticlockwise(a, "a polygon"), second = anticlockwise(b, "a polygon"), work;
  if (!box_of(first).meets(box_of(second))) return 0.0;
  if (is_convex(first)) std::swap(first, second);
  if (is_convex(second)) {
    clip(first, second, work);
    return first.size() < 3 ? 0.0 : std::max(0.0, signed_area(first));
  }
  double sum = 0.0;
  for (const Corners& loop : intersected({first}, {second})) sum += signed_area(loop);
  return std::max(0.0, sum);
}

}  // namespace calmplate::panel
