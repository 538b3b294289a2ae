// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "reduced/complex_modes.hpp"
#include "reduced/direct_solve.hpp"
#include "reduced/full_reduction.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;
using shell::LaidPiece;

namespace {

constexpr double kLow_hz = 40.0, kHigh_hz = 250.0;

reduced::FullReduction reduce(const shell::Skin& skin,
                              const shell::PanelModel& model,
                              const Eigen::VectorXd& load,
                              double top_hz) {
  reduced::ReductionOptions o;
  o.top_hz = top_hz;
  o.air_faces = 0;
  return reduced::reduce_full(skin, model, {load, Eigen::MatrixXd(0, skin.n_dof)}, o, {});
}

double mean_square_velocity(const reduced::ReducedModel& m, double freq_hz) {
  const Eigen::VectorXcd q = m.solve(freq_hz);
  return std::pow(base::kTwoPi * freq_hz, 2) * q.dot(m.surface * q).real();
}

/// Modes by either reduced model against the eigenvalues of the full equations nearest to them.
void check_modes(const shell::PanelModel& model,
                 const reduced::ReducedModel& m,
                 double frequency,
                 double loss) {
  const reduced::ComplexModes modes = reduced::complex_modes(m, kHigh_hz);
  REQUIRE(modes.freq_hz.size() >= 3);
  for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
    const double w = base::kTwoPi * modes.freq_hz(j);
    const Complex exact = eigenvalue_near(
        model, modes.freq_hz(j), 293.15, w * w * Complex(1.0, modes.loss_factor(j)));
    CAPTURE(j, modes.freq_hz(j));
    CHECK(modes.freq_hz(j) ==
          Approx(std::sqrt(exact.real()) / base::kTwoPi).epsilon(frequency).margin(0.0));
    CHECK(modes.loss_factor(j) == Approx(exact.imag() / exact.real()).epsilon(loss).margin(0.0));
  }
}

/// How far model (b) may be from the direct solve.
struct Limits {
  double level_db = 0.2, frequency = 2e-3, loss = 0.02;
};

struct Case {
  std::string name;
  const panel::Panel* panel;
  Hold hold;
  LaidPiece piece;
};

/// (a) and (b) against the direct solve: level over the band and loss of every mode in it.
void check_case(const Case& c, const Limits& limits = {}) {
  CAPTURE(c.name);
  const shell::Skin skin = skin_of(*c.panel, {edge("rim", c.hold)}, 0.8e-3, 0.002);
  const shell::PanelModel treated = shell::build_model(skin, {}, {c.piece});
  const Eigen::VectorXd load = shell::normal_at(skin, *c.panel->flat.to_skin({0.117, 0.093}));
  const reduced::ReducedModel a = reduce(skin, treated, load, 2.0 * kHigh_hz).model;
  const reduced::FullReduction bare =
      reduce(skin, shell::build_model(skin, {}, {}), load, 5.0 * kHigh_hz);
  const reduced::ReducedModel b = reduced::reduce_by_pieces(skin, bare, {c.piece}, 100.0);

  const DirectSolve direct(treated, load, 293.15);
  double level = 0.0, level_a = 0.0, level_b = 0.0;
  const int n = 21;
  for (int i = 0; i < n; ++i) {
    const double f = kLow_hz + (kHigh_hz - kLow_hz) * (i + 0.5) / n;
    level += direct.mean_square_velocity(skin, f);
    level_a += mean_square_velocity(a, f);
    level_b += mean_square_velocity(b, f);
  }
  CHECK(std::abs(base::to_db(level_a / level)) < 0.05);
  CHECK(std::abs(base::to_db(level_b / level)) < limits.level_db);
  check_modes(treated, a, 1e-4, 5e-3);
  check_modes(treated, b, limits.frequency, limits.loss);
}

}  // namespace

