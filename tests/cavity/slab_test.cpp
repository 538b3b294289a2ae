// SPDX-License-Identifier: GPL-3.0-or-later
#include "cavity/slab.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

panel::Panel panel_of(const panel::Mesh& mesh) { return panel::make_panel(mesh, {}, "test mesh"); }

cavity::SlabInput even(double depth_m) {
  cavity::SlabInput c;
  c.depth_bottom_m = c.depth_top_m = depth_m;
  return c;
}

double energy(const Eigen::SparseMatrix<double>& a, const Eigen::VectorXd& p) {
  return p.dot(a * p);
}

}  // namespace

// Source: derived. A linear pressure and a linear depth are in the elements' own space, so every
// integral is exact: int_0^a int_0^b d(y) dy dx and the like by hand. Tolerance: rounding.
TEST_CASE("a wedge of air has its volume, inertia and give by hand", "[cavity][derived]") {
  const double a = 0.9, b = 0.5, bottom = 0.12, top = 0.04;
  const panel::Panel p = panel_of(flat_plate(a, b, 9, 5));
  cavity::SlabInput input;
  input.depth_bottom_m = bottom;
  input.depth_top_m = top;
  const cavity::Slab slab = cavity::make_slab(p, input);
  const double volume = a * b * 0.5 * (bottom + top);
  CHECK(slab.volume_m3 == Approx(volume).epsilon(1e-12));
  CHECK(slab.n_bridge == 0);
  const Eigen::VectorXd one = Eigen::VectorXd::Ones(p.mesh.nodes.rows());
  const Eigen::VectorXd x = p.mesh.nodes.col(0), y = p.mesh.nodes.col(1);
  const double rho = base::kAirDensity, bulk = rho * base::kAirSound * base::kAirSound;
  CHECK(energy(slab.Q, one) == Approx(volume / bulk).epsilon(1e-12));
  CHECK(std::abs(energy(slab.H, one)) < 1e-12 * slab.H.norm());
  CHECK(energy(slab.H, x) == Approx(volume / rho).epsilon(1e-12));
  CHECK(energy(slab.H, y) == Approx(volume / rho).epsilon(1e-12));
  // int d y^2 dA = a (bottom b^3 / 3 + (top - bottom) b^3 / 4)
  CHECK(energy(slab.Q, y) ==
        Approx(a * b * b * b * (bottom / 3.0 + (top - bottom) / 4.0) / bulk).epsilon(1e-12));
  CHECK(one.dot(slab.A * x) == Approx(0.5 * a * a * b).epsilon(1e-12));
  CHECK(energy(slab.A, y) == Approx(a * b * b * b / 3.0).epsilon(1e-12));
  CHECK(energy(slab.cross, one) == Approx(rho * volume / 3.0).epsilon(1e-12));
}

TEST_CASE("a given volume scales the depths and keeps their ratio", "[cavity][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.8, 0.5, 1.5, 12, 8));
  cavity::SlabInput input;
  input.volume_m3 = 0.05;
  const cavity::Slab level = cavity::make_slab(p, input);
  CHECK(level.volume_m3 == 0.05);
  CHECK(level.depth_m.maxCoeff() == Approx(0.05 / p.area_m2).epsilon(1e-12));
  CHECK(level.depth_m.minCoeff() == Approx(0.05 / p.area_m2).epsilon(1e-12));
  input.depth_bottom_m = 0.3;
  input.depth_top_m = 0.1;
  const cavity::Slab wedge = cavity::make_slab(p, input);
  CHECK(wedge.volume_m3 == 0.05);
  CHECK(wedge.depth_m.maxCoeff() == Approx(3.0 * wedge.depth_m.minCoeff()).epsilon(1e-9));
  const double bulk = base::kAirDensity * base::kAirSound * base::kAirSound;
  const Eigen::VectorXd one = Eigen::VectorXd::Ones(wedge.depth_m.size());
  CHECK(energy(wedge.Q, one) == Approx(0.05 / bulk).epsilon(1e-12));
  CHECK(wedge.stiffness_per_volume2() == Approx(bulk / 0.05).epsilon(1e-12));
  // Deeper below: the lowest point of the map has the largest depth.
  Eigen::Index lowest = 0;
  p.flat.points().col(1).minCoeff(&lowest);
  CHECK(wedge.depth_m(lowest) == wedge.depth_m.maxCoeff());
}

