// SPDX-License-Identifier: GPL-3.0-or-later
#include "coupling/coupled_door.hpp"

#include <Eigen/LU>
#include <catch2/catch.hpp>

#include "drive/woofer_response.hpp"
#include "reduced/full_reduction.hpp"
#include "shell/attachments.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using Complex = std::complex<double>;
using shell::Hold;

namespace {

/// An invented woofer of 165 mm.
drive::WooferInput woofer_input() {
  drive::WooferInput w;
  w.fs_hz = 65.0;
  w.qms = 4.5;
  w.qes = 0.62;
  w.re_ohm = 3.2;
  w.mms_kg = 0.015;
  w.sd_m2 = 0.0133;
  return w;
}

/// A plate of 0.8 x 0.5 m in its rim with a piece of sheet, over a slab of air with a leak.
struct Plate {
  panel::Panel panel = panel_of(flat_plate(0.8, 0.5, 24, 15));
  shell::Skin skin = skin_of(panel, {edge("rim", Hold::clamped)}, 0.8e-3, 0.01);
  sheet::Sheet butyl = constrained(1e6, 0.9);
  drive::Woofer woofer = drive::make_woofer(woofer_input());
  Eigen::VectorXd ring_row = Eigen::VectorXd::Zero(skin.n_dof);
  cavity::Slab slab;
  cavity::CavityModes modes;
  reduced::FullReduction red;

  explicit Plate(double volume_m3 = 0.04) {
    cavity::SlabInput in;
    in.volume_m3 = volume_m3;
    in.loss_factor = 0.05;
    slab = cavity::make_slab(panel, in);
    modes = cavity::cavity_modes(slab, 500.0);
    constexpr int kPoints = 12;
    for (int i = 0; i < kPoints; ++i) {
      const double angle = base::kTwoPi * i / kPoints;
      ring_row +=
          shell::normal_at(
              skin,
              *panel.flat.to_skin({0.25 + 0.08 * std::cos(angle), 0.2 + 0.08 * std::sin(angle)})) /
          kPoints;
    }
    reduced::Ports ports;
    ports.load = shell::uniform_pressure(skin);
    ports.listen = Eigen::MatrixXd(0, skin.n_dof);
    ports.more = Eigen::MatrixXd::Zero(modes.pressure.cols() + 1, skin.n_dof);
    const Eigen::MatrixXd force = slab.A.transpose() * modes.pressure;
    for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
      if (skin.dof(i, 2) != shell::kHeld)
        ports.more.col(skin.dof(i, 2)).head(force.cols()) = force.row(i).transpose();
    ports.more.bottomRows(1) = ring_row.transpose();
    reduced::ReductionOptions o;
    o.top_hz = 400.0;
    o.air_faces = 1;
    red = reduced::reduce_full(
        skin,
        shell::build_model(
            skin, {}, {{rectangle_on(panel, {0.4, 0.25}, {0.3, 0.2}), {&butyl}, false, false}}),
        ports,
        o,
        {});
  }

  coupling::DoorAir air(bool on_skin, bool radiation) const {
    coupling::DoorAir a;
    a.slab = &slab;
    a.modes = &modes;
    a.leaks = {{{0.6, 0.4}, 0.003, 0.04, 0.1}};
    a.woofer = coupling::WooferPart{
        drive::moving_part(woofer), {{0.25, 0.2}, woofer.sd_m2}, on_skin, on_skin ? 1.2 : 0.0};
    a.radiation = radiation;
    return a;
  }

  coupling::CoupledDoor door(bool on_skin, bool radiation) const {
    return coupling::couple(
        skin,
        red.model,
        red.normal,
        on_skin ? Eigen::VectorXd(red.more.bottomRows(1).transpose()) : Eigen::VectorXd(),
        air(on_skin, radiation),
        300.0);
  }
};

/// Power turned into heat by a term's imaginary part, for rms coordinates q.
double heat(const reduced::ReducedTerm& t, const Eigen::VectorXcd& q, double freq_hz) {
  const Eigen::VectorXd re = q.real(), im = q.imag();
  return base::kTwoPi * freq_hz * t.coefficient(freq_hz, 293.15).imag() *
         (re.dot(t.matrix * re) + im.dot(t.matrix * im));
}

}  // namespace

