// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/condensed_piece.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;
using shell::LaidPiece;
using Complex = std::complex<double>;

namespace {

struct Dense {
  int n_skin = 0;
  Eigen::MatrixXd elastic, lossy, mass;
};

/// The piece's matrices written out on skin and foil. What stretches on the skin is taken down by
/// 1 / (1 + K / K_skin), K = E h of foils and, at a modulus, of free layers, as condense says.
Dense written_out(const shell::Skin& skin, const LaidPiece& piece, double modulus_pa = 0.0) {
  int n = skin.n_dof;
  const auto foils = shell::number_foils(skin, piece, n);
  double stretch = 0.0;
  for (const sheet::Sheet* s : piece.plies)
    stretch += s->kind == sheet::Kind::free_layer ? modulus_pa * s->core_thickness_m
                                                  : s->foil.young_pa * s->foil_thickness_m;
  shell::PieceMatrices m;
  shell::add_piece(skin,
                   piece,
                   skin.dof,
                   foils,
                   m,
                   1.0 / (1.0 + stretch / (skin.plate.young_pa * skin.plate.thickness_m)));
  Dense out{skin.n_dof, m.elastic.build(n), Eigen::MatrixXd::Zero(n, n), m.mass.build(n)};
  for (const shell::Assembler& a : m.lossy) out.lossy += Eigen::MatrixXd(a.build(n));
  return out;
}

/// Skin part less what the foil gives way, at a complex modulus.
Eigen::MatrixXcd schur_complement(const Dense& d, Complex g) {
  const Eigen::MatrixXcd k = d.elastic.cast<Complex>() + g * d.lossy.cast<Complex>();
  const Eigen::Index s = d.n_skin, f = k.rows() - s;
  if (f == 0) return k;
  return k.topLeftCorner(s, s) -
         k.topRightCorner(s, f) *
             k.bottomRightCorner(f, f).partialPivLu().solve(k.bottomLeftCorner(f, s));
}

/// Smooth shapes such as a panel's lowest modes: w alone with its slopes.
Eigen::MatrixXd smooth_shapes(const shell::Skin& skin, int count) {
  Eigen::MatrixXd out(skin.n_dof, count);
  for (int j = 0; j < count; ++j) {
    const double kx = base::kPi * (1 + j % 3) / 0.4, ky = base::kPi * (1 + j / 3) / 0.3;
    out.col(j) = skin_values(skin, skin.n_dof, [=](const Eigen::Vector3d& at) {
      const double sx = std::sin(kx * at.x()), cx = std::cos(kx * at.x());
      const double sy = std::sin(ky * at.y()), cy = std::cos(ky * at.y());
      return Motion{{0, 0, sx * sy}, {ky * sx * cy, -kx * cx * sy, 0}};
    });
  }
  return out;
}

/// What a condensed piece adds to r shapes.
Eigen::MatrixXcd stiffness(const reduced::CondensedPiece& c, Eigen::Index r, Complex g) {
  Eigen::MatrixXcd k = Eigen::MatrixXcd::Zero(r, r);
  c.add_stiffness(g, k);
  return k;
}

Eigen::MatrixXcd stiffness_at(const reduced::CondensedPiece& c, Eigen::Index r, double freq_hz) {
  Eigen::MatrixXcd k = Eigen::MatrixXcd::Zero(r, r);
  c.add_stiffness(freq_hz, 293.15, k);
  return k;
}

const std::vector<Complex> kModuli = {
    {1e6, 0.0}, {1e6, 1e6}, {0.4e6, 0.2e6}, {2.5e6, 2.5e6}, {30e6, 10e6}};

}  // namespace

// Source: derived. With every skin motion in the basis every slip is in it too, so the condensed
// stiffness is the exact Schur complement of the foil, at any modulus.
TEST_CASE("a condensed piece is the exact Schur complement of its foil", "[reduced][derived]") {
  const panel::Panel flat = panel_of(flat_plate(0.4, 0.3, 4, 3));
  const panel::Panel crowned = panel_of(sphere_panel(0.4, 0.3, 2.0, 4, 3));
  sheet::Sheet soft = constrained(1e6, 1.0), twin = soft;
  twin.foil_thickness_m = 0.2e-3;
  for (const panel::Panel* p : {&flat, &crowned})
    for (const bool outer : {false, true})
      for (const bool held : {false, true})
        for (const auto& plies : {std::vector<const sheet::Sheet*>{&soft}, {&soft, &twin}}) {
          const shell::Skin skin = skin_of(*p, {edge("rim", Hold::simply_supported)});
          const LaidPiece piece{all_of(*p), plies, outer, held};
          const Dense d = written_out(skin, piece);
          const reduced::CondensedPiece c = reduced::condense(
              skin, piece, Eigen::MatrixXd::Identity(skin.n_dof, skin.n_dof), 100.0, 293.15);
          for (const Complex& g : kModuli) {
            const Eigen::MatrixXcd exact = schur_complement(d, g);
            CAPTURE(outer, held, plies.size(), g);
            CHECK((stiffness(c, skin.n_dof, g) - exact).norm() < 1e-3 * exact.norm());
          }
        }
}

