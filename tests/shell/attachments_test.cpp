// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/attachments.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/input_error.hpp"
#include "modes/eigen_solve.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Attachments;
using shell::Hold;

namespace {

shell::BeamInput beam(Eigen::Vector2d from, Eigen::Vector2d to) {
  shell::BeamInput b;
  b.name = "beam";
  b.from = from;
  b.to = to;
  b.area_m2 = 2.1e-4;
  b.inertia_normal_m4 = 1.3e-8;
  b.inertia_in_plane_m4 = 0.6e-8;
  b.torsion_m4 = 1.7e-8;
  b.material = steel();
  return b;
}

shell::MassInput point_mass(Eigen::Vector2d at, double mass_kg) { return {"lump", at, mass_kg}; }

Eigen::VectorXd frequencies(const shell::PanelModel& model, int count) {
  const modes::ModeSet set =
      modes::lowest_modes(model.real_stiffness(100.0, 293.15), model.mass, count);
  REQUIRE(set.complete);
  return set.omega2.cwiseSqrt() / base::kTwoPi;
}

/// The matrix of one term by name.
Eigen::SparseMatrix<double> term(const shell::PanelModel& model, const std::string& name) {
  for (const shell::StiffnessTerm& t : model.terms)
    if (t.name == name) return t.matrix;
  FAIL("no term " << name);
  return {};
}

/// w = (x^2 - y^2) / 2, thin-plate rotations.
Motion saddle(const Eigen::Vector3d& at) {
  return {{0.0, 0.0, 0.5 * (at.x() * at.x() - at.y() * at.y())}, {-at.y(), -at.x(), 0.0}};
}

}  // namespace

// Source: derived. Simply supported 1.0 x 0.6 m, 0.8 mm steel (210e9, 0.3, 7850) with a mass M at
// (x0, y0): 1 = M w^2 sum phi^2 / (m a b / 4 (w_mn^2 - w^2)), phi = sin sin at the mass; summed and
// solved apart from this program. Tolerance: the mesh.
TEST_CASE("a point mass lowers a plate's frequencies as the exact sum says", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(1.0, 0.6, 30, 18));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)});
  struct Case {
    Eigen::Vector2d at;
    double mass_kg;
    std::vector<double> hz;
  };
  for (const Case& c : {Case{{0.3, 0.2}, 0.1, {7.23474, 12.8792, 22.9010, 23.3783, 28.8331}},
                        Case{{0.3, 0.2}, 0.5, {6.46661, 11.6529, 21.0869, 23.2614, 27.4954}}}) {
    const shell::PanelModel model =
        shell::build_model(skin, {{}, {}, {point_mass(c.at, c.mass_kg)}}, {});
    const Eigen::VectorXd f = frequencies(model, 5);
    for (std::size_t i = 0; i < c.hz.size(); ++i)
      CHECK(f(static_cast<Eigen::Index>(i)) == Approx(c.hz[i]).epsilon(4e-3));
  }
}

// Source: derived. Half m v^2 along each direction.
TEST_CASE("point masses and bonded beams move with the skin in all three directions",
          "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  const Attachments with{{beam({0.05, 0.06}, {0.35, 0.06})}, {}, {point_mass({0.111, 0.077}, 0.3)}};
  const Eigen::SparseMatrix<double> added =
      shell::build_model(skin, with, {}).mass - shell::build_model(skin, {}, {}).mass;
  for (int k = 0; k < 3; ++k) {
    const Eigen::VectorXd x = skin_values(
        skin, skin.n_dof, [k](const Eigen::Vector3d& at) { return rigid_motion(k, at); });
    CHECK(x.dot(added * x) == Approx(0.3 + 0.3 * 2.1e-4 * 7850.0).epsilon(1e-9));
  }
}

// Source: derived. k w^2 / 2 at the point.
TEST_CASE("a point spring holds the skin by its stiffness, out of the skin only",
          "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  const shell::PanelModel model = shell::build_model(
      skin, {{}, {{"a", {0.1, 0.1}, 5e3, 0.1}, {"b", {0.3, 0.1}, 7e3, 0.1}}, {}}, {});
  const Eigen::SparseMatrix<double> k = term(model, "springs");
  const auto energy = [&](int r) {
    const Eigen::VectorXd x = skin_values(
        skin, skin.n_dof, [r](const Eigen::Vector3d& at) { return rigid_motion(r, at); });
    return x.dot(k * x);
  };
  CHECK(energy(0) < 1e-9);
  CHECK(energy(1) < 1e-9);
  CHECK(energy(2) == Approx(12e3).epsilon(1e-9));
  CHECK(energy(4) == Approx(5e3 * 0.01 + 7e3 * 0.09).epsilon(1e-9));  // w = -x
}

