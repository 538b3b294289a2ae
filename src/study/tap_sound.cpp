// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/tap_sound.hpp"

#include <cmath>

#include "base/units.hpp"
#include "drive/spectrum.hpp"
#include "response/radiation.hpp"

namespace calmplate::study {
namespace {

constexpr double kDistance_m = 1.0;
using Complex = std::complex<double>;

Eigen::Index nearest_node(const panel::Panel& panel, const Eigen::Vector2d& at) {
  Eigen::Index node = 0;
  (panel.flat.points().rowwise() - at.transpose()).rowwise().squaredNorm().minCoeff(&node);
  return node;
}

/// Frequency derivative of K by (2 pi)^2 f^2 at a mode, along its shape: how its stiffness
/// stiffens.
Complex stiffening(const reduced::ReducedModel& model, const Eigen::VectorXcd& x, double freq_hz) {
  if (model.constant()) return 0.0;
  constexpr double kStep = 0.01;
  const double up = (1.0 + kStep) * freq_hz, down = (1.0 - kStep) * freq_hz;
  const Complex change =
      (x.transpose() * ((model.stiffness(up) - model.stiffness(down)) * x)).value();
  return change / (std::pow(base::kTwoPi, 2) * (up * up - down * down));
}

}  // namespace

TapInput tap_of(const Common& c) {
  TapInput tap;
  const drive::DriveInput& drive = c.job->drive;
  if (drive.kind == drive::Kind::tap) {
    tap.impulse_ns = drive.impulse_ns;
    tap.contact_s = drive.contact_s;
  }
  Eigen::Vector2d at = drive.at;
  if (drive.kind != drive::Kind::tap && drive.kind != drive::Kind::force) {
    const auto& points = c.panel->flat.points();
    const Eigen::Vector2d low = points.colwise().minCoeff(), high = points.colwise().maxCoeff();
    // Off the middle lines, on which every other mode stands still.
    at = low + Eigen::Vector2d(0.42, 0.44).cwiseProduct(high - low);
  }
  tap.node = nearest_node(*c.panel, at);
  tap.at = c.panel->flat.points().row(tap.node).transpose();
  tap.up_to_hz = curve_range(c.job->band).high_hz;  // as far as the curves go
  return tap;
}

std::vector<TapTone> tap_tones(const Common& c,
                               const reduced::FullReduction& red,
                               const coupling::CoupledDoor& door,
                               const reduced::ComplexModes& modes,
                               const TapInput& tap) {
  drive::DriveInput pulse;
  pulse.kind = drive::Kind::tap;
  pulse.impulse_ns = tap.impulse_ns;
  pulse.contact_s = tap.contact_s;
  const panel::Nodes& nodes = c.panel->mesh.nodes;
  const Eigen::VectorXd& area = c.skin.node_area;
  const Eigen::MatrixXd volume = area.asDiagonal() * red.normal;
  const Eigen::Vector3d ear = response::in_front(c.skin, kDistance_m);
  const Eigen::RowVectorXcd knock = red.normal.row(tap.node).cast<Complex>();
  std::vector<TapTone> out;
  for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
    const double f = modes.freq_hz(j);
    const Eigen::VectorXcd x = modes.shape.col(j), skin = x.head(red.normal.cols());
    const double w0 = base::kTwoPi * f;
    const Complex pole = w0 * std::sqrt(Complex(1.0, modes.loss_factor(j)));
    if (!(pole.imag() > 0.0)) continue;
    const double ringing_hz = pole.real() / base::kTwoPi;
    const Complex pressure =
        (response::pressure_row(nodes, volume, ringing_hz, ear) * skin).value();
    // From the sound's arrival on.
    const Complex arrival =
        std::polar(1.0, base::kTwoPi * ringing_hz / base::kAirSound * kDistance_m);
    const Complex strength = std::sqrt(drive::strength(pulse, ringing_hz));
    const Complex weight = 1.0 - stiffening(door.model, x, f);
    const Complex amplitude = strength * pressure * arrival * (knock * skin).value() / weight;
    out.push_back({ringing_hz, pole.imag(), std::abs(amplitude), std::arg(amplitude)});
  }
  return out;
}

}  // namespace calmplate::study
