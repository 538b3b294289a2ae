// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>

#include "base/input_error.hpp"
#include "mesh_io/mesh_io.hpp"
#include "scratch.hpp"

namespace {

using namespace calmplate;
using Catch::Matchers::WithinRel;

constexpr const char* kUnitSquare = "0 0 0  1 0 0  1 1 0  0 1 0";

panel::Mesh read(const std::string& name, const std::string& text) {
  const scratch::Folder folder;
  return mesh_io::read_mesh(folder.file(name, text), 1.0);
}

panel::Triangles triangles(std::initializer_list<std::array<int, 3>> list) {
  panel::Triangles out(static_cast<Eigen::Index>(list.size()), 3);
  Eigen::Index row = 0;
  for (const auto& t : list) out.row(row++) << t[0], t[1], t[2];
  return out;
}

/// Sum of the triangles' areas as seen from +z; a turned triangle counts below 0.
double area_from_above(const panel::Mesh& mesh) {
  double sum = 0.0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    const auto a = mesh.nodes.row(mesh.triangles(t, 0));
    const auto b = mesh.nodes.row(mesh.triangles(t, 1));
    const auto c = mesh.nodes.row(mesh.triangles(t, 2));
    sum += 0.5 * ((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x()));
  }
  return sum;
}

std::string ply(const std::string& coding, const std::string& body) {
  return "ply\nformat " + coding +
         " 1.0\ncomment by hand\nelement vertex 4\nproperty float x\nproperty uchar red\nproperty "
         "double y\nproperty float z\nelement face 1\nproperty list uchar int vertex_indices\n"
         "end_header\n" +
         body;
}

template <typename Number>
std::string turned(Number number) {
  std::string bytes = scratch::raw(number);
  std::reverse(bytes.begin(), bytes.end());
  return bytes;
}

}  // namespace

// Source: [derived] of the two ways to cut a quad the shorter diagonal is taken, unless it lies
// outside the quad: in an arrowhead only one diagonal keeps both halves upright.
TEST_CASE("a quad is cut along the diagonal that fits it", "[mesh_io][derived]") {
  const std::string face = "f 1 2 3 4\n";
  const panel::Mesh first = read("a.obj", "v 0 0 0\nv 3 0 0\nv 2 1 0\nv -1 1 0\n" + face);
  CHECK(first.triangles == triangles({{0, 1, 2}, {0, 2, 3}}));
  const panel::Mesh second = read("a.obj", "v 0 0 0\nv 3 0 0\nv 4 1 0\nv 1 1 0\n" + face);
  CHECK(second.triangles == triangles({{0, 1, 3}, {1, 2, 3}}));
  // An arrowhead with its notch at the third point: the longer diagonal is the one inside.
  const panel::Mesh notch = read("a.obj", "v 0 0 0\nv 1 4 0\nv 0 3 0\nv -1 4 0\n" + face);
  CHECK(notch.triangles == triangles({{0, 1, 2}, {0, 2, 3}}));
  const panel::Mesh side = read("a.obj", "v -1 4 0\nv 0 0 0\nv 1 4 0\nv 0 3 0\n" + face);
  CHECK(side.triangles == triangles({{0, 1, 3}, {1, 2, 3}}));
}

// Source: [derived] an L of three unit squares has the area 3 however it is cut; n points give
// n - 2 triangles, and none may be turned over.
TEST_CASE("a polygon that is not convex is cut inside itself", "[mesh_io][derived]") {
  const std::string l = "v 0 0 0\nv 2 0 0\nv 2 1 0\nv 1 1 0\nv 1 2 0\nv 0 2 0\nf 1 2 3 4 5 6\n";
  const panel::Mesh mesh = read("a.obj", l);
  CHECK(mesh.triangles.rows() == 4);
  CHECK_THAT(area_from_above(mesh), WithinRel(3.0, 1e-12));
  panel::Mesh one = mesh;
  for (Eigen::Index t = 0; t < 4; ++t) {
    one.triangles = mesh.triangles.row(t);
    CHECK(area_from_above(one) > 0.0);
  }
}

// Source: [derived] OBJ counts from 1, and below 0 from the last point read.
TEST_CASE("OBJ faces may carry textures, normals, negative numbers and tabs",
          "[mesh_io][derived]") {
  const std::string text =
      "# by hand\r\nmtllib none.mtl\r\no skin\r\nv 0 0 0\r\nv 1 0 0 1.0\r\nv 1 1 0\r\nv\t0 1 0\r\n"
      "vt 0 0\r\nvn 0 0 1\r\nl 1 2 3\r\ns off\r\nf 1/1/1 2//1 3/1\r\nf -4\t-2 \\\r\n -1\r\n";
  const panel::Mesh mesh = read("a.obj", text);
  CHECK(mesh.nodes.rows() == 4);
  CHECK(mesh.triangles == triangles({{0, 1, 2}, {0, 2, 3}}));
}

