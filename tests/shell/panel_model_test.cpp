// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/panel_model.hpp"

#include <catch2/catch.hpp>
#include <cstring>

#include "modes/eigen_solve.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;
using shell::LaidPiece;
using shell::PanelModel;
using Sparse = Eigen::SparseMatrix<double>;

namespace {

Eigen::VectorXd lowest_omega2(const PanelModel& model, int count) {
  const modes::ModeSet set =
      modes::lowest_modes(model.real_stiffness(100.0, 293.15), model.mass, count);
  REQUIRE(set.complete);
  return set.omega2;
}

bool same_bytes(const Sparse& a, const Sparse& b) {
  const auto n = static_cast<std::size_t>(a.nonZeros());
  return a.nonZeros() == b.nonZeros() && a.outerSize() == b.outerSize() &&
         std::memcmp(a.valuePtr(), b.valuePtr(), n * sizeof(double)) == 0 &&
         std::memcmp(a.innerIndexPtr(), b.innerIndexPtr(), n * sizeof(int)) == 0;
}

/// Uneven in every way: sheets of three kinds, two of the same, a beam, springs.
struct Busy {
  panel::Panel panel = panel_of(sphere_panel(0.4, 0.3, 2.0, 8, 6));
  sheet::Sheet soft = constrained(1e6, 1.0), paste = free_layer(1e9, 0.3),
               heavy = mass_layer(1e-3, 2000.0);
  shell::Skin skin;
  PanelModel model;

  Busy() {
    shell::EdgeInput hem = edge("rim", Hold::springs);
    hem.normal_stiffness = hem.in_plane_stiffness = 1e6;
    hem.rotation_stiffness = 20.0;
    hem.loss_factor = 0.05;
    skin = skin_of(panel, {hem, edge("left", Hold::clamped)}, 0.8e-3, 0.002);
    shell::BeamInput beam;
    beam.name = "beam";
    beam.from = {0.05, 0.2};
    beam.to = {0.35, 0.22};
    beam.area_m2 = 1e-4;
    beam.inertia_normal_m4 = beam.inertia_in_plane_m4 = beam.torsion_m4 = 1e-9;
    beam.material = steel();
    beam.pads_m = {0.1, 0.2};
    beam.pad_stiffness = 1e4;
    beam.pad_loss_factor = 0.05;
    const std::vector<LaidPiece> pieces = {
        {rectangle_on(panel, {0.1, 0.1}, {0.1, 0.1}), {&soft}, false, false},
        {rectangle_on(panel, {0.3, 0.1}, {0.11, 0.07}), {&heavy, &soft}, true, false},
        {rectangle_on(panel, {0.2, 0.22}, {0.2, 0.06}), {&paste}, false, false}};
    model = shell::build_model(skin, {{beam}, {}, {{"lump", {0.2, 0.1}, 0.05}}}, pieces);
  }
};

}  // namespace

TEST_CASE("the same panel and layout give the same bytes each time", "[shell][derived]") {
  const Busy a, b;
  REQUIRE(a.model.terms.size() == b.model.terms.size());
  CHECK(same_bytes(a.model.mass, b.model.mass));
  for (std::size_t t = 0; t < a.model.terms.size(); ++t) {
    CHECK(a.model.terms[t].name == b.model.terms[t].name);
    CHECK(same_bytes(a.model.terms[t].matrix, b.model.terms[t].matrix));
  }
}

TEST_CASE("plies of one sheet share a term, springs of one loss factor too", "[shell]") {
  const Busy busy;
  std::vector<std::string> names;
  for (const shell::StiffnessTerm& t : busy.model.terms) names.push_back(t.name);
  CHECK(names == std::vector<std::string>{
                     "skin", "foils and beams", "springs", "soft sheet", "stiff paste"});
  CHECK(busy.model.core_term == std::vector<std::vector<int>>{{3}, {-1, 3}, {4}});
  CHECK(busy.model.n_skin_dof == busy.skin.n_dof);
  CHECK(busy.model.terms[0].coefficient(50.0, 300.0) == std::complex<double>(1.0, 0.002));
  CHECK(busy.model.terms[2].coefficient(50.0, 300.0) == std::complex<double>(1.0, 0.05));
  CHECK(busy.model.terms[3].coefficient(50.0, 300.0) == std::complex<double>(1e6, 1e6));
  Sparse sum = busy.model.terms[0].matrix + busy.model.terms[1].matrix +
               busy.model.terms[2].matrix + 1e6 * busy.model.terms[3].matrix +
               1e9 * busy.model.terms[4].matrix;
  CHECK((busy.model.real_stiffness(50.0, 300.0) - sum).norm() < 1e-14 * sum.norm());
}

TEST_CASE("every matrix of a panel with all that can hang on it is symmetric and nowhere negative",
          "[shell][derived]") {
  const Busy busy;
  const auto check = [](const Sparse& a) {
    CHECK((a - Sparse(a.transpose())).norm() < 1e-13 * a.norm());
    Dice dice;
    for (int i = 0; i < 20; ++i) {
      const Eigen::VectorXd x = dice.matrix(a.rows(), 1);
      CHECK(x.dot(a * x) > 0.0);
    }
  };
  check(busy.model.mass);
  for (const shell::StiffnessTerm& t : busy.model.terms) check(t.matrix);
}

