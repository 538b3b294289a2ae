// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/skin.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;

TEST_CASE("node axes are right-handed, with the normal out and the rim along tangent 1",
          "[shell][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.4, 0.3, 1.5, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)});
  for (Eigen::Index i = 0; i < p.mesh.nodes.rows(); ++i) {
    const Eigen::Matrix3d& a = skin.axes[static_cast<std::size_t>(i)];
    CHECK((a.transpose() * a - Eigen::Matrix3d::Identity()).norm() < 1e-12);
    CHECK(a.determinant() == Approx(1.0));
    CHECK((a.col(2) - p.normals.row(i).transpose()).norm() < 1e-12);
  }
  const int bottom = node_at(p, 0.0, -0.15);
  CHECK(skin.axes[static_cast<std::size_t>(bottom)].col(0).x() > 0.999);
  const int right = node_at(p, 0.2, 0.0);
  CHECK(skin.axes[static_cast<std::size_t>(right)].col(0).y() > 0.999);
}

TEST_CASE("free degrees of freedom are numbered without a gap and held ones not at all",
          "[shell]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)});
  std::set<int> numbers;
  int held = 0;
  for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
    for (int k = 0; k < 6; ++k)
      if (skin.dof(i, k) == shell::kHeld)
        ++held;
      else
        numbers.insert(skin.dof(i, k));
  CHECK(held == 28 * 6);
  CHECK(skin.n_dof == 7 * 5 * 6);
  CHECK(static_cast<int>(numbers.size()) == skin.n_dof);
  CHECK(*numbers.begin() == 0);
  CHECK(*numbers.rbegin() == skin.n_dof - 1);
}

TEST_CASE("a facet off the mid-surface lies along the normals", "[shell][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.4, 0.3, 1.5, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  const shell::FacetNodes on = skin.facet(17, 0.0), off = skin.facet(17, -2e-3);
  for (int c = 0; c < 3; ++c) {
    const int node = p.mesh.triangles(17, c);
    CHECK((on.corners.row(c) - p.mesh.nodes.row(node)).norm() == 0.0);
    CHECK((off.corners.row(c) - on.corners.row(c) + 2e-3 * p.normals.row(node)).norm() < 1e-15);
    CHECK(off.axes[static_cast<std::size_t>(c)] == skin.axes[static_cast<std::size_t>(node)]);
    for (int k = 0; k < 6; ++k)
      CHECK(skin.facet_dofs(17)[static_cast<std::size_t>(6 * c + k)] == skin.dof(node, k));
  }
}

// Source: derived. Areas sum to the panel's; a unit pressure on a free panel pushes with its area.
TEST_CASE("node areas and a unit pressure sum to the panel's area", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin free_skin = skin_of(p, {}), held = skin_of(p, {edge("rim", Hold::clamped)});
  CHECK(free_skin.node_area.sum() == Approx(0.12).epsilon(1e-12));
  CHECK(shell::uniform_pressure(free_skin).sum() == Approx(0.12).epsilon(1e-12));
  // What the held rim nodes carry is lost: half a cell all round, 0.025 m.
  CHECK(shell::uniform_pressure(held).sum() == Approx(0.35 * 0.25).epsilon(0.02));
  CHECK(shell::uniform_pressure(held).size() == held.n_dof);
}

TEST_CASE("reading a point returns the normal displacement of a skin that moves linearly",
          "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  const auto tilt = [](const Eigen::Vector3d& at) {
    return Motion{{0.3, 0.4, 0.01 + 0.2 * at.x() - 0.1 * at.y()}, {-0.1, -0.2, 0.7}};
  };
  const Eigen::VectorXd x = skin_values(skin, skin.n_dof, tilt);
  for (const Eigen::Vector2d& at : {Eigen::Vector2d(0.1, 0.1), Eigen::Vector2d(0.333, 0.217)}) {
    const Eigen::VectorXd row = shell::normal_at(skin, *p.flat.to_skin(at));
    CHECK(row.dot(x) == Approx(0.01 + 0.2 * at.x() - 0.1 * at.y()).epsilon(1e-10));
  }
  const shell::Skin held = skin_of(p, {edge("left", Hold::clamped)});
  const Eigen::VectorXd at_rim = shell::normal_at(held, *p.flat.to_skin({0.0, 0.15}));
  CHECK(at_rim.cwiseAbs().maxCoeff() < 1e-9);
}