// Source: [derived] the same square in the three codings that PLY has; a colour between the
// coordinates and coordinates of two types must not disturb them.
TEST_CASE("PLY is read in ascii and in either byte order", "[mesh_io][derived]") {
  const double y[4] = {0.0, 0.125, 1.5, 1.0};
  const float x[4] = {0.0F, 1.0F, 1.0F, 0.0F};
  std::string ascii, little, big;
  for (std::size_t i = 0; i < 4; ++i) {
    ascii += std::to_string(x[i]) + " 255 " + std::to_string(y[i]) + " -0.5\n";
    little += scratch::raw(x[i]) + '\xff' + scratch::raw(y[i]) + scratch::raw(-0.5F);
    big += turned(x[i]) + '\xff' + turned(y[i]) + turned(-0.5F);
  }
  ascii += "4 0 1 2 3\n";
  little += '\x04', big += '\x04';
  for (int i = 0; i < 4; ++i) little += scratch::raw(i), big += turned(i);
  for (const auto& [coding, body] :
       {std::pair{"ascii", ascii}, {"binary_little_endian", little}, {"binary_big_endian", big}}) {
    CAPTURE(coding);
    const panel::Mesh mesh = read("a.ply", ply(coding, body));
    REQUIRE(mesh.nodes.rows() == 4);
    for (Eigen::Index i = 0; i < 4; ++i)
      CHECK(mesh.nodes.row(i) == Eigen::RowVector3d(x[i], y[i], -0.5));
    CHECK(mesh.triangles == triangles({{0, 1, 3}, {1, 2, 3}}));
  }
}

TEST_CASE("STL is read as text, and as binary whatever its head says", "[mesh_io]") {
  const panel::Mesh text = read("a.stl",
                                "solid plate\n facet normal 0 0 1\n  outer loop\n   vertex 0 0 0\n"
                                "   vertex 1 0 0\n   vertex 0 1 0\n  endloop\n endfacet\n"
                                "endsolid plate\n");
  CHECK(text.triangles == triangles({{0, 1, 2}}));
  std::string binary = "solid as some programs write it";
  binary.resize(80, ' ');
  binary += scratch::raw(std::uint32_t{1});
  for (const float v : {0.F, 0.F, 1.F, 0.F, 0.F, 0.F, 1.F, 0.F, 0.F, 0.F, 1.F, 0.F})
    binary += scratch::raw(v);
  binary += std::string(2, '\0');
  const panel::Mesh mesh = read("a.stl", binary);
  CHECK(mesh.nodes == text.nodes);
  CHECK(mesh.triangles == text.triangles);
}

// Source: [practice] common practice, no source: some programs write capitals, and several solids
// into one file.
TEST_CASE("ascii STL may be in capitals and hold several solids, but must end", "[mesh_io]") {
  const auto facet = [](const std::string& third) {
    return "FACET NORMAL 0 0 1\n OUTER LOOP\n  VERTEX 0 0 0\n  VERTEX +1e0 -0 0\n  VERTEX " +
           third + "\n ENDLOOP\nENDFACET\n";
  };
  const std::string one = "solid\n" + facet("0 1 0") + "endsolid\n";
  const std::string two = "SOLID second one\n" + facet("0 -1 0") + "ENDSOLID second one";
  const panel::Mesh mesh = read("a.stl", one + two);
  CHECK(mesh.nodes.rows() == 4);
  CHECK(mesh.triangles == triangles({{0, 1, 2}, {0, 1, 3}}));
  CHECK_THROWS_AS(read("a.stl", one + two.substr(0, two.size() - 19)), base::InputError);
  CHECK_THROWS_AS(read("a.stl", one + "facet"), base::InputError);
}

// Source: [derived] every second triangle of a strip is turned, or its normals would alternate; a
// pixel has its last two corners the other way round than a quad.
TEST_CASE("strips, pixels and quads of VTK files become upright triangles", "[mesh_io][derived]") {
  const panel::Mesh strip =
      read("a.vtp", scratch::vtp(4, 1, "Strips", "0 0 0 1 0 0 0 1 0 1 1 0", "0 1 2 3", "4"));
  CHECK(strip.triangles == triangles({{0, 1, 2}, {2, 1, 3}}));
  CHECK_THAT(area_from_above(strip), WithinRel(1.0, 1e-12));
  const panel::Mesh quad = read("a.vtp", scratch::vtp(4, 1, "Polys", kUnitSquare, "0 1 2 3", "4"));
  CHECK(quad.triangles == triangles({{0, 1, 2}, {0, 2, 3}}));
  // A vertex, a line, a pixel, a triangle strip, a quad, in that order.
  const panel::Mesh grid = read("a.vtu",
                                scratch::vtu(6,
                                             5,
                                             "0 0 0 1 0 0 0 1 0 1 1 0 2 0 0 2 1 0",
                                             "0  0 1  0 1 2 3  0 1 2 3  1 4 5 3",
                                             "1 3 7 11 15",
                                             "1 3 8 6 9"));
  CHECK(grid.triangles.rows() == 6);
  CHECK_THAT(area_from_above(grid), WithinRel(3.0, 1e-12));
}
