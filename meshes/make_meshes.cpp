// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the invented panels of this folder: calmplate_make_meshes FOLDER
#include <exception>
#include <filesystem>
#include <iostream>

#include "base/input_error.hpp"
#include "mesh_io/mesh_io.hpp"
#include "meshes/door_shape.hpp"
#include "meshes/plane_mesher.hpp"
#include "meshes/rough_scan.hpp"

namespace {

using namespace calmplate;

/// 0.50 x 0.40 m in the plane z = 0, seen from above. The diagonals change from square to square,
/// so that the mesh is its own mirror image left to right and top to bottom.
panel::Mesh flat_test_plate() {
  constexpr int kAlong = 42, kUp = 34;
  panel::Mesh mesh;
  mesh.nodes.resize((kAlong + 1) * (kUp + 1), 3);
  mesh.triangles.resize(2 * kAlong * kUp, 3);
  for (int j = 0; j <= kUp; ++j)
    for (int i = 0; i <= kAlong; ++i)
      mesh.nodes.row(j * (kAlong + 1) + i) << 0.50 * i / kAlong, 0.40 * j / kUp, 0.0;
  for (int j = 0; j < kUp; ++j)
    for (int i = 0; i < kAlong; ++i) {
      const int a = j * (kAlong + 1) + i, b = a + 1, c = b + kAlong + 1, d = c - 1;
      const Eigen::Index t = 2 * (j * kAlong + i);
      if ((i + j) % 2 == 0) {
        mesh.triangles.row(t) << a, b, c;
        mesh.triangles.row(t + 1) << a, c, d;
      } else {
        mesh.triangles.row(t) << a, b, d;
        mesh.triangles.row(t + 1) << b, c, d;
      }
    }
  return mesh;
}

panel::Mesh estate_front_door() {
  const demo::PlaneMesh plane = demo::mesh_region(
      demo::resample(demo::door_outline(), 0.0145), demo::door_holes(), demo::door_edge_length, 40);
  panel::Mesh mesh;
  mesh.triangles = plane.triangles;
  mesh.nodes.resize(plane.points.rows(), 3);
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    mesh.nodes.row(i) = demo::door_in_car(plane.points.row(i).transpose());
  return mesh;
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) {
    std::cerr << "usage: calmplate_make_meshes FOLDER\n";
    return 2;
  }
  try {
    const std::filesystem::path folder = words[1];
    mesh_io::write_mesh(folder / "flat_test_plate.vtp", flat_test_plate());
    mesh_io::write_mesh(folder / "estate_front_door.vtp", estate_front_door());
    mesh_io::write_mesh(folder / "estate_front_door_scan.stl", demo::rough_door_scan());
  } catch (const std::exception& fault) {
    std::cerr << "calmplate_make_meshes: " << fault.what() << '\n';
    return 1;
  }
  return 0;
}
