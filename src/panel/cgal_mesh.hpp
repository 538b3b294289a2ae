// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
// For the .cpp files of this folder only: CGAL stays out of everyone else's build.
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Surface_mesh.h>

#include <stdexcept>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// Exact predicates: hole filling fails on co-spherical nodes without them.
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;

/// @throws std::invalid_argument if the triangles are no oriented manifold sheet
inline SurfaceMesh to_surface(const Mesh& mesh) {
  SurfaceMesh surface;
  using Vertex = SurfaceMesh::Vertex_index;
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    surface.add_vertex(Kernel::Point_3(mesh.nodes(i, 0), mesh.nodes(i, 1), mesh.nodes(i, 2)));
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    const auto face =
        surface.add_face(Vertex(static_cast<SurfaceMesh::size_type>(mesh.triangles(t, 0))),
                         Vertex(static_cast<SurfaceMesh::size_type>(mesh.triangles(t, 1))),
                         Vertex(static_cast<SurfaceMesh::size_type>(mesh.triangles(t, 2))));
    if (face == SurfaceMesh::null_face())
      throw std::invalid_argument("to_surface: the triangles are no oriented sheet");
  }
  return surface;
}

/// Nodes and triangles in the surface's own order, without what was removed from it.
inline Mesh from_surface(SurfaceMesh& surface) {
  surface.collect_garbage();
  Mesh mesh;
  mesh.nodes.resize(static_cast<Eigen::Index>(surface.number_of_vertices()), 3);
  mesh.triangles.resize(static_cast<Eigen::Index>(surface.number_of_faces()), 3);
  for (const auto v : surface.vertices()) {
    const Kernel::Point_3& p = surface.point(v);
    mesh.nodes.row(static_cast<Eigen::Index>(v.idx())) << p.x(), p.y(), p.z();
  }
  for (const auto f : surface.faces()) {
    int k = 0;
    for (const auto v : surface.vertices_around_face(surface.halfedge(f)))
      mesh.triangles(static_cast<Eigen::Index>(f.idx()), k++) = static_cast<int>(v.idx());
  }
  return mesh;
}

}  // namespace calmplate::panel
