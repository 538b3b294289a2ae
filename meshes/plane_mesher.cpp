// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshes/plane_mesher.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Delaunay_mesh_face_base_2.h>
#include <CGAL/Delaunay_mesh_size_criteria_2.h>
#include <CGAL/Delaunay_mesh_vertex_base_2.h>
#include <CGAL/Delaunay_mesher_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/lloyd_optimize_mesh_2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace calmplate::demo {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_2;
using Structure = CGAL::Triangulation_data_structure_2<CGAL::Delaunay_mesh_vertex_base_2<Kernel>,
                                                       CGAL::Delaunay_mesh_face_base_2<Kernel>>;
using Triangulation = CGAL::Constrained_Delaunay_triangulation_2<Kernel, Structure>;
using LongestAt = std::function<double(const Eigen::Vector2d&)>;

/// CGAL's criteria with a longest edge that changes from place to place.
class LocalSizeCriteria : public CGAL::Delaunay_mesh_size_criteria_2<Triangulation> {
 public:
  using Uniform = CGAL::Delaunay_mesh_size_criteria_2<Triangulation>;

  explicit LocalSizeCriteria(const LongestAt& longest) : Uniform(0.125, 1.0), longest_(&longest) {}

  class Is_bad : public Uniform::Is_bad {
   public:
    Is_bad(const LongestAt& longest, double aspect)
        : Uniform::Is_bad(aspect, 1.0, Kernel()), longest_(&longest) {}

    using Uniform::Is_bad::operator();
    CGAL::Mesh_2::Face_badness operator()(const Triangulation::Face_handle& face,
                                          Quality& quality) const {
      const Point middle = CGAL::centroid(
          face->vertex(0)->point(), face->vertex(1)->point(), face->vertex(2)->point());
      const double here = (*longest_)({middle.x(), middle.y()});
      return typename Uniform::Is_bad(this->B, here, Kernel())(face, quality);
    }

   private:
    const LongestAt* longest_;
  };

  Is_bad is_bad_object() const { return Is_bad(*longest_, bound()); }

 private:
  const LongestAt* longest_;
};

void insert_loop(Triangulation& cdt, const Loop& loop) {
  std::vector<Point> points;
  for (const Eigen::Vector2d& p : loop) points.emplace_back(p.x(), p.y());
  cdt.insert_constraint(points.begin(), points.end(), true);
}

/// Nodes and triangles of the meshed domain in an order that does not depend on CGAL's.
PlaneMesh sorted_mesh(const Triangulation& cdt) {
  using Key = std::array<double, 2>;
  const auto key = [](const Point& p) { return Key{p.x(), p.y()}; };
  std::map<Key, int> number;
  for (const auto& face : cdt.finite_face_handles())
    for (int k = 0; face->is_in_domain() && k < 3; ++k) number[key(face->vertex(k)->point())] = 0;
  PlaneMesh mesh;
  mesh.points.resize(static_cast<Eigen::Index>(number.size()), 2);
  int next = 0;
  for (auto& [place, index] : number) {
    index = next++;
    mesh.points.row(index) << place[0], place[1];
  }
  std::vector<std::array<int, 3>> triangles;
  for (const auto& face : cdt.finite_face_handles()) {
    if (!face->is_in_domain()) continue;
    std::array<int, 3> t{};
    for (int k = 0; k < 3; ++k)
      t[static_cast<std::size_t>(k)] = number.at(key(face->vertex(k)->point()));
    std::rotate(t.begin(), std::min_element(t.begin(), t.end()), t.end());
    triangles.push_back(t);
  }
  std::sort(triangles.begin(), triangles.end());
  mesh.triangles.resize(static_cast<Eigen::Index>(triangles.size()), 3);
  for (std::size_t t = 0; t < triangles.size(); ++t)
    mesh.triangles.row(static_cast<Eigen::Index>(t)) << triangles[t][0], triangles[t][1],
        triangles[t][2];
  return mesh;
}

}  // namespace

PlaneMesh mesh_region(const Loop& outline,
                      const std::vector<Loop>& holes,
                      const LongestAt& longest,
                      int smooth) {
  Triangulation cdt;
  insert_loop(cdt, outline);
  std::vector<Point> seeds;
  for (const Loop& hole : holes) {
    insert_loop(cdt, hole);
    Eigen::Vector2d middle = Eigen::Vector2d::Zero();
    for (const Eigen::Vector2d& p : hole) middle += p / static_cast<double>(hole.size());
    seeds.emplace_back(middle.x(), middle.y());
  }
  CGAL::refine_Delaunay_mesh_2(cdt, seeds.begin(), seeds.end(), LocalSizeCriteria(longest));
  if (smooth > 0)
    CGAL::lloyd_optimize_mesh_2(cdt,
                                CGAL::parameters::max_iteration_number = smooth,
                                CGAL::parameters::seeds_begin = seeds.begin(),
                                CGAL::parameters::seeds_end = seeds.end());
  return sorted_mesh(cdt);
}

Loop resample(const Loop& loop, double step) {
  std::vector<double> run{0.0};
  for (std::size_t i = 0; i < loop.size(); ++i)
    run.push_back(run.back() + (loop[(i + 1) % loop.size()] - loop[i]).norm());
  const auto count = static_cast<std::size_t>(std::lround(run.back() / step));
  Loop out;
  std::size_t segment = 0;
  for (std::size_t k = 0; k < count; ++k) {
    const double at = run.back() * static_cast<double>(k) / static_cast<double>(count);
    while (run[segment + 1] <= at) ++segment;
    const double share = (at - run[segment]) / (run[segment + 1] - run[segment]);
    out.push_back(loop[segment] + share * (loop[(segment + 1) % loop.size()] - loop[segment]));
  }
  return out;
}

}  // namespace calmplate::demo