TEST_CASE("air goes on behind a small hole and not behind a large one", "[cavity][derived]") {
  const panel::Panel small = panel_of(annulus(0.05, 0.3, 8));
  const panel::Panel large = panel_of(annulus(0.2, 0.4, 6));
  const cavity::Slab bridged = cavity::make_slab(small, even(0.1));
  CHECK(bridged.n_bridge == 1);
  // The rims are polygons; what fills the hole has the area of the polygon within it.
  const double gap = base::kPi * 0.09 - small.area_m2;
  CHECK(bridged.volume_m3 / 0.1 - small.area_m2 == Approx(base::kPi * 0.0025).epsilon(0.12));
  CHECK(bridged.volume_m3 / 0.1 - small.area_m2 <= gap);
  const Eigen::VectorXd one = Eigen::VectorXd::Ones(bridged.depth_m.size());
  const Eigen::VectorXd skin = Eigen::VectorXd::Ones(small.mesh.nodes.rows());
  CHECK(one.dot(bridged.A * skin) == Approx(small.area_m2).epsilon(1e-12));

  const cavity::Slab walled = cavity::make_slab(large, even(0.1));
  CHECK(walled.n_bridge == 0);
  CHECK(walled.volume_m3 == Approx(0.1 * large.area_m2).epsilon(1e-12));
  cavity::SlabInput no_bridge = even(0.1);
  no_bridge.bridge_up_to_m = 0.0;
  CHECK(cavity::make_slab(small, no_bridge).n_bridge == 0);
}

// Source: derived. A disc takes its own area; its middle is its place as long as it lies on the
// skin. Tolerance on the place: triangles that are partly covered count at their middles.
TEST_CASE("an opening takes its area from the air round its place", "[cavity][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.8, 0.5, 32, 20));
  const cavity::Slab slab = cavity::make_slab(p, even(0.1));
  for (const double area : {1e-4, 0.0133, 0.03}) {
    const Eigen::VectorXd s = cavity::opening(slab, {0.31, 0.22}, area);
    CHECK(s.sum() == Approx(area).epsilon(1e-12));
    CHECK(s.minCoeff() >= 0.0);
    CHECK(s.maxCoeff() < 1.36 * 0.025 * 0.025);  // at most eight triangles
    CHECK(s.dot(p.mesh.nodes.col(0)) / area == Approx(0.31).margin(0.006));
    CHECK(s.dot(p.mesh.nodes.col(1)) / area == Approx(0.22).margin(0.006));
  }
  // Half off the skin, and wholly off it.
  CHECK(cavity::opening(slab, {0.0, 0.25}, 0.0133).sum() == Approx(0.0133).epsilon(1e-12));
  const Eigen::VectorXd off = cavity::opening(slab, {1.2, 0.25}, 0.0133);
  CHECK(off.sum() == Approx(0.0133).epsilon(1e-12));
  CHECK(off.dot(p.mesh.nodes.col(0)) / 0.0133 == Approx(0.8).epsilon(1e-9));
}

TEST_CASE("a cavity without size and an opening without area are refused", "[cavity]") {
  const panel::Panel p = panel_of(flat_plate(0.8, 0.5, 4, 3));
  CHECK_THROWS_AS(cavity::make_slab(p, {}), std::invalid_argument);
  for (const double bad : {-0.1, std::numeric_limits<double>::infinity(), std::nan("")}) {
    cavity::SlabInput input = even(0.1);
    input.volume_m3 = bad;
    CHECK_THROWS_AS(cavity::make_slab(p, input), std::invalid_argument);
    input = even(bad);
    CHECK_THROWS_AS(cavity::make_slab(p, input), std::invalid_argument);
    input = even(0.1);
    input.loss_factor = bad;
    CHECK_THROWS_AS(cavity::make_slab(p, input), std::invalid_argument);
  }
  cavity::SlabInput thin = even(0.1);
  thin.density = 0.0;
  CHECK_THROWS_AS(cavity::make_slab(p, thin), std::invalid_argument);
  const cavity::Slab slab = cavity::make_slab(p, even(0.1));
  CHECK_THROWS_AS(cavity::opening(slab, {0.1, 0.1}, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(cavity::opening(slab, {std::nan(""), 0.1}, 0.01), std::invalid_argument);
}
