// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/rim_holds.hpp"

#include <catch2/catch.hpp>

#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;

namespace {

constexpr double kA = 0.4, kB = 0.3;

panel::Panel plate() { return panel_of(flat_plate(kA, kB, 8, 6)); }

/// Places 0 to 5 that are held, as text: "024".
std::string held_at(const shell::RimHolds& holds, int node) {
  std::string out;
  for (int k = 0; k < 6; ++k)
    if (holds.held(node, k)) out += std::to_string(k);
  return out;
}

bool on_rim(double x, double y) { return x < 1e-9 || y < 1e-9 || x > kA - 1e-9 || y > kB - 1e-9; }

}  // namespace

TEST_CASE("a clamped rim holds all of its nodes and no other", "[shell][derived]") {
  const panel::Panel p = plate();
  const shell::RimHolds holds = shell::rim_holds(p, {edge("rim", Hold::clamped)});
  for (Eigen::Index i = 0; i < p.mesh.nodes.rows(); ++i)
    CHECK(held_at(holds, static_cast<int>(i)) ==
          (on_rim(p.mesh.nodes(i, 0), p.mesh.nodes(i, 1)) ? "012345" : ""));
}

TEST_CASE("a pinned rim holds displacements only", "[shell][derived]") {
  const panel::Panel p = plate();
  const shell::RimHolds holds = shell::rim_holds(p, {edge("all", Hold::pinned)});
  CHECK(held_at(holds, node_at(p, 0.2, 0.0)) == "012");
  CHECK(held_at(holds, node_at(p, 0.0, 0.0)) == "012");
  CHECK(held_at(holds, node_at(p, 0.2, 0.1)).empty());
}

// Source: derived. Along a straight rim: no w, no motion along it, no slope along it (rotation
// about the direction across). At a corner two rims ask for it.
TEST_CASE("a simply supported rim holds out of the skin, along the rim and the slope along it",
          "[shell][derived]") {
  const panel::Panel p = plate();
  const shell::RimHolds holds = shell::rim_holds(p, {edge("rim", Hold::simply_supported)});
  CHECK(held_at(holds, node_at(p, 0.2, 0.0)) == "024");
  CHECK(held_at(holds, node_at(p, kA, 0.15)) == "024");
  CHECK(held_at(holds, node_at(p, 0.0, 0.0)) == "01234");
  CHECK(held_at(holds, node_at(p, kA, kB)) == "01234");
  // Tangents run along the rim: anticlockwise.
  CHECK((holds.tangent.row(node_at(p, 0.2, 0.0)) - Eigen::RowVector3d(1, 0, 0)).norm() < 1e-12);
  CHECK((holds.tangent.row(node_at(p, kA, 0.15)) - Eigen::RowVector3d(0, 1, 0)).norm() < 1e-12);
  CHECK(holds.tangent.row(node_at(p, 0.2, 0.15)).norm() == 0.0);
}

TEST_CASE("a smooth round rim has no corner that holds more", "[shell][derived]") {
  const panel::Panel p = panel_of(disc(0.2, 6));
  const shell::RimHolds holds = shell::rim_holds(p, {edge("rim", Hold::simply_supported)});
  int rim = 0;
  for (Eigen::Index i = 0; i < p.mesh.nodes.rows(); ++i)
    if (p.mesh.nodes.row(i).norm() > 0.199) {
      ++rim;
      CHECK(held_at(holds, static_cast<int>(i)) == "024");
    }
  CHECK(rim == 36);
}

TEST_CASE("a corner obeys both of its rim parts", "[shell][derived]") {
  const panel::Panel p = plate();
  const shell::RimHolds holds =
      shell::rim_holds(p, {edge("left", Hold::clamped), edge("bottom", Hold::simply_supported)});
  CHECK(held_at(holds, node_at(p, 0.0, 0.15)) == "012345");
  CHECK(held_at(holds, node_at(p, 0.0, 0.0)) == "012345");
  CHECK(held_at(holds, node_at(p, 0.0, kB)) == "012345");
  CHECK(held_at(holds, node_at(p, 0.2, 0.0)) == "024");
  // The right side is free: at its corner the bottom's own direction counts.
  CHECK(held_at(holds, node_at(p, kA, 0.0)) == "024");
  CHECK((holds.tangent.row(node_at(p, kA, 0.0)) - Eigen::RowVector3d(1, 0, 0)).norm() < 1e-12);
  CHECK(held_at(holds, node_at(p, kA, 0.15)).empty());
}

TEST_CASE("a later entry overrules an earlier one on the rim that both name", "[shell]") {
  const panel::Panel p = plate();
  const shell::RimHolds holds =
      shell::rim_holds(p, {edge("rim", Hold::clamped), edge("top", Hold::free)});
  CHECK(held_at(holds, node_at(p, 0.2, kB)).empty());
  CHECK(held_at(holds, node_at(p, 0.0, kB)) == "012345");
  CHECK(held_at(holds, node_at(p, 0.2, 0.0)) == "012345");
}

