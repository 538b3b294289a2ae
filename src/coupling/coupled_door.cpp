// SPDX-License-Identifier: GPL-3.0-or-later
#include "coupling/coupled_door.hpp"

#include <cmath>
#include <stdexcept>
#include <utility>

#include "base/units.hpp"

namespace calmplate::coupling {
namespace {

using Complex = std::complex<double>;

Complex i_omega(double freq_hz) { return {0.0, base::kTwoPi * freq_hz}; }

Eigen::MatrixXd padded(const Eigen::MatrixXd& a, Eigen::Index n) {
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(n, n);
  out.topLeftCorner(a.rows(), a.cols()) = a;
  return out;
}

/// The skin's model with coordinates to come set to rest.
reduced::ReducedModel widened(const reduced::ReducedModel& model, Eigen::Index n) {
  reduced::ReducedModel out = model;
  const Eigen::Index r = model.size();
  out.mass = padded(model.mass, n);
  for (reduced::ReducedTerm& t : out.terms) t.matrix = padded(t.matrix, n);
  for (reduced::CondensedPiece& p : out.pieces) {
    const Eigen::MatrixXd span =
        p.span.size() == 0 ? Eigen::MatrixXd(Eigen::MatrixXd::Identity(r, r)) : p.span;
    p.span = Eigen::MatrixXd::Zero(n, span.cols());
    p.span.topRows(r) = span;
  }
  out.load = Eigen::VectorXd::Zero(n);
  out.load.head(r) = model.load;
  out.surface = padded(model.surface, n);
  out.listen = Eigen::MatrixXd::Zero(model.listen.rows(), n);
  out.listen.leftCols(r) = model.listen;
  return out;
}

/// i w P(w) of the skin, P interpolated in w^2 between a few frequencies: each is one real matrix
/// with a factor. Eight points serve to 1e-4 of the largest entry up to k times the skin's length
/// of 8, as a metre of door has at 400 Hz.
void add_skin_radiation(const response::Radiator& radiator, double top_hz, CoupledDoor& door) {
  constexpr int kPoints = 8;
  std::vector<double> at(kPoints);  // w^2 over its largest, Chebyshev points
  for (int j = 0; j < kPoints; ++j)
    at[static_cast<std::size_t>(j)] =
        0.5 - 0.5 * std::cos(base::kPi * (j + 0.5) / static_cast<double>(kPoints));
  const double top2 = std::pow(base::kTwoPi * top_hz, 2);
  for (std::size_t j = 0; j < at.size(); ++j) {
    const double w2 = at[j] * top2;
    const Eigen::MatrixXd power = radiator.power_matrix(std::sqrt(w2) / base::kTwoPi) / w2;
    const auto factor = [at, j, top2](double freq_hz) {
      const double w = base::kTwoPi * freq_hz, x = std::min(w * w / top2, 1.0);
      double lagrange = 1.0;
      for (std::size_t k = 0; k < at.size(); ++k)
        if (k != j) lagrange *= (x - at[k]) / (at[j] - at[k]);
      return i_omega(freq_hz) * w * w * lagrange;
    };
    door.model.terms.push_back(
        {"radiation", padded(power, door.model.size()), nullptr, 0.0, factor});
  }
}

/// Suspension, coil, moving mass and motor between the cone and its frame.
void add_woofer(const WooferPart& woofer, const Eigen::VectorXd& ring, CoupledDoor& door) {
  reduced::ReducedModel& m = door.model;
  const Eigen::Index n = m.size();
  Eigen::VectorXd frame = Eigen::VectorXd::Zero(n);  // its outward displacement
  if (woofer.on_skin) frame.head(door.n_skin) = ring;
  Eigen::VectorXd stretch = frame;  // the frame goes outward as the cone goes into the cavity
  stretch(door.cone) = 1.0;
  m.mass(door.cone, door.cone) += woofer.part.mass_kg;
  m.mass += woofer.frame_mass_kg * frame * frame.transpose();
  const Eigen::MatrixXd both = stretch * stretch.transpose();
  m.terms.push_back({"suspension", woofer.part.stiffness_n_m * both, nullptr, 0.0});
  m.terms.push_back(
      {"coil and suspension", woofer.part.resistance_ns_m * both, nullptr, 0.0, i_omega});
  m.load = stretch;
}

}  // namespace

Eigen::MatrixXd CoupledDoor::skin_power(double freq_hz) const {
  if (!radiator) throw std::logic_error("CoupledDoor: it was made without radiation");
  return padded(radiator->power_matrix(freq_hz), model.size());
}

Eigen::MatrixXd CoupledDoor::cone_power(double freq_hz) const {
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(model.size(), model.size());
  const double w = base::kTwoPi * freq_hz;
  if (cone >= 0)
    out(cone, cone) =
        base::kAirDensity * w * w * cone_area_m2 * cone_area_m2 / (base::kTwoPi * base::kAirSound);
  return out;
}

CoupledDoor couple(const shell::Skin& skin,
                   const reduced::ReducedModel& model,
                   const Eigen::MatrixXd& normal,
                   const Eigen::VectorXd& ring,
                   const DoorAir& air,
                   double top_hz) {
  const Eigen::Index r = model.size();
  const bool on_skin = air.woofer && air.woofer->on_skin;
  if (normal.cols() != r || ring.size() != (on_skin ? r : 0))
    throw std::invalid_argument("couple: normal and ring have an entry for every shape");
  CoupledDoor door;
  door.n_skin = r;
  std::vector<cavity::ConeInput> cones;
  if (air.woofer) {
    cones.push_back(air.woofer->cone);
    door.cone = r;
    door.cone_area_m2 = air.woofer->cone.area_m2;
  }
  Eigen::Index n = r + static_cast<Eigen::Index>(cones.size());
  if (air.slab != nullptr) {
    door.air = cavity::air_spring(*air.slab, *air.modes, normal, cones, air.leaks);
    n = door.air.size();
  }
  door.model = widened(model, n);
  if (air.slab != nullptr) {
    door.model.mass += door.air.mass;
    door.model.terms.push_back(
        {"air in the door", door.air.stiffness, nullptr, door.air.loss_factor});
    if (door.air.leak_loss.maxCoeff() > 0.0)
      door.model.terms.push_back(
          {"leaks", door.air.leak_loss.asDiagonal().toDenseMatrix(), nullptr, 0.0, [](double) {
             return Complex(0.0, 1.0);
           }});
  }
  if (air.woofer) add_woofer(*air.woofer, ring, door);
  if (air.radiation) {
    door.radiator = std::make_shared<response::Radiator>(skin, normal, top_hz);
    add_skin_radiation(*door.radiator, top_hz, door);
    if (door.cone >= 0) {
      const double w = base::kTwoPi;
      door.model.terms.push_back(
          {"cone's radiation", door.cone_power(1.0) / (w * w), nullptr, 0.0, [](double f) {
             return i_omega(f) * std::pow(base::kTwoPi * f, 2);
           }});
    }
  }
  return door;
}

}  // namespace calmplate::coupling
