// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/facet.hpp"

#include <catch2/catch.hpp>

#include "shell/small_panels.hpp"
#include "shell/triangles.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::FacetNodes;
using shell::Part;

namespace {

Eigen::Matrix3d turned(double a, double b, double c) {
  return (Eigen::AngleAxisd(a, Eigen::Vector3d::UnitZ()) *
          Eigen::AngleAxisd(b, Eigen::Vector3d::UnitY()) *
          Eigen::AngleAxisd(c, Eigen::Vector3d::UnitX()))
      .toRotationMatrix();
}

/// A facet somewhere in space with node axes that lean away from its normal, as on a crowned skin.
FacetNodes leaning() {
  FacetNodes f;
  f.corners << 0.31, -0.12, 0.05, 0.33, -0.11, 0.052, 0.315, -0.093, 0.047;
  f.axes = {turned(0.3, 0.1, -0.05), turned(-1.2, 0.04, 0.08), turned(2.0, -0.06, 0.02)};
  return f;
}

FacetNodes flat(const Eigen::Matrix3d& c) {
  const Eigen::Matrix3d i = Eigen::Matrix3d::Identity();
  return {c, {i, i, i}};
}

shell::Plate plate() { return shell::plate_of(steel(), 0.8e-3); }

Eigen::Matrix<double, 18, 1> rigid_values(const FacetNodes& f, int k) {
  Eigen::Matrix<double, 18, 1> x;
  for (int c = 0; c < 3; ++c)
    x.segment<6>(6 * c) =
        in_axes(rigid_motion(k, f.corners.row(c)), f.axes[static_cast<std::size_t>(c)]);
  return x;
}

/// Upper 1, 2, lower 1, 2, skin's six at each corner.
using CoreValues = Eigen::Matrix<double, 30, 1>;

}  // namespace

// Source: derived. Energy does not depend on where and how the facet lies.
TEST_CASE("a facet keeps its stiffness and mass however it is turned in space",
          "[shell][derived]") {
  const FacetNodes f = leaning();
  for (const Eigen::Matrix3d& r : {turned(0.7, -0.4, 1.1), turned(-2.0, 1.0, 0.3)}) {
    FacetNodes g = f;
    g.corners = (f.corners * r.transpose()).rowwise() + Eigen::RowVector3d(1.0, -2.0, 0.5);
    for (Eigen::Matrix3d& axes : g.axes) axes = r * axes;
    const shell::Matrix18d k = shell::facet_stiffness(f, plate());
    const shell::Matrix18d m = shell::facet_mass(f, 6.28);
    const shell::Matrix30d core = shell::core_shear_stiffness(f, 2e-3, 2.5e-3);
    CHECK((shell::facet_stiffness(g, plate()) - k).norm() < 1e-10 * k.norm());
    CHECK((shell::facet_mass(g, 6.28) - m).norm() < 1e-10 * m.norm());
    CHECK((shell::core_shear_stiffness(g, 2e-3, 2.5e-3) - core).norm() < 1e-10 * core.norm());
  }
}

TEST_CASE("a facet that begins at another corner is the same facet", "[shell][derived]") {
  const FacetNodes f = leaning();
  FacetNodes g = f;
  g.corners.row(0) = f.corners.row(1);
  g.corners.row(1) = f.corners.row(2);
  g.corners.row(2) = f.corners.row(0);
  g.axes = {f.axes[1], f.axes[2], f.axes[0]};
  const shell::Matrix18d k = shell::facet_stiffness(f, plate());
  const shell::Matrix18d turned_k = shell::facet_stiffness(g, plate());
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      CHECK(
          (k.block<6, 6>(6 * ((i + 1) % 3), 6 * ((j + 1) % 3)) - turned_k.block<6, 6>(6 * i, 6 * j))
              .norm() < 1e-10 * k.norm());
}

TEST_CASE("a facet gives way to the six rigid motions and to no other", "[shell][derived]") {
  const FacetNodes f = leaning();
  const shell::Matrix18d k = shell::facet_stiffness(f, plate());
  for (int r = 0; r < 6; ++r) CHECK(relative_energy(k, rigid_values(f, r)) < 1e-14);
  // A thin facet bends far more easily than it stretches, so the rank is counted part by part.
  for (const auto& [part, rank] : {std::pair(Part::bending, 6), std::pair(Part::membrane, 6)}) {
    const shell::Matrix18d p = shell::facet_stiffness(flat(some_triangles()[1]), plate(), part);
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(p);
    int found = 0;
    for (int i = 0; i < 18; ++i)
      found += svd.singularValues()(i) > 1e-9 * svd.singularValues()(0) ? 1 : 0;
    CHECK(found == rank);
  }
}

TEST_CASE("bending and membrane parts sum to the whole stiffness", "[shell][derived]") {
  const FacetNodes f = leaning();
  const shell::Matrix18d whole = shell::facet_stiffness(f, plate());
  const shell::Matrix18d sum = shell::facet_stiffness(f, plate(), Part::bending) +
                               shell::facet_stiffness(f, plate(), Part::membrane);
  CHECK((whole - sum).norm() < 1e-14 * whole.norm());
}

// Source: derived. Bending grows with the cube of the thickness, stretch in proportion.
TEST_CASE("bending goes with the cube of the thickness and stretch in proportion",
          "[shell][derived]") {
  const FacetNodes f = leaning();
  shell::Plate thick = plate();
  thick.thickness_m *= 3.0;
  for (const auto& [part, factor] :
       {std::pair(Part::bending, 27.0), std::pair(Part::membrane, 3.0)})
    CHECK(
        (shell::facet_stiffness(f, thick, part) - factor * shell::facet_stiffness(f, plate(), part))
            .norm() < 1e-12 * shell::facet_stiffness(f, thick, part).norm());
}

