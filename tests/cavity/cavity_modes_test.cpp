// SPDX-License-Identifier: GPL-3.0-or-later
#include "cavity/cavity_modes.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

panel::Panel crowned() {
  return panel::make_panel(sphere_panel(0.9, 0.5, 2.0, 27, 15), {}, "test mesh");
}

cavity::SlabInput wedge() {
  cavity::SlabInput c;
  c.depth_bottom_m = 0.13;
  c.depth_top_m = 0.07;
  return c;
}

}  // namespace

// Source: derived. H p = w2 Q p with p^T Q p = 1 is what a mode is; 1^T Q 1 = V / (rho c^2).
// Tolerance: the solver's own on the residual.
TEST_CASE("slab modes satisfy their equation, even one first", "[cavity][derived]") {
  const panel::Panel p = crowned();
  const cavity::Slab slab = cavity::make_slab(p, wedge());
  const cavity::CavityModes m = cavity::cavity_modes(slab, 900.0);
  REQUIRE(m.complete);
  REQUIRE(m.omega2.size() >= 8);
  CHECK(m.omega2(0) == 0.0);
  CHECK(m.pressure.col(0).minCoeff() == m.pressure.col(0).maxCoeff());
  CHECK(m.omega2(1) > 1e5);
  const Eigen::MatrixXd qp = slab.Q * m.pressure;
  const Eigen::MatrixXd left = slab.H * m.pressure - qp * m.omega2.asDiagonal();
  for (Eigen::Index k = 1; k < m.omega2.size(); ++k) {
    CHECK(m.omega2(k) >= m.omega2(k - 1));
    CHECK(left.col(k).norm() < 1e-8 * m.omega2(k) * qp.col(k).norm());
  }
  const Eigen::MatrixXd one = m.pressure.transpose() * qp;
  CHECK((one - Eigen::MatrixXd::Identity(one.rows(), one.cols())).cwiseAbs().maxCoeff() < 1e-9);
  const cavity::CavityModes even = cavity::even_mode(slab);
  CHECK(even.pressure == m.pressure.leftCols(1));
  CHECK(even.omega2 == m.omega2.head(1));
}

TEST_CASE("below the first slab mode there is the even one alone", "[cavity][derived]") {
  const panel::Panel p = crowned();
  const cavity::Slab slab = cavity::make_slab(p, wedge());
  const cavity::CavityModes m = cavity::cavity_modes(slab, 60.0);
  CHECK(m.complete);
  CHECK(m.omega2.size() == 1);
  CHECK(m.pressure == cavity::even_mode(slab).pressure);
}

TEST_CASE("a top frequency of 0 or below is refused", "[cavity]") {
  const panel::Panel p = crowned();
  const cavity::Slab slab = cavity::make_slab(p, wedge());
  for (const double bad : {0.0, -100.0, std::nan("")})
    CHECK_THROWS_AS(cavity::cavity_modes(slab, bad), std::invalid_argument);
}