// Source: [derived] what the amplifier gives is what coil, suspension, skin, sheet, lining and leak
// turn into heat and what skin and cone send out as sound. The electrical side is written with the
// coil's own current, not with the model's resistance.
TEST_CASE("electrical power in is heat and sound, with the woofer on either panel",
          "[coupling][derived]") {
  const Plate p;
  for (const bool on_skin : {false, true}) {
    const coupling::CoupledDoor door = p.door(on_skin, true);
    for (const double f : {45.0, 63.0, 71.3, 100.0, 125.0, 180.0, 250.0}) {
      const double w = base::kTwoPi * f, volts = 10.0;
      const double bl = p.woofer.bl_tm, re = p.woofer.re_ohm;
      const Eigen::VectorXcd q = door.model.solve(f) * (volts * bl / re);
      Complex stretch = q(door.cone);
      if (on_skin)
        stretch += (p.red.more.bottomRows(1).cast<Complex>() * q.head(door.n_skin)).value();
      const Complex v = Complex(0.0, w) * stretch;  // of the coil in its magnet
      const Complex current = (volts - bl * v) / re;
      const double in = volts * current.real();
      double out = re * std::norm(current) + p.woofer.rms_ns_m * std::norm(v);
      double sheet = 0.0;
      for (const reduced::ReducedTerm& t : door.model.terms) {
        if (t.name == "coil and suspension" || t.name == "radiation" ||
            t.name == "cone's radiation")
          continue;
        out += heat(t, q, f);
        if (t.modulus) sheet += heat(t, q, f);
      }
      const Eigen::VectorXcd velocity = Complex(0.0, w) * q;
      const auto sent = [&](const Eigen::MatrixXd& power) {
        return (velocity.adjoint() * (power.cast<Complex>() * velocity)).value().real();
      };
      out += sent(door.skin_power(f)) + sent(door.cone_power(f));
      CAPTURE(on_skin, f, in, out);
      CHECK(out == Approx(in).epsilon(1e-5));
      CHECK(sheet > 0.0);
      CHECK(sent(door.skin_power(f)) > 0.0);
    }
  }
}

// Source: [derived] with nothing behind the cone the model is the woofer in a wall, which
// drive::woofer_response has in closed form; behind a skin that cannot move, the even mode alone is
// its closed box with a leak.
TEST_CASE("alone, or before a skin that stands still, the cone moves as the closed form says",
          "[coupling][derived]") {
  const Plate p;
  Eigen::VectorXd f(4);
  f << 40.0, 65.0, 90.0, 200.0;
  coupling::DoorAir alone;
  alone.woofer = p.air(false, false).woofer;
  const coupling::CoupledDoor open =
      coupling::couple(p.skin, p.red.model, p.red.normal, {}, alone, 300.0);
  const drive::WooferResponse wall = drive::woofer_response(p.woofer, 1.0, {}, std::nullopt, f);

  const cavity::CavityModes even = cavity::even_mode(p.slab);
  coupling::DoorAir box = p.air(false, false);
  box.modes = &even;
  const Eigen::MatrixXd still = Eigen::MatrixXd::Zero(p.red.normal.rows(), p.red.normal.cols());
  coupling::CoupledDoor shut = coupling::couple(p.skin, p.red.model, still, {}, box, 300.0);
  // The air's flow close to cone and leak is mass that a lumped box does not have.
  shut.model.mass.bottomRightCorner(2, 2).setZero();
  shut.model.mass(shut.cone, shut.cone) = p.woofer.mms_kg;
  shut.model.mass(shut.cone + 1, shut.cone + 1) = base::kAirDensity * 0.003 * 0.04;
  for (reduced::ReducedTerm& t : shut.model.terms)
    if (t.name == "leaks") t.matrix.setZero();
  drive::Box closed;
  closed.volume_m3 = p.slab.volume_m3;
  closed.loss_factor = p.slab.loss_factor;
  closed.leak_area_m2 = 0.003;
  closed.leak_length_m = 0.04;
  const drive::WooferResponse in_box = drive::woofer_response(p.woofer, 1.0, {}, closed, f);
  for (Eigen::Index i = 0; i < f.size(); ++i) {
    const double force = p.woofer.bl_tm / p.woofer.re_ohm;
    const Complex a = force * open.model.solve(f(i))(open.cone);
    CHECK(std::abs(a - wall.displacement_m(i)) < 1e-9 * std::abs(a));
    const Complex b = force * shut.model.solve(f(i))(shut.cone);
    CHECK(std::abs(b - in_box.displacement_m(i)) < 1e-6 * std::abs(b));
  }
}

