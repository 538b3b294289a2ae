// SPDX-License-Identifier: GPL-3.0-or-later
#include "cavity/air_spring.hpp"

#include <cmath>
#include <stdexcept>

#include "modes/cholesky_factor.hpp"

namespace calmplate::cavity {
namespace {

/// Volume taken out of the air at the nodes by a unit of each mover: what moves outward counts
/// above 0. [n x n_mover]
Eigen::MatrixXd volumes(const Slab& slab,
                        const Eigen::MatrixXd& normal,
                        const std::vector<ConeInput>& cones,
                        const std::vector<LeakInput>& leaks) {
  const auto n_open = static_cast<Eigen::Index>(cones.size() + leaks.size());
  Eigen::MatrixXd out(slab.depth_m.size(), normal.cols() + n_open);
  out.leftCols(normal.cols()) = slab.A * normal;
  Eigen::Index j = normal.cols();
  for (const ConeInput& c : cones) out.col(j++) = -opening(slab, c.at, c.area_m2);
  for (const LeakInput& l : leaks) out.col(j++) = -opening(slab, l.at, l.area_m2);
  return out;
}

/// Pressure at the nodes per acceleration -w^2 of each mover that the modes leave out, the air
/// taken as incompressible in them: H^+ F less the modes' own share. [n x n_mover]
Eigen::MatrixXd left_out(const Slab& slab,
                         const CavityModes& modes,
                         const Eigen::MatrixXd& volume,
                         const Eigen::MatrixXd& share) {
  // The even mode is taken off, then the pressure is counted from the first node: H without its
  // first row and column is positive definite.
  const Eigen::Index n = volume.rows();
  const Eigen::VectorXd ones = Eigen::VectorXd::Ones(n);
  const Eigen::VectorXd q = slab.Q * ones;
  const double total = q.sum();
  const Eigen::MatrixXd f = volume - q / total * volume.colwise().sum();
  Eigen::MatrixXd p = Eigen::MatrixXd::Zero(n, f.cols());
  const Eigen::SparseMatrix<double> held = slab.H.bottomRightCorner(n - 1, n - 1);
  p.bottomRows(n - 1) = modes::CholeskyFactor(held).solve(f.bottomRows(n - 1));
  p -= ones * (q.transpose() * p / total);
  const Eigen::Index m = modes.omega2.size() - 1;
  return p - modes.pressure.rightCols(m) *
                 (modes.omega2.tail(m).cwiseInverse().asDiagonal() * share.bottomRows(m));
}

void check(const Slab& slab, const CavityModes& modes, const Eigen::MatrixXd& normal) {
  if (normal.rows() != slab.A.cols())
    throw std::invalid_argument("air_spring: a shape has a row for every node of the skin");
  if (modes.omega2.size() < 1 || modes.pressure.cols() != modes.omega2.size() ||
      modes.pressure.rows() != slab.depth_m.size())
    throw std::invalid_argument("air_spring: the modes are not of this slab");
}

}  // namespace

AirSpring air_spring(const Slab& slab,
                     const CavityModes& modes,
                     const Eigen::MatrixXd& normal,
                     const std::vector<ConeInput>& cones,
                     const std::vector<LeakInput>& leaks,
                     const AirSpringOptions& options) {
  check(slab, modes, normal);
  AirSpring air;
  air.n_skin = normal.cols();
  air.n_cone = static_cast<Eigen::Index>(cones.size());
  air.n_leak = static_cast<Eigen::Index>(leaks.size());
  air.n_air = modes.omega2.size() - 1;
  air.loss_factor = slab.loss_factor;
  const Eigen::Index n = air.size(), n_mover = n - air.n_air;
  const Eigen::MatrixXd volume = volumes(slab, normal, cones, leaks);
  const Eigen::MatrixXd share = modes.pressure.transpose() * volume;

  air.strain = Eigen::MatrixXd::Zero(modes.omega2.size(), n);
  air.strain.leftCols(n_mover) = share;
  for (Eigen::Index k = 0; k < air.n_air; ++k)
    air.strain(k + 1, n_mover + k) = -std::sqrt(modes.omega2(k + 1));
  air.stiffness = air.strain.transpose() * air.strain;
  air.stiffness = 0.5 * (air.stiffness + air.stiffness.transpose()).eval();

  air.mass = Eigen::MatrixXd::Zero(n, n);
  air.mass.diagonal().tail(air.n_air).setOnes();
  air.near_field = Eigen::MatrixXd::Zero(volume.rows(), n_mover);
  if (options.near_field) {
    air.near_field = left_out(slab, modes, volume, share);
    const Eigen::MatrixXd added = volume.transpose() * air.near_field;
    air.mass.topLeftCorner(n_mover, n_mover) = 0.5 * (added + added.transpose());
  }
  if (options.across) {
    const Eigen::MatrixXd added = normal.transpose() * (slab.cross * normal);
    air.mass.topLeftCorner(air.n_skin, air.n_skin) += 0.5 * (added + added.transpose());
  }
  air.leak_loss = Eigen::VectorXd::Zero(n);
  for (std::size_t i = 0; i < leaks.size(); ++i) {
    const LeakInput& l = leaks[i];
    if (!(l.length_m > 0.0) || !std::isfinite(l.length_m) || !(l.loss_factor >= 0.0) ||
        !std::isfinite(l.loss_factor))
      throw std::invalid_argument(
          "air_spring: a leak's length must be above 0, its loss not below");
    const Eigen::Index k = air.n_skin + air.n_cone + static_cast<Eigen::Index>(i);
    air.mass(k, k) += slab.density * l.area_m2 * l.length_m;
    air.leak_loss(k) = l.loss_factor * l.area_m2 * l.area_m2 * slab.stiffness_per_volume2();
  }
  return air;
}

PressureRows pressure_rows(const CavityModes& modes,
                           const AirSpring& air,
                           const std::vector<int>& nodes) {
  const Eigen::Index n = air.size(), n_mover = n - air.n_air;
  PressureRows out;
  out.spring.resize(static_cast<Eigen::Index>(nodes.size()), n);
  out.inertia = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(nodes.size()), n);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (nodes[i] < 0 || nodes[i] >= modes.pressure.rows())
      throw std::out_of_range("pressure_rows: no such node");
    const auto row = static_cast<Eigen::Index>(i);
    out.spring.row(row) = -modes.pressure.row(nodes[i]) * air.strain;
    out.inertia.row(row).head(n_mover) = air.near_field.row(nodes[i]);
  }
  return out;
}

}  // namespace calmplate::cavity
