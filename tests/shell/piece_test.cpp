// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/piece.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;
using shell::LaidPiece;

namespace {

/// A piece's matrices on a free skin, foils numbered behind the skin.
struct Laid {
  std::vector<shell::FoilDofs> foils;
  int n = 0;
  Eigen::MatrixXd elastic, mass;
  std::vector<Eigen::MatrixXd> lossy;
};

Laid lay(const shell::Skin& skin, const LaidPiece& piece) {
  Laid out;
  out.n = skin.n_dof;
  out.foils = shell::number_foils(skin, piece, out.n);
  shell::PieceMatrices m;
  shell::add_piece(skin, piece, skin.dof, out.foils, m);
  out.elastic = m.elastic.build(out.n);
  out.mass = m.mass.build(out.n);
  for (const shell::Assembler& a : m.lossy) out.lossy.push_back(a.build(out.n));
  return out;
}

/// Foil mid-surface of constrained plies, m from the skin's mid-surface outwards.
std::vector<double> foil_heights(const shell::Skin& skin, const LaidPiece& piece) {
  double surface = 0.5 * skin.plate.thickness_m;
  std::vector<double> out;
  for (const sheet::Sheet* s : piece.plies) {
    const double middle = surface + s->core_thickness_m + 0.5 * s->foil_thickness_m;
    out.push_back(piece.outer_face ? middle : -middle);
    surface += s->core_thickness_m + s->foil_thickness_m;
  }
  return out;
}

template <typename Field>
Eigen::VectorXd moved(const shell::Skin& skin,
                      const LaidPiece& piece,
                      const Laid& laid,
                      const Field& field) {
  Eigen::VectorXd x = skin_values(skin, laid.n, field);
  const std::vector<double> heights = foil_heights(skin, piece);
  for (std::size_t p = 0; p < laid.foils.size(); ++p)
    set_foil_values(skin, laid.foils[p], heights[p], field, x);
  return x;
}

/// Bent to a cylinder of curvature 1 along x and stretched by `strain`, by plane sections.
auto cylinder_bending(double strain) {
  return [strain](const Eigen::Vector3d& at) {
    const double x = at.x(), z = at.z();
    return Motion{{strain * x - z * x, 0.0, 0.5 * x * x}, {0.0, -x, 0.0}};
  };
}

}  // namespace

// Source: derived. A rigid motion strains nothing: skin displacement u, foil displacement
// u + z theta x n. Tolerance: rounding against the sizes of the parts.
TEST_CASE("skin, core and foil of a crowned skin give way to rigid motions on either face",
          "[shell][derived]") {
  const std::vector<panel::Panel> panels = {panel_of(cylinder_panel(0.3, 0.25, 0.4, 5, 6)),
                                            panel_of(sphere_panel(0.3, 0.25, 0.5, 6, 5)),
                                            panel_of(flat_plate(0.3, 0.25, 5, 4))};
  const sheet::Sheet soft = constrained(1e6, 1.0), paste = free_layer(1e9, 0.3);
  for (std::size_t which = 0; which < panels.size(); ++which)
    for (const bool outer : {false, true})
      for (const std::vector<const sheet::Sheet*>& plies :
           {std::vector<const sheet::Sheet*>{&soft}, {&soft, &soft}, {&paste}, {&paste, &soft}}) {
        CAPTURE(which, outer, plies.size());
        const shell::Skin skin = skin_of(panels[which], {});
        const LaidPiece piece{all_of(panels[which]), plies, outer, false};
        const Laid laid = lay(skin, piece);
        for (int k = 0; k < 6; ++k) {
          const auto rigid = [k](const Eigen::Vector3d& at) { return rigid_motion(k, at); };
          const Eigen::VectorXd x = moved(skin, piece, laid, rigid);
          if (laid.foils.size() > 1 || plies.front() == &soft)
            CHECK(relative_energy(laid.elastic, x) < 1e-14);
          for (const Eigen::MatrixXd& core : laid.lossy) CHECK(relative_energy(core, x) < 1e-14);
        }
      }
}

// Source: derived. G / 2 (s / h)^2 times volume; the second core sees the difference of the foils.
TEST_CASE("a foil that slips as a whole shears the cores that it touches", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  const shell::Skin skin = skin_of(p, {});
  sheet::Sheet lower = constrained(1e6, 1.0), upper = constrained(2e6, 0.5);
  upper.core_thickness_m = 1.2e-3;
  const LaidPiece piece{all_of(p), {&lower, &upper}, false, false};
  const Laid laid = lay(skin, piece);
  const auto slip = [](const Eigen::Vector3d&) { return Motion{{3e-6, 4e-6, 0}, {0, 0, 0}}; };
  Eigen::VectorXd x = Eigen::VectorXd::Zero(laid.n);
  set_foil_values(skin, laid.foils[0], 0.0, slip, x);
  const double square = 25e-12 * 0.06;
  CHECK(x.dot(laid.lossy[0] * x) == Approx(square / 2e-3).epsilon(1e-10));
  CHECK(x.dot(laid.lossy[1] * x) == Approx(square / 1.2e-3).epsilon(1e-10));
  CHECK(relative_energy(laid.elastic, x) < 1e-14);
  set_foil_values(skin, laid.foils[1], 0.0, slip, x);
  CHECK(x.dot(laid.lossy[0] * x) == Approx(square / 2e-3).epsilon(1e-10));
  CHECK(relative_energy(laid.lossy[1], x) < 1e-14);
}

