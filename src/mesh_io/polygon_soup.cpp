// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/polygon_soup.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>
#include <CGAL/utility.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <exception>
#include <iterator>
#include <limits>
#include <string>

#include "base/input_error.hpp"

namespace calmplate::mesh_io {
namespace {

using Triple = std::array<PointNumber, 3>;

Eigen::Vector3d point(const PolygonSoup& soup, std::size_t i) {
  return Eigen::Map<const Eigen::Vector3d>(soup.points[i].data());
}

[[noreturn]] void refuse(const std::filesystem::path& file,
                         const std::string& wrong,
                         const std::string& allowed = "") {
  throw base::InputError({file.string(), 0, ""}, wrong, allowed);
}

void check(const PolygonSoup& soup, const std::filesystem::path& file) {
  if (soup.polygon_count() == 0)
    refuse(file,
           soup.lines_and_points == 0
               ? "holds no surface"
               : "holds no surface, only " + std::to_string(soup.lines_and_points) +
                     " lines or points",
           "triangles, quads or polygons");
  if (soup.points.size() > static_cast<std::size_t>(std::numeric_limits<int>::max()))
    refuse(file, "has more points than can be counted", "up to 2147483647");
  for (std::size_t i = 0; i < soup.points.size(); ++i)
    for (const double x : soup.points[i])
      if (!std::isfinite(x))
        refuse(file, "point " + std::to_string(i) + " has a coordinate that is no finite number");
  for (std::size_t p = 0; p < soup.polygon_count(); ++p) {
    const PolygonView polygon = soup.polygon(p);
    if (polygon.size < 3)
      refuse(file,
             "polygon " + std::to_string(p) + " has " + std::to_string(polygon.size) + " points",
             "3 or more");
    for (const std::size_t i : polygon)
      if (i >= soup.points.size())
        refuse(file,
               "polygon " + std::to_string(p) + " names a point that does not exist",
               soup.points.empty() ? "there is none"
                                   : "0 to " + std::to_string(soup.points.size() - 1));
  }
}

/// Twice the triangle's vector area.
Eigen::Vector3d vector_area(const PolygonSoup& soup, std::size_t a, std::size_t b, std::size_t c) {
  return (point(soup, b) - point(soup, a)).cross(point(soup, c) - point(soup, a));
}

void cut_quad(const PolygonSoup& soup, const PolygonView& q, std::vector<Triple>& out) {
  const Eigen::Vector3d up =
      vector_area(soup, q[0], q[1], q[2]) + vector_area(soup, q[0], q[2], q[3]);
  // The smaller of the two halves, seen along the quad's own normal; below 0: turned over.
  const auto smaller_half = [&](std::size_t a, std::size_t b, std::size_t c, std::size_t d) {
    return std::min(vector_area(soup, a, b, c).dot(up), vector_area(soup, a, c, d).dot(up));
  };
  const bool first_upright = smaller_half(q[0], q[1], q[2], q[3]) > 0.0;
  const bool second_upright = smaller_half(q[1], q[2], q[3], q[0]) > 0.0;
  const bool first_shorter = (point(soup, q[0]) - point(soup, q[2])).squaredNorm() <=
                             (point(soup, q[1]) - point(soup, q[3])).squaredNorm();
  if (first_upright == second_upright ? first_shorter : first_upright) {
    out.push_back({q[0], q[1], q[2]});
    out.push_back({q[0], q[2], q[3]});
  } else {
    out.push_back({q[0], q[1], q[3]});
    out.push_back({q[1], q[2], q[3]});
  }
}

/// @return false if CGAL finds no triangulation
bool cut_polygon(const PolygonSoup& soup, const PolygonView& polygon, std::vector<Triple>& out) {
  using Point = CGAL::Exact_predicates_inexact_constructions_kernel::Point_3;
  std::vector<Point> rim;
  for (const std::size_t i : polygon)
    rim.emplace_back(soup.points[i][0], soup.points[i][1], soup.points[i][2]);
  std::vector<CGAL::Triple<int, int, int>> cut;
  try {
    CGAL::Polygon_mesh_processing::triangulate_hole_polyline(rim, std::back_inserter(cut));
  } catch (const std::exception&) {
    return false;
  }
  if (cut.size() + 2 != polygon.size) return false;
  for (const auto& t : cut) {
    // CGAL does not promise the rim's own sense; numbers along the rim tell it.
    std::array<std::size_t, 3> turned{static_cast<std::size_t>(t.first),
                                      static_cast<std::size_t>(t.second),
                                      static_cast<std::size_t>(t.third)};
    std::sort(turned.begin(), turned.end());
    out.push_back({polygon[turned[0]], polygon[turned[1]], polygon[turned[2]]});
  }
  return true;
}

}  // namespace

panel::Mesh to_mesh(const PolygonSoup& soup,
                    const std::filesystem::path& file,
                    double metres_per_unit) {
  check(soup, file);
  std::vector<Triple> triangles;
  triangles.reserve(soup.corners.size() - 2 * soup.polygon_count());
  for (std::size_t p = 0; p < soup.polygon_count(); ++p) {
    const PolygonView polygon = soup.polygon(p);
    if (polygon.size == 3) {
      triangles.push_back({polygon[0], polygon[1], polygon[2]});
    } else if (polygon.size == 4) {
      cut_quad(soup, polygon, triangles);
    } else if (!cut_polygon(soup, polygon, triangles)) {
      refuse(file, "polygon " + std::to_string(p) + " cannot be cut into triangles");
    }
  }
  panel::Mesh mesh;
  mesh.nodes.resize(static_cast<Eigen::Index>(soup.points.size()), 3);
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    mesh.nodes.row(i) = point(soup, static_cast<std::size_t>(i)).transpose() * metres_per_unit;
  if (!mesh.nodes.allFinite()) refuse(file, "is too large to be given in metres");
  mesh.triangles.resize(static_cast<Eigen::Index>(triangles.size()), 3);
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    for (Eigen::Index k = 0; k < 3; ++k)
      mesh.triangles(t, k) =
          static_cast<int>(triangles[static_cast<std::size_t>(t)][static_cast<std::size_t>(k)]);
  return mesh;
}

}  // namespace calmplate::mesh_io
