// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Geometry>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <map>
#include <utility>

#include "mesh_io/mesh_io.hpp"
#include "scratch.hpp"

namespace {

using namespace calmplate;

const std::filesystem::path kMeshes = CALMPLATE_MESHES;

struct Look {
  double mean_edge_m = 0.0;
  double smallest_angle_deg = 180.0;
  int rim_edges = 0;       ///< with one triangle
  int wrong_edges = 0;     ///< with more than two, or two that run the same way
  int facing_inwards = 0;  ///< triangles whose normal has no part along -y
};

Look look_at(const panel::Mesh& mesh) {
  Look look;
  std::map<std::pair<int, int>, int> edges;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    Eigen::Matrix3d p;
    for (Eigen::Index k = 0; k < 3; ++k)
      p.col(k) = mesh.nodes.row(mesh.triangles(t, k)).transpose();
    for (Eigen::Index k = 0; k < 3; ++k) {
      const Eigen::Vector3d a = p.col((k + 1) % 3) - p.col(k), b = p.col((k + 2) % 3) - p.col(k);
      look.mean_edge_m += a.norm();
      look.smallest_angle_deg =
          std::min(look.smallest_angle_deg, std::atan2(a.cross(b).norm(), a.dot(b)) * 180.0 / M_PI);
      ++edges[{mesh.triangles(t, k), mesh.triangles(t, (k + 1) % 3)}];
    }
    if ((p.col(1) - p.col(0)).cross(p.col(2) - p.col(0)).y() >= 0.0) ++look.facing_inwards;
  }
  look.mean_edge_m /= 3.0 * static_cast<double>(mesh.triangles.rows());
  for (const auto& [edge, count] : edges) {
    if (count > 1) ++look.wrong_edges;
    if (edges.count({edge.second, edge.first}) == 0) ++look.rim_edges;
  }
  return look;
}

}  // namespace

// The files that people start from must be what the program beside them makes, not something else.
// Tolerance: the last bits of sine and power may differ from one processor to the next; STL holds
// single precision.
TEST_CASE("the panels in meshes/ are those that their program makes", "[mesh_io][crosscheck]") {
  const scratch::Folder folder;
  const std::string call =
      std::string("'") + CALMPLATE_MAKE_MESHES + "' '" + folder.path().string() + "'";
  REQUIRE(std::system(call.c_str()) == 0);
  for (const auto& [name, unit, tolerance_m] : {std::tuple{"flat_test_plate.vtp", 1.0, 1e-15},
                                                {"estate_front_door.vtp", 1.0, 1e-11},
                                                {"estate_front_door_scan.stl", 1e-3, 2e-7}}) {
    CAPTURE(name);
    const panel::Mesh made = mesh_io::read_mesh(folder / name, unit);
    const panel::Mesh kept = mesh_io::read_mesh(kMeshes / name, unit);
    REQUIRE(made.nodes.rows() == kept.nodes.rows());
    REQUIRE(made.triangles.rows() == kept.triangles.rows());
    CHECK(made.triangles == kept.triangles);
    CHECK((made.nodes - kept.nodes).cwiseAbs().maxCoeff() <= tolerance_m);
  }
}

// Source: [derived] sizes as meshes/README.md states them; a rectangle's area is exact.
TEST_CASE("the flat test plate is 0.50 x 0.40 m in the plane z = 0", "[mesh_io][derived]") {
  const panel::Mesh mesh = mesh_io::read_mesh(kMeshes / "flat_test_plate.vtp", 1.0);
  CHECK(mesh.nodes.colwise().minCoeff() == Eigen::RowVector3d(0.0, 0.0, 0.0));
  CHECK(mesh.nodes.colwise().maxCoeff() == Eigen::RowVector3d(0.50, 0.40, 0.0));
  const Look look = look_at(mesh);
  CHECK(look.wrong_edges == 0);
  CHECK(look.rim_edges == 2 * (42 + 34));
  CHECK(look.smallest_angle_deg > 44.0);
}

// Source: [derived] sizes as meshes/README.md states them. The crown's radius is read off three
// nodes above each other, away from swage line and recess: 2.7 to 3.4 m by design.
TEST_CASE("the estate's front door is a sound skin of the stated size", "[mesh_io][derived]") {
  const panel::Mesh mesh = mesh_io::read_mesh(kMeshes / "estate_front_door.vtp", 1.0);
  const Eigen::RowVector3d size = mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff();
  CHECK(size.x() == Approx(1.037).margin(0.002));
  CHECK(size.z() == Approx(0.620).margin(0.002));
  const Look look = look_at(mesh);
  CHECK(look.wrong_edges == 0);
  CHECK(look.facing_inwards == 0);
  CHECK(look.smallest_angle_deg > 30.0);
  CHECK(look.mean_edge_m == Approx(0.0127).margin(0.0005));

  // Least squares for y = a + b u + c v + d u^2 + e u v + f v^2 over a piece of plain skin.
  std::vector<Eigen::Index> plain;
  const double x0 = 0.62 + 0.45, z0 = 0.33 + 0.42;
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    if (std::abs(mesh.nodes(i, 0) - x0) < 0.20 && std::abs(mesh.nodes(i, 2) - z0) < 0.11)
      plain.push_back(i);
  REQUIRE(plain.size() > 100);
  Eigen::MatrixXd terms(static_cast<Eigen::Index>(plain.size()), 6);
  Eigen::VectorXd y(terms.rows());
  for (Eigen::Index r = 0; r < terms.rows(); ++r) {
    const Eigen::Index i = plain[static_cast<std::size_t>(r)];
    const double u = mesh.nodes(i, 0) - x0, v = mesh.nodes(i, 2) - z0;
    terms.row(r) << 1.0, u, v, u * u, u * v, v * v;
    y[r] = mesh.nodes(i, 1);
  }
  const Eigen::VectorXd fit = (terms.transpose() * terms).ldlt().solve(terms.transpose() * y);
  CHECK(0.5 / fit[5] == Approx(3.0).margin(0.2));
  CHECK(0.5 / fit[3] == Approx(11.0).margin(1.0));
}

// Source: [derived] what meshes/README.md says is wrong with the scan.
TEST_CASE("the scan has gaps, turned triangles and a stray piece", "[mesh_io][derived]") {
  const panel::Mesh scan = mesh_io::read_mesh(kMeshes / "estate_front_door_scan.stl", 1e-3);
  const panel::Mesh door = mesh_io::read_mesh(kMeshes / "estate_front_door.vtp", 1.0);
  const Look look = look_at(scan);
  CHECK(look.mean_edge_m == Approx(0.007).margin(0.0005));
  const double turned = look.facing_inwards / static_cast<double>(scan.triangles.rows());
  CHECK(turned == Approx(0.02).margin(0.005));
  CHECK(look.rim_edges > 1000);
  const double gap = door.nodes.col(0).minCoeff() - scan.nodes.col(0).minCoeff();
  CHECK(gap > 0.09);
  CHECK(std::filesystem::file_size(kMeshes / "estate_front_door_scan.stl") < 2500000);
}