// Source: derived. Beam on a skin bent by w = (x^2 - y^2) / 2: bending (E I + E A z^2) k^2 with the
// curvature k = cos 2a along the beam, twist sin 2a. The beam's nodes do not lie on the mesh's.
TEST_CASE("a bonded beam stores the energy of its own bending, stretch and twist",
          "[shell][derived]") {
  for (const int n : {8, 12}) {
    const panel::Panel p = panel_of(flat_plate(0.4, 0.3, n, 3 * n / 4));
    const shell::Skin skin = skin_of(p, {});
    for (const auto& [from, to] :
         {std::pair<Eigen::Vector2d, Eigen::Vector2d>{{0.03, 0.11}, {0.37, 0.11}},
          std::pair<Eigen::Vector2d, Eigen::Vector2d>{{0.05, 0.04}, {0.31, 0.27}}})
      for (const double offset : {0.0, 0.02}) {
        shell::BeamInput b = beam(from, to);
        b.offset_m = offset;
        const Eigen::SparseMatrix<double> k =
            term(shell::build_model(skin, {{b}, {}, {}}, {}), "foils and beams");
        const Eigen::VectorXd x = skin_values(skin, skin.n_dof, saddle);
        const Eigen::Vector2d d = (to - from).normalized();
        const double bend = d.x() * d.x() - d.y() * d.y(), twist = 2.0 * d.x() * d.y();
        const double e = b.material.young_pa;
        // Across, the beam's axis at the offset bows in the plane by its height times the twist
        // rate, which is uniform: no bending along the skin.
        const double exact =
            (to - from).norm() *
            (e * (b.inertia_normal_m4 + b.area_m2 * offset * offset) * bend * bend +
             e / 2.6 * b.torsion_m4 * twist * twist);
        CAPTURE(n, offset, bend);
        CHECK(x.dot(k * x) == Approx(exact).epsilon(2e-3));
      }
  }
}

// Source: derived. A stiff skin, a stiff free beam of mass m and length L on two pads k at a
// distance d: it bounces at sqrt(2 k / m) and pitches at sqrt(6 k d^2 / (m L^2)); it may roll and,
// without shear in the pads, drift freely.
TEST_CASE("a free beam bounces and pitches on its pads", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)}, 20e-3);
  shell::BeamInput b = beam({0.05, 0.15}, {0.35, 0.15});
  b.ends_held = false;
  b.pads_m = {0.043, 0.257};
  b.pad_stiffness = 3e4;
  b.pad_loss_factor = 0.3;
  const shell::PanelModel model = shell::build_model(skin, {{b}, {}, {}}, {});
  const modes::ModeSet set = modes::lowest_modes(model.real_stiffness(1.0, 293.15), model.mass, 6);
  // Along, across, about its own axis and about the skin's normal.
  CHECK(set.rigid_body == 4);
  const double m = 7850.0 * 2.1e-4 * 0.3, d = 0.214;
  CHECK(set.omega2(4) == Approx(2.0 * 3e4 / m).epsilon(2e-3));
  CHECK(set.omega2(5) == Approx(6.0 * 3e4 * d * d / (m * 0.09)).epsilon(2e-3));
  bool found = false;
  for (const shell::StiffnessTerm& t : model.terms)
    found = found || (t.name == "springs" && t.loss_factor == 0.3);
  CHECK(found);
}

// Source: derived. Pads side by side act together, wherever they lie between the beam's nodes.
TEST_CASE("every pad counts, near an end or near another pad", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  for (const std::vector<double>& pads :
       {std::vector<double>{0.1, 0.103}, {0.1, 0.1}, {0.004, 0.15, 0.296}, {0.0, 0.3}}) {
    shell::BeamInput b = beam({0.05, 0.15}, {0.35, 0.15});
    b.pads_m = pads;
    b.pad_stiffness = 3e3;
    b.pad_shear_stiffness = 1e3;
    const Eigen::SparseMatrix<double> k =
        term(shell::build_model(skin, {{b}, {}, {}}, {}), "springs");
    Eigen::VectorXd x = Eigen::VectorXd::Zero(k.rows());  // the beam stays where it is
    const auto n = static_cast<double>(pads.size());
    x.head(skin.n_dof) = skin_values(
        skin, skin.n_dof, [](const Eigen::Vector3d& at) { return rigid_motion(2, at); });
    CHECK(x.dot(k * x) == Approx(3e3 * n).epsilon(1e-9));
    x.head(skin.n_dof) = skin_values(
        skin, skin.n_dof, [](const Eigen::Vector3d& at) { return rigid_motion(1, at); });
    CHECK(x.dot(k * x) == Approx(1e3 * n).epsilon(1e-9));
  }
}

// Source: derived. Clamped-clamped Euler beam, 22.3733 sqrt(E I / m) / L^2: cos x cosh x = 1 at
// 4.73004. The pad is at 3 mm from the end and all but without stiffness.
TEST_CASE("a held beam on a soft pad rings between its ends over its full length",
          "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 16, 12));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)}, 40e-3);
  shell::BeamInput b = beam({0.05, 0.15}, {0.35, 0.15});
  b.inertia_in_plane_m4 = 1.3e-8;
  b.pads_m = {0.003};
  b.pad_stiffness = 1.0;
  const Eigen::VectorXd f = frequencies(shell::build_model(skin, {{b}, {}, {}}, {}), 1);
  const double exact =
      std::pow(4.730040745 / 0.3, 2) * std::sqrt(210e9 * 1.3e-8 / (7850.0 * 2.1e-4)) / base::kTwoPi;
  CHECK(f(0) == Approx(exact).epsilon(2e-3));
}

TEST_CASE("beams, springs and masses off the panel are the user's fault, named", "[shell]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  const auto says = [&](const Attachments& a, const std::string& what) {
    try {
      shell::build_model(skin, a, {});
      FAIL("accepted");
    } catch (const base::InputError& e) {
      CHECK(std::string(e.what()).find(what) != std::string::npos);
      CHECK(std::string(e.what()).find('\n') == std::string::npos);
    }
  };
  says({{}, {}, {point_mass({0.5, 0.1}, 0.1)}}, "lump: lies off the panel at (500, 100) mm");
  says({{}, {{"clip", {0.1, -0.2}, 1e3, 0.0}}, {}}, "clip: lies off the panel");
  says({{beam({0.1, 0.1}, {0.1, 0.4})}, {}, {}}, "beam: lies off the panel");
  says({{beam({0.1, 0.1}, {0.1, 0.1})}, {}, {}}, "beam: has no length");
}