// Source: derived. All three solve the same mesh; what differs is the basis. Limits: 0.2 dB in the
// band and 2 % in loss for pieces condensed on the bare panel's modes up to five times the band.
TEST_CASE("both reduced models agree with the direct solve of a flat plate", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 14, 10));
  const sheet::Sheet soft = constrained(1e6, 1.0);
  check_case({"piece on a part, inner face",
              &p,
              Hold::clamped,
              {rectangle_on(p, {0.17, 0.14}, {0.2, 0.15}), {&soft}, false, false}});
  check_case({"all covered, foil held", &p, Hold::clamped, {all_of(p), {&soft}, true, true}});
}

TEST_CASE("both reduced models agree with the direct solve of a crowned panel, on either face",
          "[reduced][derived]") {
  const panel::Panel p = panel_of(sphere_panel(0.4, 0.3, 6.0, 14, 10));
  const sheet::Sheet soft = constrained(1e6, 1.0);
  for (const bool outer : {false, true})
    check_case({outer ? "outer face" : "inner face",
                &p,
                Hold::simply_supported,
                {rectangle_on(p, {0.17, 0.14}, {0.2, 0.15}), {&soft}, outer, false}});
}

// A free layer that all but doubles the plate's stiffness bends it sharply at its edges, which the
// bare panel's modes follow slowly: model (b) is a first estimate there.
TEST_CASE("model (a) agrees with the direct solve under a stiff free layer, (b) roughly",
          "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 12, 9));
  const sheet::Sheet paste = free_layer(1e9, 0.3);
  check_case({"free layer",
              &p,
              Hold::clamped,
              {rectangle_on(p, {0.17, 0.14}, {0.2, 0.15}), {&paste}, false, false}},
             {0.6, 0.01, 0.15});
}

// Source: derived. In the first mode the core of one piece is sheared by the ends that the foil's
// stretch holds back; halves that do not pull on each other hold back less.
TEST_CASE("a piece cut across its middle loses damping in the first mode of a clamped plate",
          "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 16, 12));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)}, 0.8e-3, 0.002);
  const sheet::Sheet soft = constrained(1e6, 1.0);
  const Eigen::VectorXd load = shell::normal_at(skin, *p.flat.to_skin({0.117, 0.093}));
  const auto first_loss = [&](const std::vector<LaidPiece>& pieces) {
    const shell::PanelModel model = shell::build_model(skin, {}, pieces);
    return reduced::complex_modes(reduce(skin, model, load, 200.0).model, 150.0).loss_factor(0);
  };
  const auto piece = [&](double x, double width) {
    return LaidPiece{rectangle_on(p, {x, 0.15}, {width, 0.1}), {&soft}, false, false};
  };
  const double whole = first_loss({piece(0.2, 0.2)});
  const double halves = first_loss({piece(0.15, 0.1), piece(0.25, 0.1)});
  const double bare = first_loss({});
  CHECK(bare == Approx(0.002).epsilon(1e-6));
  CHECK(halves > 2.0 * bare);
  CHECK(halves < 0.8 * whole);
}

// Source: derived. A panel and a piece in the mirror have the same losses.
TEST_CASE("a mirrored piece on a symmetric panel gives the same losses", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 12, 10));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)}, 0.8e-3, 0.002);
  const sheet::Sheet soft = constrained(1e6, 1.0);
  const auto modes = [&](double x, double load_x) {
    const shell::PanelModel model = shell::build_model(
        skin, {}, {{rectangle_on(p, {x, 0.12}, {0.13, 0.09}), {&soft}, false, false}});
    const Eigen::VectorXd load = shell::normal_at(skin, *p.flat.to_skin({load_x, 0.09}));
    return reduced::complex_modes(reduce(skin, model, load, 400.0).model, 250.0);
  };
  const reduced::ComplexModes left = modes(0.13, 0.1), right = modes(0.27, 0.3);
  REQUIRE(left.freq_hz.size() == right.freq_hz.size());
  for (Eigen::Index j = 0; j < left.freq_hz.size(); ++j) {
    CHECK(left.freq_hz(j) == Approx(right.freq_hz(j)).epsilon(1e-7));
    CHECK(left.loss_factor(j) == Approx(right.loss_factor(j)).epsilon(1e-5));
  }
}