TEST_CASE("from and to hold only the stretch between them", "[shell]") {
  const panel::Panel p = plate();
  const auto held_nodes = [&](const std::string& part, Eigen::Vector2d from, Eigen::Vector2d to) {
    shell::EdgeInput e = edge(part, Hold::clamped);
    e.from = from;
    e.to = to;
    const shell::RimHolds holds = shell::rim_holds(p, {e});
    std::vector<int> out;
    for (Eigen::Index i = 0; i < holds.held.rows(); ++i)
      if (holds.held(i, 0)) out.push_back(static_cast<int>(i));
    return out;
  };
  const auto row = [&](std::initializer_list<std::pair<double, double>> places) {
    std::vector<int> out;
    for (const auto& at : places) out.push_back(node_at(p, at.first, at.second));
    std::sort(out.begin(), out.end());
    return out;
  };
  CHECK(held_nodes("bottom", {0.11, 0.0}, {0.26, 0.01}) ==
        row({{0.1, 0}, {0.15, 0}, {0.2, 0}, {0.25, 0}}));
  SECTION("up to a part's very end") {
    CHECK(held_nodes("bottom", {0.3, 0.0}, {kA, 0.0}) == row({{0.3, 0}, {0.35, 0}, {kA, 0}}));
    CHECK(held_nodes("bottom", {0.0, 0.0}, {0.1, 0.0}) == row({{0, 0}, {0.05, 0}, {0.1, 0}}));
  }
  SECTION("round a corner of the whole rim, past its first node too") {
    CHECK(held_nodes("rim", {0.35, 0.0}, {kA, 0.05}) == row({{0.35, 0}, {kA, 0}, {kA, 0.05}}));
    CHECK(held_nodes("rim", {0.0, 0.05}, {0.05, 0.0}) == row({{0, 0.05}, {0, 0}, {0.05, 0}}));
  }
  SECTION("one place alone holds nothing") {
    CHECK(held_nodes("rim", {0.2, 0.0}, {0.2, 0.0}).empty());
  }
}

TEST_CASE("holes are named apart from the rim", "[shell]") {
  const panel::Panel p = panel_of(annulus(0.05, 0.2, 5));
  const auto count = [&](const std::string& part) {
    const shell::RimHolds holds = shell::rim_holds(p, {edge(part, Hold::clamped)});
    return holds.held.col(0).count();
  };
  const auto inner = (p.mesh.nodes.rowwise().norm().array() < 0.0501).count();
  const auto outer = (p.mesh.nodes.rowwise().norm().array() > 0.1999).count();
  CHECK(count("holes") == inner);
  CHECK(count("hole-1") == inner);
  CHECK(count("rim") == outer);
  CHECK(count("all") == inner + outer);
}

TEST_CASE("a rim part that the panel has not is refused", "[shell]") {
  const panel::Panel p = plate();
  for (const char* bad : {"botom", "holes", "hole-1", ""})
    CHECK_THROWS_AS(shell::rim_holds(p, {edge(bad, Hold::clamped)}), std::invalid_argument);
}

// Source: derived. Stiffness per length times the rim's length, 2 (a + b).
TEST_CASE("an elastic rim sums to its stiffness per length times its length", "[shell][derived]") {
  const panel::Panel p = plate();
  shell::EdgeInput e = edge("rim", Hold::springs);
  e.normal_stiffness = 3e4;
  e.in_plane_stiffness = 7e5;
  e.rotation_stiffness = 11.0;
  e.loss_factor = 0.2;
  const shell::Skin skin = skin_of(p, {e});
  Eigen::Matrix<double, 6, 6> sum = Eigen::Matrix<double, 6, 6>::Zero();
  Eigen::Matrix3d turning = Eigen::Matrix3d::Zero();  // in space axes
  for (const shell::NodeSpring& s : skin.springs) {
    CHECK(s.loss_factor == 0.2);
    CHECK((s.stiffness - s.stiffness.transpose()).norm() < 1e-14 * s.stiffness.norm());
    sum += s.stiffness;
    const Eigen::Matrix3d& axes = skin.axes[static_cast<std::size_t>(s.node)];
    turning += axes * s.stiffness.block<3, 3>(3, 3) * axes.transpose();
  }
  CHECK(skin.springs.size() == 28);
  const double length = 2.0 * (kA + kB);
  CHECK(sum(2, 2) == Approx(3e4 * length));
  CHECK(sum(0, 0) == Approx(7e5 * length));
  CHECK(sum(1, 1) == Approx(7e5 * length));
  // About the rim's own direction: the bottom and top about x, the sides about y.
  Eigen::Matrix3d exact = Eigen::Matrix3d::Zero();
  exact.diagonal() << 11.0 * 2.0 * kA, 11.0 * 2.0 * kB, 0.0;
  CHECK((turning - exact).norm() < 1e-12 * exact.norm());
}