// Source: derived. The slips are chosen at three moduli around the wanted one; between and near
// them they serve for complex moduli too. 1 % of what the core adds is 1 % of the loss.
TEST_CASE("the slip basis of a few smooth shapes serves for moduli around the one it is made at",
          "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 12, 9));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)});
  const sheet::Sheet soft = constrained(1e6, 1.0);
  const LaidPiece piece{rectangle_on(p, {0.18, 0.14}, {0.21, 0.16}), {&soft}, false, false};
  const Eigen::MatrixXd shapes = smooth_shapes(skin, 9);
  const reduced::CondensedPiece c = reduced::condense(skin, piece, shapes, 100.0, 293.15);
  CHECK(c.lambda.size() <= 27);
  CHECK(c.lambda.minCoeff() >= 0.0);
  const Dense d = written_out(skin, piece);
  const Eigen::MatrixXcd without = shapes.transpose() * schur_complement(d, {1e-3, 0.0}) * shapes;
  for (const Complex& g : {Complex(1e6, 1e6), Complex(0.7e6, 0.5e6), Complex(2e6, 2e6)}) {
    const Eigen::MatrixXcd exact = shapes.transpose() * schur_complement(d, g) * shapes;
    const Eigen::MatrixXcd found = stiffness(c, shapes.cols(), g);
    CAPTURE(g);
    CHECK((found - exact).norm() < 0.002 * (exact - without).norm());
    CHECK((found.imag() - exact.imag()).norm() < 0.002 * exact.imag().norm());
    CHECK((found - found.transpose()).norm() < 1e-12 * found.norm());
  }
  const Eigen::MatrixXcd at_frequency = stiffness_at(c, shapes.cols(), 77.0);
  CHECK((at_frequency - stiffness(c, shapes.cols(), Complex(1e6, 1e6))).norm() == 0.0);
}

// Source: derived. The foil goes along with the skin in its plane: the mass of the piece on the
// shapes is that of a layer stuck to the skin.
TEST_CASE("a condensed piece adds the mass of its layers", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {});
  const sheet::Sheet soft = constrained(1e6, 1.0), heavy = mass_layer(1e-3, 2000.0);
  Eigen::MatrixXd shift(skin.n_dof, 3);
  for (int k = 0; k < 3; ++k)
    shift.col(k) = skin_values(
        skin, skin.n_dof, [k](const Eigen::Vector3d& at) { return rigid_motion(k, at); });
  const double mass = 0.21 * 0.16 * (soft.mass_per_area() + heavy.mass_per_area());
  const auto covered = rectangle_on(p, {0.18, 0.14}, {0.21, 0.16});
  for (const auto& plies : {std::vector<const sheet::Sheet*>{&heavy, &soft}, {&soft, &heavy}}) {
    Eigen::MatrixXd m = Eigen::Matrix3d::Zero();
    const reduced::CondensedPiece c =
        reduced::condense(skin, {covered, plies, false, false}, shift, 100.0, 293.15);
    c.add_mass(m);
    CHECK((m - mass * Eigen::Matrix3d::Identity()).norm() < 1e-9 * mass);
    CHECK(c.modulus == soft.core_modulus);
  }
}

// Source: derived. A free layer adds its own stiffness on the shapes; its stretch is a little less,
// because the skin gives way in its plane: by 1 / (1 + E_layer h_layer / (E_skin h_skin)), the
// modulus being |E*| at the frequency asked for.
TEST_CASE("free layers are linear in their modulus, mass layers have none", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)});
  const sheet::Sheet paste = free_layer(1e9, 0.3), heavy = mass_layer(1e-3, 2000.0);
  const Eigen::MatrixXd shapes = smooth_shapes(skin, 4);
  const auto covered = rectangle_on(p, {0.18, 0.14}, {0.21, 0.16});
  const LaidPiece stiff{covered, {&paste}, false, false};
  const reduced::CondensedPiece a = reduced::condense(skin, stiff, shapes, 100.0, 293.15);
  CHECK(a.lambda.size() == 0);
  const Eigen::MatrixXcd exact =
      Complex(1e9, 0.3e9) *
      (shapes.transpose() * written_out(skin, stiff, std::abs(Complex(1e9, 0.3e9))).lossy * shapes)
          .cast<Complex>();
  const Eigen::MatrixXcd own = stiffness_at(a, shapes.cols(), 50.0);
  CHECK((own - exact).norm() < 1e-12 * exact.norm());
  CHECK((own.imag() - 0.3 * own.real()).norm() < 1e-12 * exact.norm());
  const reduced::CondensedPiece b =
      reduced::condense(skin, {covered, {&heavy}, false, false}, shapes, 100.0, 293.15);
  CHECK_FALSE(b.modulus);
  CHECK(stiffness_at(b, shapes.cols(), 50.0).norm() == 0.0);
  CHECK(b.mass.norm() > 0.0);
}

