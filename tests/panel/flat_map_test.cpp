// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/flat_map.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "changed_meshes.hpp"

using namespace calmplate;
using Eigen::Vector2d;
using Eigen::Vector3d;
using panel::FlatMap;

namespace {

double even(std::mt19937& generator) { return static_cast<double>(generator()) / 4294967296.0; }

}  // namespace

// Source: derived. A sheet in a plane is its own map.
TEST_CASE("the map of a flat panel is the panel, however it is turned in space",
          "[panel][derived]") {
  const panel::Mesh plate = testing::flat_plate(0.9, 0.6, 12, 8);
  const Eigen::Matrix3d turn(Eigen::AngleAxisd(1.1, Vector3d(1.0, -2.0, 0.5).normalized()));
  const FlatMap map(testing::moved(testing::turned(plate, turn), {3.0, -2.0, 1.0}), turn.col(0));
  CHECK((map.points() - plate.nodes.leftCols<2>()).cwiseAbs().maxCoeff() < 1e-14);
  CHECK(map.worst_stretch() < 1e-13);
  CHECK((map.size() - Vector2d(0.9, 0.6)).norm() < 1e-14);
}

// Source: derived. `along` sets x; only its part in the plane counts.
TEST_CASE("x on the map follows the given direction", "[panel][derived]") {
  const panel::Mesh plate = testing::flat_plate(0.9, 0.6, 6, 4);
  const FlatMap map(plate, Vector3d(0.0, 2.0, 5.0));
  // Seen from +z, y turned to the right puts -x upward: (x, y) -> (y, 0.9 - x).
  for (int i = 0; i < plate.nodes.rows(); ++i) {
    const Vector2d expected(plate.nodes(i, 1), 0.9 - plate.nodes(i, 0));
    CHECK((map.points().row(i).transpose() - expected).norm() < 1e-14);
  }
  CHECK_THROWS_AS(FlatMap(plate, Vector3d::UnitZ()), std::invalid_argument);
}

// Source: derived. The facets of a cylinder with straight folds unroll into strips side by side:
// node (i, j) comes to (i L / nx, j c) with the chord c = 2 R sin(arc / (2 R ny)).
TEST_CASE("a cylinder unrolls without change of any length", "[panel][derived]") {
  const double radius = GENERATE(0.25, 2.0);
  const bool hole = GENERATE(false, true);
  const int nx = 30, ny = 20;
  panel::Mesh mesh = testing::cylinder_panel(0.9, 0.6, radius, nx, ny);
  if (hole)
    mesh = testing::only(mesh, [](const Vector3d& p) {
      return p.x() < 0.3 || p.x() > 0.6 || std::abs(p.y()) > 0.07;
    });
  // A map needs every node in a triangle: number the used ones anew.
  std::vector<int> number(static_cast<std::size_t>(mesh.nodes.rows()), -1), used;
  for (Eigen::Index i = 0; i < mesh.triangles.size(); ++i) {
    int& n = number[static_cast<std::size_t>(mesh.triangles.data()[i])];
    if (n < 0) {
      n = static_cast<int>(used.size());
      used.push_back(mesh.triangles.data()[i]);
    }
    mesh.triangles.data()[i] = n;
  }
  panel::Mesh tidy{panel::Nodes(static_cast<Eigen::Index>(used.size()), 3), mesh.triangles};
  for (std::size_t i = 0; i < used.size(); ++i)
    tidy.nodes.row(static_cast<Eigen::Index>(i)) = mesh.nodes.row(used[i]);

  const FlatMap map(tidy, Vector3d::UnitX());
  const double chord = 2.0 * radius * std::sin(0.6 / (2.0 * radius * ny));
  double worst = 0.0;
  for (std::size_t i = 0; i < used.size(); ++i) {
    const Vector2d expected(0.9 / nx * (used[i] % (nx + 1)), chord * (used[i] / (nx + 1)));
    worst = std::max(
        worst, (map.points().row(static_cast<Eigen::Index>(i)).transpose() - expected).norm());
  }
  CAPTURE(radius, hole);
  CHECK(worst < 1e-7);  // 1e-9 of the diagonal a round, and the rounds converge in proportion
  CHECK(map.worst_stretch() < 1e-6);
}