// Source: derived. Plane sections about the skin's mid-surface: no slip in any core, and each foil
// stores E' (t z^2 + t^3 / 12) per area, E' = E / (1 - nu^2), at its height z.
TEST_CASE("two stacked plies have their foils at their true heights", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  const shell::Skin skin = skin_of(p, {});
  sheet::Sheet lower = constrained(1e6, 1.0), upper = constrained(2e6, 0.5);
  upper.core_thickness_m = 1.2e-3;
  upper.foil_thickness_m = 0.3e-3;
  for (const bool outer : {false, true}) {
    const LaidPiece piece{all_of(p), {&lower, &upper}, outer, false};
    const Laid laid = lay(skin, piece);
    const Eigen::VectorXd x = moved(skin, piece, laid, cylinder_bending(0.0));
    CHECK(relative_energy(laid.lossy[0], x) < 1e-14);
    CHECK(relative_energy(laid.lossy[1], x) < 1e-14);
    const double e = 70e9 / (1.0 - 0.09), low = 2.45e-3, high = 2.5e-3 + 1.2e-3 + 0.15e-3;
    const double exact = 0.06 * e *
                         (0.1e-3 * low * low + std::pow(0.1e-3, 3) / 12.0 + 0.3e-3 * high * high +
                          std::pow(0.3e-3, 3) / 12.0);
    CHECK(x.dot(laid.elastic * x) == Approx(exact).epsilon(1e-9));
  }
}

// Source: derived. Composite beam, e = E2/E1, h = H2/H1:
// EI / E1 I1 = 1 + e h^3 + 3 e h (1 + h)^2 / (1 + e h), with the stretch that leaves no force.
TEST_CASE("a free layer stiffens the skin as a composite beam", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  for (const double thickness : {0.8e-3, 2.0e-3})
    for (const bool outer : {false, true}) {
      sheet::Sheet paste = free_layer(2e9, 0.3, 0.0);
      const LaidPiece piece{all_of(p), {&paste}, outer, false};
      sheet::Material beam = steel();
      beam.poisson = 0.0;
      const shell::Skin skin = shell::make_skin(p, shell::plate_of(beam, thickness), 0.0, {});
      const Laid laid = lay(skin, piece);
      const Eigen::MatrixXd bare = shell::build_model(skin, {}, {}).terms.front().matrix;
      const Eigen::MatrixXd k = bare + 2e9 * laid.lossy[0];
      const Eigen::VectorXd bend = skin_values(skin, laid.n, cylinder_bending(0.0));
      const Eigen::VectorXd both = skin_values(skin, laid.n, cylinder_bending(1e-3));
      const Eigen::VectorXd pull = both - bend;
      const double bb = bend.dot(k * bend), bp = bend.dot(k * pull), pp = pull.dot(k * pull);
      const double ratio = (bb - bp * bp / pp) / bend.dot(bare * bend);
      const double e = 2e9 / 210e9, h = 2.5e-3 / thickness;
      const double exact =
          1.0 + e * h * h * h + 3.0 * e * h * (1.0 + h) * (1.0 + h) / (1.0 + e * h);
      CHECK(ratio == Approx(exact).epsilon(1e-9));
    }
}

// Source: derived. A rigid shift and a uniform slip count the covered area.
TEST_CASE("triangles covered in part count for their covered share", "[shell][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  const shell::Skin skin = skin_of(p, {});
  const sheet::Sheet soft = constrained(1e6, 1.0);
  const double area = 0.137 * 0.083;
  const LaidPiece piece{rectangle_on(p, {0.16, 0.11}, {0.137, 0.083}), {&soft}, true, false};
  const Laid laid = lay(skin, piece);
  CHECK(panel::covered_area(p, piece.covered) == Approx(area).epsilon(1e-12));
  const auto slip = [](const Eigen::Vector3d&) { return Motion{{1, 0, 0}, {0, 0, 0}}; };
  Eigen::VectorXd x = Eigen::VectorXd::Zero(laid.n);
  set_foil_values(skin, laid.foils[0], 0.0, slip, x);
  CHECK(x.dot(laid.lossy[0] * x) == Approx(area / 2e-3).epsilon(1e-10));
  CHECK(x.dot(laid.mass * x) == Approx(area * 0.1e-3 * 2700.0).epsilon(1e-10));
  for (int k = 0; k < 3; ++k) {
    const auto shift = [k](const Eigen::Vector3d& at) { return rigid_motion(k, at); };
    const Eigen::VectorXd y = moved(skin, piece, laid, shift);
    CHECK(y.dot(laid.mass * y) == Approx(area * soft.mass_per_area()).epsilon(1e-10));
  }
}