// Source: derived. Mass alone, in proportion to the skin's: w^2 falls by 1 / (1 + mu / m).
// Tolerance: rounding in the eigen-solve.
TEST_CASE("a uniform mass layer scales all frequencies by exactly 1/sqrt(1 + mu/m)",
          "[shell][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.4, 0.3, 2.0, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)});
  const sheet::Sheet heavy = mass_layer(2e-3, 1900.0);
  const PanelModel bare = shell::build_model(skin, {}, {});
  const PanelModel laden = shell::build_model(skin, {}, {{all_of(p), {&heavy}, true, false}});
  const double ratio = 1.0 + 2e-3 * 1900.0 / (0.8e-3 * 7850.0);
  CHECK((laden.mass - ratio * bare.mass).norm() < 1e-14 * laden.mass.norm());
  CHECK(laden.n_dof == bare.n_dof);
  const Eigen::VectorXd a = lowest_omega2(bare, 8), b = lowest_omega2(laden, 8);
  for (int j = 0; j < 8; ++j) CHECK(b(j) * ratio == Approx(a(j)).epsilon(1e-10).margin(0.0));
}

// Source: derived. Mirror images have the same frequencies and mirrored shapes.
TEST_CASE("a mirrored layout on a symmetric panel gives mirrored results", "[shell][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.4, 0.3, 2.0, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)});
  const sheet::Sheet soft = constrained(1e6, 1.0);
  const double width = p.flat.size().x();
  const auto answer = [&](double x, double force_x) {
    const PanelModel model = shell::build_model(
        skin, {}, {{rectangle_on(p, {x, 0.12}, {0.13, 0.09}), {&soft}, false, false}});
    const modes::CholeskyFactor factor(model.real_stiffness(100.0, 293.15));
    Eigen::VectorXd load = Eigen::VectorXd::Zero(model.n_dof);
    load(skin.dof(node_at(p, force_x, 0.05), 2)) = 1.0;
    return std::pair(lowest_omega2(model, 6), Eigen::VectorXd(factor.solve(load)));
  };
  const auto [left, left_u] = answer(0.11, -0.1);
  const auto [right, right_u] = answer(width - 0.11, 0.1);
  for (int j = 0; j < 6; ++j) CHECK(left(j) == Approx(right(j)).epsilon(1e-9));
  for (Eigen::Index i = 0; i < p.mesh.nodes.rows(); ++i) {
    const int here = skin.dof(i, 2);
    if (here == shell::kHeld) continue;
    const int twin =
        skin.dof(node_at(p, -p.mesh.nodes(i, 0), p.mesh.nodes(i, 1), p.mesh.nodes(i, 2)), 2);
    CHECK(left_u(here) ==
          Approx(right_u(twin)).epsilon(0.0).margin(1e-8 * left_u.head(skin.n_dof).norm()));
  }
  CHECK(std::abs(left(0) / answer(0.2, -0.1).first(0) - 1.0) > 1e-4);
}

// Source: derived. Springs without end are a clamp, springs of nothing leave the panel free.
TEST_CASE("an elastic rim lies between free and clamped and reaches both", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 12, 9));
  const auto with_springs = [&](double normal, double turning) {
    shell::EdgeInput e = edge("rim", Hold::springs);
    e.normal_stiffness = e.in_plane_stiffness = normal;
    e.rotation_stiffness = turning;
    return lowest_omega2(shell::build_model(skin_of(p, {e}), {}, {}), 9);
  };
  const Eigen::VectorXd clamped =
      lowest_omega2(shell::build_model(skin_of(p, {edge("rim", Hold::clamped)}), {}, {}), 9);
  const Eigen::VectorXd free = lowest_omega2(shell::build_model(skin_of(p, {}), {}, {}), 9);
  const Eigen::VectorXd stiff = with_springs(1e11, 1e6), hem = with_springs(1e5, 20.0),
                        soft = with_springs(1.0, 0.0);
  REQUIRE((free.head(6).array() == 0.0).all());
  for (int j = 0; j < 6; ++j) {
    CHECK(stiff(j) == Approx(clamped(j)).epsilon(1e-2));
    CHECK(hem(j) < clamped(j));
    CHECK(hem(j) > soft(j));
  }
  for (int j = 6; j < 9; ++j) CHECK(soft(j) == Approx(free(j)).epsilon(1e-3));
  // Out of the skin the whole panel bounces on its rim: k (perimeter) / m.
  const double bounce = 1.0 * 1.4 / (0.8e-3 * 7850.0 * 0.12);
  CHECK((soft.head(6).array() / bounce - 1.0).abs().minCoeff() < 1e-5);
}

TEST_CASE("bending share is 1 in pure bending, 0 in pure stretch, between them on a crown",
          "[shell][derived]") {
  const panel::Panel flat = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(flat, {});
  Eigen::MatrixXd shapes(skin.n_dof, 2);
  shapes.col(0) = skin_values(skin, skin.n_dof, [](const Eigen::Vector3d& at) {
    return Motion{{0, 0, at.x() * at.y()}, {at.x(), -at.y(), 0}};
  });
  shapes.col(1) = skin_values(skin, skin.n_dof, [](const Eigen::Vector3d& at) {
    return Motion{{at.x(), 0.5 * at.y(), 0}, {0, 0, 0}};
  });
  const Eigen::VectorXd share = shell::bending_share(skin, shapes);
  CHECK(share(0) == Approx(1.0));
  CHECK(std::abs(share(1)) < 1e-12);
  const Busy busy;
  const modes::ModeSet set =
      modes::lowest_modes(busy.model.real_stiffness(100.0, 293.15), busy.model.mass, 4);
  const Eigen::VectorXd crowned = shell::bending_share(busy.skin, set.shape);
  CHECK(crowned.minCoeff() > 0.05);
  CHECK(crowned.maxCoeff() < 0.95);
}