// Source: [derived] a linear passive system answers the same when drive and listener change places.
TEST_CASE("the coupled door is reciprocal and never gives energy", "[coupling][derived]") {
  const Plate p;
  const coupling::CoupledDoor door = p.door(true, true);
  for (const double f : {50.0, 140.0}) {
    const Eigen::MatrixXcd k = door.model.stiffness(f);
    CHECK((k - k.transpose()).norm() < 1e-10 * k.norm());
    const Eigen::MatrixXd loss = k.imag();
    const Eigen::VectorXd scale = loss.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(
        Eigen::MatrixXd(scale.asDiagonal() * loss * scale.asDiagonal()));
    CHECK(eig.eigenvalues().minCoeff() > -1e-7);
  }
  CHECK((door.model.mass - door.model.mass.transpose()).norm() < 1e-12 * door.model.mass.norm());
}

// Source: [derived] on the skin the motor's reaction shakes it beside the pressure; the frame's
// mass goes with the ring.
TEST_CASE("a woofer on the skin shakes it through its ring", "[coupling][derived]") {
  const Plate p;
  coupling::DoorAir alone;
  alone.woofer = p.air(true, false).woofer;
  const Eigen::VectorXd ring = p.red.more.bottomRows(1).transpose();
  const coupling::CoupledDoor on =
      coupling::couple(p.skin, p.red.model, p.red.normal, ring, alone, 300.0);
  alone.woofer->on_skin = false;
  alone.woofer->frame_mass_kg = 0.0;
  const coupling::CoupledDoor off =
      coupling::couple(p.skin, p.red.model, p.red.normal, {}, alone, 300.0);
  CHECK(off.model.solve(80.0).head(off.n_skin).norm() == 0.0);
  // High above the cone's resonance it floats: the ring takes -Mms a, with the frame on it.
  const double f = 240.0, w = base::kTwoPi * f;
  const Eigen::VectorXcd q = on.model.solve(f);
  const Complex ring_m = (ring.transpose().cast<Complex>() * q.head(on.n_skin)).value();
  reduced::ReducedModel shaken = p.red.model;
  shaken.load = ring;
  shaken.mass += 1.2 * ring * ring.transpose();
  const Complex mobility =
      (ring.transpose().cast<Complex>() * shaken.solve(f)).value();  // displacement per N outward
  const Complex reaction = -p.woofer.mms_kg * w * w * q(on.cone);
  CHECK(std::abs(ring_m - mobility * reaction) < 1e-9 * std::abs(ring_m) + 1e-15);

  CHECK_THROWS_AS(coupling::couple(p.skin, p.red.model, p.red.normal, ring, alone, 300.0),
                  std::invalid_argument);
  CHECK_THROWS_AS(off.skin_power(100.0), std::logic_error);
}
