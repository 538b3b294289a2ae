// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/mesh.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "panel/topology.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;

// Source: derived. The outer ring is a regular polygon of N = 6 n corners on the circle; its area
// is N/2 r^2 sin(2 pi / N), however its inside is cut.
TEST_CASE("the triangles of a disc add up to the polygon on its circle", "[panel][derived]") {
  const int n = GENERATE(1, 2, 7, 20);
  const double radius = 0.3, corners = 6.0 * n;
  const double expected = 0.5 * corners * radius * radius * std::sin(base::kTwoPi / corners);
  const double area = panel::triangle_areas(testing::disc(radius, n)).sum();
  CAPTURE(n, area, expected);
  CHECK(std::abs(area / expected - 1.0) < 1e-13);
}

// Source: derived. A triangle with legs 3 and 4 mm has 6 mm2 wherever it lies.
TEST_CASE("a right triangle's area is half the product of its legs", "[panel][derived]") {
  panel::Mesh mesh{panel::Nodes(3, 3), panel::Triangles(1, 3)};
  mesh.nodes << 1.0, 2.0, 3.0, 1.0, 2.003, 3.0, 1.0, 2.0, 3.004;
  mesh.triangles << 0, 1, 2;
  CHECK(std::abs(panel::triangle_areas(mesh)[0] - 6e-6) < 1e-17);
}

// Source: derived. At a node on the fold between two flat strips the angles on each strip add up to
// half a turn, so the weighted mean is the bisector, which is the cylinder's radius there.
TEST_CASE("normals of a faceted cylinder point along its radius inside the rim",
          "[panel][derived]") {
  const int nx = 9, ny = 7;
  const double radius = 0.8;
  const panel::Mesh mesh = testing::cylinder_panel(0.5, 0.6, radius, nx, ny);
  const panel::Nodes normals = panel::node_normals(mesh);
  for (int j = 1; j < ny; ++j)
    for (int i = 1; i < nx; ++i) {
      const int node = j * (nx + 1) + i;
      const Eigen::Vector3d radial(0.0, mesh.nodes(node, 1), mesh.nodes(node, 2) + radius);
      CAPTURE(i, j);
      CHECK((normals.row(node).transpose() - radial / radius).norm() < 1e-13);
    }
}

// Source: derived. Cutting one facet's square along its other diagonal moves no facet.
TEST_CASE("normals do not depend on how flat facets are cut", "[panel][derived]") {
  panel::Mesh one = testing::cylinder_panel(0.5, 0.6, 0.8, 6, 5), other = one;
  for (int c = 0; c < 30; ++c) {
    const int p = (c / 6) * 7 + c % 6, q = p + 1, s = p + 7, r = s + 1;
    if ((c / 6 + c % 6) % 2 == 0) {
      other.triangles.row(2 * c) << p, q, s;
      other.triangles.row(2 * c + 1) << q, r, s;
    }
  }
  CHECK((one.triangles - other.triangles).cwiseAbs().maxCoeff() > 0);
  CHECK((panel::node_normals(one) - panel::node_normals(other)).cwiseAbs().maxCoeff() < 1e-13);
}

// Source: derived. A grid of nx by ny squares has nx (ny + 1) edges along, ny (nx + 1) across and
// nx ny diagonals.
TEST_CASE("the mean edge counts every edge once", "[panel][derived]") {
  const int nx = 5, ny = 3;
  const double cell = 0.02;
  const double edges = nx * (ny + 1) + ny * (nx + 1), diagonals = nx * ny;
  const double expected = cell * (edges + diagonals * std::sqrt(2.0)) / (edges + diagonals);
  const panel::Mesh mesh = testing::flat_plate(nx * cell, ny * cell, nx, ny);
  CHECK(std::abs(panel::mean_edge_length(mesh) / expected - 1.0) < 1e-13);
  CHECK(std::abs(panel::worst_angle_degrees(mesh) - 45.0) < 1e-10);
}

// Source: derived. With the triangles on the left, the outer rim runs anticlockwise and a hole
// clockwise; the loops of an annulus have the nodes of its first and last ring.
TEST_CASE("boundary loops keep the triangles on their left", "[panel][derived]") {
  const panel::Mesh mesh = testing::annulus(0.1, 0.3, 6);
  const auto loops = panel::boundary_loops(mesh.triangles);
  REQUIRE(loops.size() == 2);
  for (const auto& loop : loops) {
    double area = 0.0;
    const double radius = mesh.nodes.row(loop[0]).norm();
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const auto a = mesh.nodes.row(loop[i]), b = mesh.nodes.row(loop[(i + 1) % loop.size()]);
      area += 0.5 * (a[0] * b[1] - a[1] * b[0]);
      CHECK(std::abs(a.norm() - radius) < 1e-12);
    }
    CHECK((area > 0.0) == (radius > 0.2));
  }
}
