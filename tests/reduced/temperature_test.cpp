// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "reduced/complex_modes.hpp"
#include "reduced/direct_solve.hpp"
#include "reduced/full_reduction.hpp"
#include "sheet/fractional_zener.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;

namespace {

/// An invented core that runs from leathery to soft between -20 and 80 C.
sheet::Sheet changing(double low_pa = 1e5) {
  sheet::FractionalZenerParameters p;
  p.low_pa = low_pa;
  p.high_pa = 3e8;
  p.time_s = 6.4e-8;
  p.exponent = 0.5;
  p.shift.kind = sheet::TemperatureShift::Kind::wlf;
  p.shift.c1 = 8.83;
  p.shift.c2_k = 195.4;
  sheet::Sheet s = constrained(1e6, 1.0);
  s.core_modulus = std::make_shared<sheet::FractionalZener>(p);
  return s;
}

double mean_square_velocity(const reduced::ReducedModel& m, double freq_hz) {
  const Eigen::VectorXcd q = m.solve(freq_hz);
  return std::pow(base::kTwoPi * freq_hz, 2) * q.dot(m.surface * q).real();
}

/// Largest difference in dB between the reduced model and the direct solve, at many frequencies.
double worst_difference(const shell::Skin& skin,
                        const shell::PanelModel& model,
                        reduced::ReducedModel reduced_model,
                        const Eigen::VectorXd& load,
                        double temp_k) {
  reduced_model.temp_k = temp_k;
  const DirectSolve direct(model, load, temp_k);
  double worst = 0.0;
  for (double f = 40.0; f < 250.0; f *= 1.09) {
    const double ratio =
        mean_square_velocity(reduced_model, f) / direct.mean_square_velocity(skin, f);
    worst = std::max(worst, std::abs(10.0 * std::log10(ratio)));
  }
  return worst;
}

}  // namespace

// Source: derived. Core moduli from a tenth to fifteen times that at 20 C, one basis for all.
TEST_CASE("one reduced model serves from frost to a hot door", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 14, 10));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::clamped)}, 0.8e-3, 0.01);
  const sheet::Sheet soft = changing();
  const Eigen::VectorXd load = shell::normal_at(skin, *p.flat.to_skin({0.117, 0.093}));
  const shell::PanelModel model = shell::build_model(
      skin, {}, {{rectangle_on(p, {0.17, 0.14}, {0.2, 0.15}), {&soft}, false, false}});
  reduced::ReductionOptions o;
  o.top_hz = 340.0;
  o.air_faces = 0;
  const reduced::Ports ports{load, Eigen::MatrixXd(0, skin.n_dof)};
  const reduced::FullReduction one = reduced::reduce_full(skin, model, ports, o, {});
  o.also_temp_k = {253.15, 273.15, 313.15, 353.15};
  const reduced::FullReduction all = reduced::reduce_full(skin, model, ports, o, {});
  CHECK(all.modes.omega2.size() == one.modes.omega2.size());
  CHECK(all.model.size() < 4 * all.modes.omega2.size());
  for (const double temp_k : {253.15, 266.0, 293.15, 330.0, 353.15}) {
    CAPTURE(temp_k);
    CHECK(worst_difference(skin, model, all.model, load, temp_k) < 0.1);
  }
  // The model made for one temperature is not good enough at the cold end.
  CHECK(worst_difference(skin, model, one.model, load, 253.15) >
        2.0 * worst_difference(skin, model, all.model, load, 253.15));
}

// Source: derived. Each mode takes the modulus at its own frequency: the full sparse equations with
// the modulus there have the same eigenvalue.
TEST_CASE("damped modes of a changing core are those of the full equations", "[reduced][derived]") {
  const panel::Panel p = panel_of(flat_plate(0.4, 0.3, 12, 9));
  const shell::Skin skin = skin_of(p, {edge("rim", Hold::simply_supported)}, 0.8e-3, 0.01);
  const sheet::Sheet soft = changing(), other = changing(4e5);
  const Eigen::VectorXd load = shell::normal_at(skin, *p.flat.to_skin({0.117, 0.093}));
  // Two sheets on each other, the outer one of another core.
  const shell::PanelModel model = shell::build_model(
      skin, {}, {{rectangle_on(p, {0.2, 0.15}, {0.28, 0.2}), {&soft, &other}, false, false}});
  reduced::ReductionOptions o;
  o.top_hz = 400.0;
  o.air_faces = 0;
  o.temp_k = 283.15;
  const reduced::FullReduction red =
      reduced::reduce_full(skin, model, {load, Eigen::MatrixXd(0, skin.n_dof)}, o, {});
  const reduced::ComplexModes modes = reduced::complex_modes(red.model, 250.0);
  REQUIRE(modes.freq_hz.size() >= 4);
  for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
    const double w = base::kTwoPi * modes.freq_hz(j);
    const Complex exact = eigenvalue_near(
        model, modes.freq_hz(j), 283.15, w * w * Complex(1.0, modes.loss_factor(j)));
    CAPTURE(j, modes.freq_hz(j));
    CHECK(modes.freq_hz(j) ==
          Approx(std::sqrt(exact.real()) / base::kTwoPi).epsilon(1e-3).margin(0.0));
    CHECK(modes.loss_factor(j) == Approx(exact.imag() / exact.real()).epsilon(0.01).margin(0.0));
  }
}