// Source: derived. Two sheets on each other with moduli of their own, against the Schur complement
// of both foils written out.
TEST_CASE("a stack of two sheets condenses with a modulus for each", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 12, 9));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)});
  const sheet::Sheet below = constrained(1e6, 1.0), above = constrained(3e6, 0.4);
  const LaidPiece piece{
      rectangle_on(p, {0.18, 0.14}, {0.21, 0.16}), {&below, &above}, false, false};
  const Eigen::MatrixXd shapes = smooth_shapes(skin, 9);
  const reduced::CondensedPiece c = reduced::condense(skin, piece, shapes, 100.0, 293.15);
  REQUIRE(c.stack.size() == 2);
  CHECK(c.constant());

  int n = skin.n_dof;
  const auto foils = shell::number_foils(skin, piece, n);
  shell::PieceMatrices m;
  shell::add_piece(skin, piece, skin.dof, foils, m, 1.0 / (1.0 + 2.0 * 70.0 * 0.1 / (210.0 * 0.8)));
  const auto exact_at = [&](const Complex& low, const Complex& high) {
    Dense d{skin.n_dof, Eigen::MatrixXd::Zero(n, n), Eigen::MatrixXd::Zero(n, n), {}};
    Eigen::MatrixXcd k = Eigen::MatrixXd(m.elastic.build(n)).cast<Complex>();
    k += low * Eigen::MatrixXd(m.lossy[0].build(n)).cast<Complex>();
    k += high * Eigen::MatrixXd(m.lossy[1].build(n)).cast<Complex>();
    const Eigen::Index s = d.n_skin, f = n - s;
    const Eigen::MatrixXcd schur =
        k.topLeftCorner(s, s) -
        k.topRightCorner(s, f) *
            k.bottomRightCorner(f, f).partialPivLu().solve(k.bottomLeftCorner(f, s));
    return Eigen::MatrixXcd(shapes.transpose() * schur * shapes);
  };
  const Eigen::MatrixXcd without = exact_at({1e-3, 0.0}, {1e-3, 0.0});
  const Eigen::MatrixXcd exact = exact_at({1e6, 1e6}, {3e6, 1.2e6});
  const Eigen::MatrixXcd found = stiffness_at(c, shapes.cols(), 77.0);
  CHECK((found - exact).norm() < 0.002 * (exact - without).norm());
  CHECK((found.imag() - exact.imag()).norm() < 0.002 * exact.imag().norm());
  // One modulus for both is not the answer, nor can the piece give one.
  CHECK((exact_at({1e6, 1e6}, {1e6, 1e6}) - exact).norm() > 0.02 * (exact - without).norm());
  CHECK_THROWS_AS(stiffness(c, shapes.cols(), Complex(1e6, 1e6)), std::invalid_argument);
}

// Source: derived. The same numbers by the matrix, for one modulus and for two.
TEST_CASE("the quadratic forms of a condensed piece are those of its matrix",
          "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 8, 6));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)});
  const sheet::Sheet below = constrained(1e6, 1.0), above = constrained(3e6, 0.4);
  const Eigen::MatrixXd shapes = smooth_shapes(skin, 6);
  const auto covered = rectangle_on(p, {0.18, 0.14}, {0.21, 0.16});
  Dice dice;
  Eigen::MatrixXcd x(6, 3);
  x.real() = dice.matrix(6, 3);
  x.imag() = dice.matrix(6, 3);
  const Eigen::Vector3d f(50.0, 90.0, 200.0);
  using Plies = std::vector<const sheet::Sheet*>;
  for (const Plies& plies : {Plies{&below}, Plies{&below, &above}}) {
    const reduced::CondensedPiece c =
        reduced::condense(skin, {covered, plies, false, false}, shapes, 100.0, 293.15);
    const Eigen::VectorXcd q = c.quadratic(x, f, 293.15);
    for (Eigen::Index j = 0; j < 3; ++j) {
      const Complex exact = (x.col(j).transpose() * (stiffness_at(c, 6, f(j)) * x.col(j))).value();
      CHECK(std::abs(q(j) - exact) < 1e-9 * std::abs(exact));
    }
  }
}
