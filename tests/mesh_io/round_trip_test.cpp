// SPDX-License-Identifier: GPL-3.0-or-later
#include <signal.h>
#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "base/input_error.hpp"
#include "mesh_io/mesh_io.hpp"
#include "scratch.hpp"

namespace {

using namespace calmplate;

/// A wavy sheet of 5 x 4 nodes, coordinates that no short number holds.
panel::Mesh wavy_sheet() {
  constexpr int kAlong = 5, kUp = 4;
  panel::Mesh mesh;
  mesh.nodes.resize(kAlong * kUp, 3);
  mesh.triangles.resize(2 * (kAlong - 1) * (kUp - 1), 3);
  for (int j = 0; j < kUp; ++j)
    for (int i = 0; i < kAlong; ++i)
      mesh.nodes.row(j * kAlong + i) << i / 7.0, j / 9.0, 0.01 * std::sin(i + 2.0 * j);
  Eigen::Index t = 0;
  for (int j = 0; j + 1 < kUp; ++j)
    for (int i = 0; i + 1 < kAlong; ++i) {
      const int a = j * kAlong + i;
      mesh.triangles.row(t++) << a, a + 1, a + kAlong + 1;
      mesh.triangles.row(t++) << a, a + kAlong + 1, a + kAlong;
    }
  return mesh;
}

}  // namespace

// Source: [derived] a format with double precision, or 17 digits, gives every number back.
TEST_CASE("a mesh comes back from VTP, VTU, PLY and OBJ as it was written", "[mesh_io][derived]") {
  const scratch::Folder folder;
  const std::string name = GENERATE("a.vtp", "a.vtu", "a.ply", "a.obj", "A.VTP", "a.Ply");
  CAPTURE(name);
  const panel::Mesh mesh = wavy_sheet();
  mesh_io::write_mesh(folder / name, mesh);
  const panel::Mesh back = mesh_io::read_mesh(folder / name, 1.0);
  CHECK(back.nodes == mesh.nodes);
  CHECK(back.triangles == mesh.triangles);
}

// Source: [derived] STL holds three corners a triangle in single precision; corners at the same
// place become one node again, numbered as they are met.
TEST_CASE("a mesh comes back from STL with its corners joined", "[mesh_io][derived]") {
  const scratch::Folder folder;
  const panel::Mesh mesh = wavy_sheet();
  mesh_io::write_mesh(folder / "a.stl", mesh);
  CHECK(std::filesystem::file_size(folder / "a.stl") == 84 + 50 * 24);
  const panel::Mesh back = mesh_io::read_mesh(folder / "a.stl", 1.0);
  REQUIRE(back.nodes.rows() == mesh.nodes.rows());
  REQUIRE(back.triangles.rows() == mesh.triangles.rows());
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    for (Eigen::Index k = 0; k < 3; ++k)
      CHECK((back.nodes.row(back.triangles(t, k)) - mesh.nodes.row(mesh.triangles(t, k))).norm() <
            1e-7);
}