// Source: derived. Half m v^2: a facet that moves as a whole along any direction carries its mass.
TEST_CASE("a facet's mass is the same in all directions and nowhere negative", "[shell][derived]") {
  const FacetNodes f = leaning();
  const shell::Matrix18d m = shell::facet_mass(f, 6.28);
  const double mass = 6.28 * shell::triangle_geometry(f.corners).area;
  for (int r = 0; r < 3; ++r)
    CHECK(rigid_values(f, r).dot(m * rigid_values(f, r)) == Approx(mass).epsilon(1e-12));
  CHECK((m - m.transpose()).norm() < 1e-14 * m.norm());
  const Eigen::VectorXd e = Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(m).eigenvalues();
  CHECK(e(0) > -1e-15 * e(17));
}

// Source: derived. Slip s everywhere, shear strain s / h, energy G / 2 (s / h)^2 times the volume
// area x h.
TEST_CASE("a uniform slip of the upper layer shears the core evenly", "[shell][derived]") {
  const double h = 2e-3, slip = 3e-6;
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::Matrix30d k = shell::core_shear_stiffness(flat(c), h, 2.4e-3);
    for (const double angle : {0.0, 0.9}) {
      CoreValues x = CoreValues::Zero();
      for (int i = 0; i < 3; ++i)
        x.segment<2>(10 * i) << slip * std::cos(angle), slip * std::sin(angle);
      const double energy = 0.5 * shell::triangle_geometry(c).area / h * slip * slip;
      CHECK(0.5 * x.dot(k * x) == Approx(energy).epsilon(1e-12).margin(0.0));
      // The lower layer moving the other way is the same slip.
      CoreValues y = CoreValues::Zero();
      for (int i = 0; i < 3; ++i) y.segment<2>(10 * i + 2) = -x.segment<2>(10 * i);
      CHECK(0.5 * y.dot(k * y) == Approx(energy).epsilon(1e-12).margin(0.0));
    }
  }
}

// Source: derived. With both layers still the slip is dz grad w; w = x^2/2 + x y - y^2 has a slope
// whose square is quadratic: exact.
TEST_CASE("a bent skin under a still foil shears the core by its slope", "[shell][derived]") {
  const double h = 2e-3;
  for (const double dz : {2.45e-3, -2.45e-3})
    for (const Eigen::Matrix3d& c : some_triangles()) {
      const shell::Matrix30d k = shell::core_shear_stiffness(flat(c), h, dz);
      const auto slope = [](double x, double y) { return Eigen::Vector2d(x + y, x - 2.0 * y); };
      CoreValues v = CoreValues::Zero();
      for (int i = 0; i < 3; ++i) {
        const double x = c(i, 0), y = c(i, 1);
        v(10 * i + 6) = 0.5 * x * x + x * y - y * y;
        v(10 * i + 7) = slope(x, y).y();
        v(10 * i + 8) = -slope(x, y).x();
      }
      const double exact =
          dz * dz / h * integral(c, [&](double x, double y) { return slope(x, y).squaredNorm(); });
      CHECK(v.dot(k * v) == Approx(exact).epsilon(1e-10).margin(0.0));
    }
}

// Source: derived. Along a side the deflection is the cubic of its ends, whose slope in the middle
// is 3 (w_j - w_i) / (2 L) - (s_i + s_j) / 4: with still rotations 3 / 2 of the mean slope, so that
// nodes cannot relax the core by turning against the skin's own slope.
TEST_CASE("deflections alone shear the core by the middle slope of each side", "[shell][derived]") {
  const double h = 2e-3, dz = 2.45e-3;
  for (const Eigen::Matrix3d& c : some_triangles()) {
    const shell::Matrix30d k = shell::core_shear_stiffness(flat(c), h, dz);
    const Eigen::Vector3d w(3e-4, -2e-4, 5e-4);
    CoreValues v = CoreValues::Zero();
    double squares = 0.0;
    for (int i = 0; i < 3; ++i) {
      const int j = (i + 1) % 3;
      v(10 * i + 6) = w(i);
      squares += std::pow(1.5 * (w(j) - w(i)) / (c.row(j) - c.row(i)).norm(), 2);
    }
    const double area = shell::triangle_geometry(c).area;
    CHECK(v.dot(k * v) == Approx(dz * dz / h * area / 3.0 * squares).epsilon(1e-10).margin(0.0));
  }
}

// Source: derived. Plane sections: u = -z grad w at the heights of both layers leaves no slip.
TEST_CASE("plane sections stay plane without shearing the core", "[shell][derived]") {
  const double low = -0.7e-3, dz = 2.45e-3;
  const Eigen::Matrix3d c = some_triangles()[1];
  const shell::Matrix30d k = shell::core_shear_stiffness(flat(c), 2e-3, dz);
  CoreValues v = CoreValues::Zero();
  for (int i = 0; i < 3; ++i) {
    const double x = c(i, 0), y = c(i, 1);
    const Eigen::Vector2d slope(0.3 + 2.0 * x - y, -0.1 - x + 0.5 * y);
    v.segment<2>(10 * i) = -(low + dz) * slope;
    v.segment<2>(10 * i + 2) = -low * slope;
    v(10 * i + 6) = 0.3 * x - 0.1 * y + x * x - x * y + 0.25 * y * y;
    v(10 * i + 7) = slope.y();
    v(10 * i + 8) = -slope.x();
  }
  CHECK(relative_energy(k, v) < 1e-14);
}

TEST_CASE("a core without thickness is refused", "[shell]") {
  for (const double bad : {0.0, -1e-3, double(NAN)})
    CHECK_THROWS_AS(shell::core_shear_stiffness(leaning(), bad, 1e-3), std::invalid_argument);
}
