// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/UmfPackSupport>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>

#include "base/units.hpp"
#include "shell/panel_model.hpp"

namespace calmplate::testing {

/// Surface mean square velocity by one direct solve of the full complex system, m2/s2: none of the
/// reduced model's code.
/// @param load  [n_skin_dof] of the unit drive
inline double direct_mean_square(const shell::Skin& skin,
                                 const shell::PanelModel& model,
                                 const Eigen::VectorXd& load,
                                 double temp_k,
                                 double freq_hz) {
  using Complex = std::complex<double>;
  const double w = base::kTwoPi * freq_hz;
  Eigen::SparseMatrix<Complex> d = (-w * w * model.mass).cast<Complex>();
  for (const shell::StiffnessTerm& t : model.terms)
    d += t.coefficient(freq_hz, temp_k) * t.matrix.cast<Complex>();
  Eigen::VectorXcd f = Eigen::VectorXcd::Zero(model.n_dof);
  f.head(load.size()) = load.cast<Complex>();
  d.makeCompressed();
  const Eigen::UmfPackLU<Eigen::SparseMatrix<Complex>> lu(d);
  REQUIRE(lu.info() == Eigen::Success);
  const Eigen::VectorXcd q = lu.solve(f);
  double sum = 0.0;
  for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
    if (skin.dof(i, 2) != shell::kHeld) sum += skin.node_area(i) * std::norm(q(skin.dof(i, 2)));
  return w * w * sum / skin.node_area.sum();
}

}  // namespace calmplate::testing