// Source: [derived] lengths are multiplied by the unit's length.
TEST_CASE("the file's unit turns lengths into metres", "[mesh_io][derived]") {
  const scratch::Folder folder;
  const panel::Mesh mesh = wavy_sheet();
  const std::string name = GENERATE("a.vtp", "a.ply");
  mesh_io::write_mesh(folder / name, mesh);
  const panel::Mesh back = mesh_io::read_mesh(folder / name, 0.001);
  CHECK((back.nodes - 0.001 * mesh.nodes).cwiseAbs().maxCoeff() < 1e-18);
  CHECK_THROWS_AS(mesh_io::read_mesh(folder / name, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(mesh_io::read_mesh(folder / name, -1.0), std::invalid_argument);
  CHECK_THROWS_AS(mesh_io::read_mesh(folder / name, std::nan("")), std::invalid_argument);
}

// Source: [derived] the same input gives the same bytes; fields add to them under their names.
TEST_CASE("a VTU file holds its fields and is the same each time", "[mesh_io][derived]") {
  const scratch::Folder folder;
  const panel::Mesh mesh = wavy_sheet();
  const mesh_io::Field benefit{"benefit_dB", Eigen::MatrixXd::Random(20, 1)};
  const mesh_io::Field shape{"shape_1", Eigen::MatrixXd::Random(20, 3)};
  const mesh_io::Field power{"power_W_m2", Eigen::MatrixXd::Random(24, 1)};
  mesh_io::write_vtu(folder / "a.vtu", mesh, {benefit, shape}, {power});
  mesh_io::write_vtu(folder / "b.vtu", mesh, {benefit, shape}, {power});
  const std::string bytes = scratch::bytes_of(folder / "a.vtu");
  CHECK(bytes == scratch::bytes_of(folder / "b.vtu"));
  CHECK(bytes.find("Name=\"benefit_dB\"") < bytes.find("<CellData"));
  CHECK(bytes.find("Name=\"shape_1\" NumberOfComponents=\"3\"") < bytes.find("<CellData"));
  CHECK(bytes.find("Name=\"power_W_m2\"") > bytes.find("<CellData"));
  CHECK(bytes.find("Name=\"power_W_m2\"") < bytes.find("</CellData>"));
  CHECK(mesh_io::read_mesh(folder / "a.vtu", 1.0).nodes == mesh.nodes);
}

TEST_CASE("a field or a mesh that does not fit together is refused", "[mesh_io]") {
  const scratch::Folder folder;
  panel::Mesh mesh = wavy_sheet();
  const mesh_io::Field short_field{"w_m", Eigen::MatrixXd::Zero(19, 1)};
  const mesh_io::Field no_column{"w_m", Eigen::MatrixXd::Zero(20, 0)};
  CHECK_THROWS_WITH(mesh_io::write_vtu(folder / "a.vtu", mesh, {short_field}, {}),
                    "field w_m: has 19 rows instead of 20");
  CHECK_THROWS_AS(mesh_io::write_vtu(folder / "a.vtu", mesh, {no_column}, {}),
                  std::invalid_argument);
  CHECK_THROWS_AS(mesh_io::write_vtu(folder / "a.vtu", mesh, {}, {short_field}),
                  std::invalid_argument);
  mesh.triangles(3, 1) = 20;
  CHECK_THROWS_AS(mesh_io::write_mesh(folder / "a.stl", mesh), std::invalid_argument);
  mesh = wavy_sheet();
  mesh.nodes(2, 2) = INFINITY;
  CHECK_THROWS_AS(mesh_io::write_mesh(folder / "a.ply", mesh), std::invalid_argument);
  CHECK_THROWS_AS(mesh_io::write_mesh(folder / "a.step", wavy_sheet()), base::InputError);
  CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_CASE("a file that cannot be written whole leaves nothing behind", "[mesh_io]") {
  const scratch::Folder folder;
  const std::string name = GENERATE("a.vtp", "a.vtu", "a.stl", "a.ply", "a.obj");
  CAPTURE(name);
  CHECK_THROWS_AS(mesh_io::write_mesh(folder / "none" / name, wavy_sheet()), std::runtime_error);

  // A limit on the length of files stands for a full disk.
  rlimit before{};
  REQUIRE(::getrlimit(RLIMIT_FSIZE, &before) == 0);
  const auto handler = ::signal(SIGXFSZ, SIG_IGN);
  rlimit small = before;
  small.rlim_cur = 100;
  REQUIRE(::setrlimit(RLIMIT_FSIZE, &small) == 0);
  bool refused = false;
  try {
    mesh_io::write_mesh(folder / name, wavy_sheet());
  } catch (const std::runtime_error&) {
    refused = true;
  }
  ::setrlimit(RLIMIT_FSIZE, &before);
  ::signal(SIGXFSZ, handler);
  CHECK(refused);
  CHECK(std::filesystem::is_empty(folder.path()));
}

// Start-up must not pay for VTK: the executable asks the dynamic linker for none of its libraries.
TEST_CASE("a program that can read meshes does not name VTK's libraries", "[mesh_io]") {
  const std::string program = scratch::bytes_of("/proc/self/exe");
  REQUIRE(program.find(std::string("libstdc++") + ".so") != std::string::npos);
  CHECK(program.find(std::string("lib") + "vtk") == std::string::npos);
}