TEST_CASE("a foil touches the covered nodes only and shares nothing with another piece",
          "[shell]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  const shell::Skin skin = skin_of(p, {});
  const sheet::Sheet soft = constrained(1e6, 1.0), heavy = mass_layer(2e-3, 2000.0);
  // Two pieces that meet along the line x = 0.15.
  const LaidPiece left{rectangle_on(p, {0.1, 0.1}, {0.1, 0.1}), {&heavy, &soft}, false, false};
  const LaidPiece right{rectangle_on(p, {0.2, 0.1}, {0.1, 0.1}), {&soft}, false, false};
  const std::vector<int> nodes = shell::covered_nodes(skin, left);
  CHECK(nodes.size() == 9);
  CHECK(std::is_sorted(nodes.begin(), nodes.end()));
  int next = skin.n_dof;
  const auto a = shell::number_foils(skin, left, next);
  CHECK(next == skin.n_dof + 27);
  const auto b = shell::number_foils(skin, right, next);
  CHECK(next == skin.n_dof + 54);
  REQUIRE(a.size() == 2);
  CHECK(a[0].dof.rows() == 0);  // a mass layer has no foil
  std::set<int> numbers;
  for (const shell::FoilDofs& f : {a[1], b[0]})
    for (Eigen::Index i = 0; i < f.dof.size(); ++i) numbers.insert(f.dof.data()[i]);
  CHECK(numbers.size() == 54);
  CHECK(*numbers.begin() == skin.n_dof);
}

TEST_CASE("a foil follows the rim's hold only if it is said to", "[shell]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)});
  const sheet::Sheet soft = constrained(1e6, 1.0);
  for (const bool held : {false, true}) {
    const LaidPiece piece{all_of(p), {&soft}, false, held};
    int next = skin.n_dof;
    const shell::FoilDofs foil = shell::number_foils(skin, piece, next).front();
    // Along the rim at 16 nodes between corners, both directions at the four corners.
    CHECK((foil.dof.array() == shell::kHeld).count() == (held ? 16 + 4 * 2 : 0));
    CHECK(next - skin.n_dof == 35 * 3 - (held ? 24 : 0));
  }
}

TEST_CASE("a layer without thickness is refused", "[shell]") {
  const panel::Panel p = panel_of(flat_plate(0.3, 0.2, 6, 4));
  const shell::Skin skin = skin_of(p, {});
  sheet::Sheet no_core = constrained(1e6, 1.0), no_foil = no_core, no_mass = mass_layer(0.0, 1.0);
  no_core.core_thickness_m = 0.0;
  no_foil.foil_thickness_m = 0.0;
  for (const sheet::Sheet* bad : {&no_core, &no_foil, &no_mass}) {
    const LaidPiece piece{all_of(p), {bad}, false, false};
    CHECK_THROWS_AS(lay(skin, piece), std::invalid_argument);
  }
}

// Source: derived. Triangle by triangle the energy sums to that of the assembled matrix, for the
// real and the imaginary part of a shape alike.
TEST_CASE("the energy of a ply's triangles sums to that of its whole matrix", "[shell][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.3, 0.25, 0.8, 6, 5));
  const shell::Skin skin = skin_of(p, {edge("left", Hold::clamped)});
  const sheet::Sheet soft = constrained(1e6, 1.0), paste = free_layer(1e9, 0.3);
  for (const auto& plies :
       {std::vector<const sheet::Sheet*>{&soft, &soft}, {&paste, &soft}, {&soft}}) {
    const LaidPiece piece{rectangle_on(p, {0.16, 0.11}, {0.137, 0.083}), plies, true, false};
    const Laid laid = lay(skin, piece);
    Dice dice;
    Eigen::MatrixXcd shapes(laid.n, 2);
    shapes.real() = dice.matrix(laid.n, 2);
    shapes.imag() = dice.matrix(laid.n, 2);
    for (std::size_t ply = 0; ply < plies.size(); ++ply) {
      const Eigen::VectorXd parts = shell::lossy_energy(skin, piece, ply, laid.foils, shapes);
      REQUIRE(parts.size() == static_cast<Eigen::Index>(piece.covered.size()));
      CHECK(parts.minCoeff() > 0.0);
      double whole = 0.0;
      for (int j = 0; j < 2; ++j)
        whole += shapes.col(j).dot(laid.lossy[ply] * shapes.col(j)).real();
      CHECK(parts.sum() == Approx(whole).epsilon(1e-10));
    }
    CHECK_THROWS_AS(shell::lossy_energy(skin, piece, plies.size(), laid.foils, shapes),
                    std::out_of_range);
  }
}