// Source: derived. A sphere of radius R has the Gauss curvature 1/R^2. A circle of radius r on it
// is shorter than on the plane by r^2 / (6 R^2); a map that spreads this evenly stays below it, and
// the stretch of one outline falls with 1/R^2.
TEST_CASE("a shallow sphere is stretched by its Gauss curvature and no more", "[panel][derived]") {
  const auto stretch = [](double radius) {
    return FlatMap(testing::sphere_panel(0.9, 0.6, radius, 30, 20), Vector3d::UnitX())
        .worst_stretch();
  };
  const double two = stretch(2.0), four = stretch(4.0);
  const double half_diagonal = 0.5 * std::hypot(0.9, 0.6);
  CHECK(two < half_diagonal * half_diagonal / (6.0 * 4.0));
  CHECK(four > 0.0);
  CHECK(std::abs(two / four - 4.0) < 0.2);  // next order: (r/R)^2, under 5 %
}

// Source: derived. The map shares the sheet's area, and mirror symmetry of the sheet.
TEST_CASE("the map of a symmetric crown keeps its area and its symmetry", "[panel][derived]") {
  const int nx = 20, ny = 14;
  const panel::Mesh mesh = testing::sphere_panel(0.9, 0.6, 1.5, nx, ny);
  const FlatMap map(mesh, Vector3d::UnitX());
  double flat = 0.0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    const Vector2d a = map.points().row(mesh.triangles(t, 0)).transpose();
    const Vector2d u = map.points().row(mesh.triangles(t, 1)).transpose() - a;
    const Vector2d v = map.points().row(mesh.triangles(t, 2)).transpose() - a;
    CHECK(u.x() * v.y() - u.y() * v.x() > 0.0);
    flat += 0.5 * (u.x() * v.y() - u.y() * v.x());
  }
  CHECK(std::abs(flat / panel::triangle_areas(mesh).sum() - 1.0) < 1e-12);
  // Half a turn maps node n to the last node less n, and each cell's cut onto another one's.
  const Eigen::Index last = mesh.nodes.rows() - 1;
  for (Eigen::Index i = 0; i <= last; ++i)
    CHECK((map.points().row(i) + map.points().row(last - i) - map.size().transpose()).norm() <
          1e-6);
}

// Source: derived. to_flat after to_skin is the identity wherever there is skin.
TEST_CASE("flat to skin to flat returns the same point", "[panel][derived]") {
  const FlatMap map(testing::sphere_panel(0.9, 0.6, 1.0, 24, 16), Vector3d::UnitX());
  std::mt19937 generator(20240501);
  int inside = 0;
  double worst = 0.0, off_sphere = 0.0;
  for (int n = 0; n < 5000; ++n) {
    const Vector2d p(even(generator) * map.size().x(), even(generator) * map.size().y());
    const auto skin = map.to_skin(p);
    if (!skin) continue;
    ++inside;
    REQUIRE(skin->weight.minCoeff() >= 0.0);
    REQUIRE(std::abs(skin->weight.sum() - 1.0) < 1e-12);
    worst = std::max(worst, (map.to_flat(*skin) - p).norm());
    const Vector3d q = map.to_space(*skin);
    off_sphere = std::max(off_sphere, std::abs((q + Vector3d(0.0, 0.0, 1.0)).norm() - 1.0));
  }
  CHECK(inside > 4500);
  CHECK(worst < 1e-9);
  // Facets lie below the sphere by up to e^2 / 8 R of their longest edge e = 0.06 m.
  CHECK(off_sphere < 0.06 * 0.06 / 8.0);
}

TEST_CASE("nodes and edges of the map belong to the skin, places off it do not", "[panel]") {
  const FlatMap map(testing::annulus(0.1, 0.3, 5), Vector3d::UnitX());
  for (Eigen::Index i = 0; i < map.points().rows(); ++i) {
    const Vector2d p = map.points().row(i).transpose();
    const auto skin = map.to_skin(p);
    REQUIRE(skin);
    CHECK((map.to_flat(*skin) - p).norm() < 1e-14);
  }
  const Vector2d middle = 0.5 * map.size();
  CHECK_FALSE(map.to_skin(middle));
  CHECK_FALSE(map.to_skin(middle + Vector2d(0.31, 0.0)));
  CHECK_FALSE(map.to_skin(Vector2d(-1e-6, 0.3)));
  CHECK_FALSE(map.to_skin(Vector2d(NAN, 0.1)));
}

// Source: derived. Off a rectangle the nearest rim point is the position with each coordinate held
// to the rectangle.
TEST_CASE("off the panel the nearest point lies on the rim", "[panel][derived]") {
  const FlatMap map(testing::flat_plate(0.9, 0.6, 9, 6), Vector3d::UnitX());
  std::mt19937 generator(7);
  for (int n = 0; n < 500; ++n) {
    const Vector2d p(2.0 * even(generator) - 0.5, 2.0 * even(generator) - 0.5);
    const Vector2d held(std::min(std::max(p.x(), 0.0), 0.9), std::min(std::max(p.y(), 0.0), 0.6));
    CHECK((map.to_flat(map.nearest(p)) - held).norm() < 1e-12);
  }
  CHECK_THROWS_AS(map.nearest(Vector2d(NAN, 0.0)), std::invalid_argument);
  CHECK_THROWS_AS(map.to_flat({-1, Vector3d::Zero()}), std::out_of_range);
  CHECK_THROWS_AS(map.to_space({10000, Vector3d::Zero()}), std::out_of_range);
}

// Source: derived. Compared with a search through all triangles.
TEST_CASE("a box finds the triangles whose boxes it meets, in order", "[panel][derived]") {
  const panel::Mesh mesh = testing::disc(0.3, 8);
  const FlatMap map(mesh, Vector3d::UnitX());
  std::mt19937 generator(11);
  for (int n = 0; n < 200; ++n) {
    const Vector2d a(0.8 * even(generator) - 0.1, 0.8 * even(generator) - 0.1);
    const Vector2d b(0.8 * even(generator) - 0.1, 0.8 * even(generator) - 0.1);
    const Vector2d low = a.cwiseMin(b), high = a.cwiseMax(b);
    std::vector<int> expected;
    for (int t = 0; t < mesh.triangles.rows(); ++t) {
      Vector2d from = map.points().row(mesh.triangles(t, 0)).transpose(), to = from;
      for (int k = 1; k < 3; ++k) {
        from = from.cwiseMin(map.points().row(mesh.triangles(t, k)).transpose());
        to = to.cwiseMax(map.points().row(mesh.triangles(t, k)).transpose());
      }
      if ((from.array() <= high.array()).all() && (to.array() >= low.array()).all())
        expected.push_back(t);
    }
    CHECK(map.triangles_in_box(low, high) == expected);
  }
  CHECK(map.triangles_in_box({0.4, 0.0}, {0.2, 0.6}).empty());
}

// Source: derived. A tube closed on itself has no flat map: two of its triangles must overlap.
TEST_CASE("a tube cannot be laid flat", "[panel][derived]") {
  panel::Mesh tube = testing::grid(12, 8, [](double u, double v) {
    const double angle = base::kTwoPi * u;
    return Vector3d(0.1 * std::cos(angle), 0.1 * std::sin(angle), 0.4 * v);
  });
  for (Eigen::Index i = 0; i < tube.triangles.size(); ++i)  // last column is the first
    if (int& n = tube.triangles.data()[i]; n % 13 == 12) n -= 12;
  panel::Mesh tidy{panel::Nodes(12 * 9, 3), tube.triangles};
  for (int n = 0; n < 13 * 9; ++n)
    if (n % 13 < 12) tidy.nodes.row(n / 13 * 12 + n % 13) = tube.nodes.row(n);
  for (Eigen::Index i = 0; i < tidy.triangles.size(); ++i)
    tidy.triangles.data()[i] = tidy.triangles.data()[i] / 13 * 12 + tidy.triangles.data()[i] % 13;
  CHECK_THROWS_WITH(FlatMap(tidy, Vector3d::UnitZ()),
                    "cannot be laid flat: it is closed round itself");
}

// Source: derived. A ramp that winds one and a half times round lies over itself when laid flat,
// though no triangle of it turns over.
TEST_CASE("a winding ramp cannot be laid flat, and the message says where it overlaps",
          "[panel][derived]") {
  const panel::Mesh ramp = testing::grid(60, 3, [](double u, double v) {
    const double angle = 3.0 * base::kPi * u, radius = 0.2 + 0.1 * (1.0 - v);
    return Vector3d(radius * std::cos(angle), radius * std::sin(angle), 0.01 * angle);
  });
  CHECK_THROWS_WITH(FlatMap(ramp, Vector3d::UnitX()),
                    Catch::StartsWith("cannot be laid flat: it folds over itself near (") &&
                        Catch::EndsWith(") mm"));
}
