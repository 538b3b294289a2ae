// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Dense>
#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <catch2/catch.hpp>
#include <complex>

#include "base/units.hpp"
#include "shell/panel_model.hpp"

/// The full sparse equations solved as they stand, with none of the reduced model's code.
namespace calmplate::testing {

using Complex = std::complex<double>;
using ComplexSparse = Eigen::SparseMatrix<Complex>;

inline ComplexSparse complex_stiffness(const shell::PanelModel& model,
                                       double freq_hz,
                                       double temp_k) {
  ComplexSparse k(model.n_dof, model.n_dof);
  for (const shell::StiffnessTerm& t : model.terms)
    k += t.coefficient(freq_hz, temp_k) * t.matrix.cast<Complex>();
  return k;
}

/// Response of all degrees of freedom to a load on the skin's, one frequency at a time.
class DirectSolve {
 public:
  DirectSolve(const shell::PanelModel& model, Eigen::VectorXd load, double temp_k)
      : model_(model), load_(Eigen::VectorXcd::Zero(model.n_dof)), temp_k_(temp_k) {
    load_.head(model.n_skin_dof) = load.cast<Complex>();
  }

  Eigen::VectorXcd response(double freq_hz) const {
    const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
    ComplexSparse d =
        complex_stiffness(model_, freq_hz, temp_k_) - w2 * model_.mass.cast<Complex>();
    Eigen::SparseLU<ComplexSparse> lu(d);
    REQUIRE(lu.info() == Eigen::Success);
    return lu.solve(load_);
  }

  /// Surface mean of |v|^2.
  double mean_square_velocity(const shell::Skin& skin, double freq_hz) const {
    const Eigen::VectorXcd q = response(freq_hz);
    double sum = 0.0;
    for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
      if (skin.dof(i, 2) != shell::kHeld) sum += skin.node_area(i) * std::norm(q(skin.dof(i, 2)));
    return std::pow(base::kTwoPi * freq_hz, 2) * sum / skin.node_area.sum();
  }

 private:
  const shell::PanelModel& model_;
  Eigen::VectorXcd load_;
  double temp_k_;
};

/// The complex eigenvalue w^2 (1 + i eta) nearest to a guess, by inverse iteration on the full
/// matrices with the moduli at freq_hz.
inline Complex eigenvalue_near(const shell::PanelModel& model,
                               double freq_hz,
                               double temp_k,
                               Complex guess) {
  const ComplexSparse k = complex_stiffness(model, freq_hz, temp_k);
  const ComplexSparse m = model.mass.cast<Complex>();
  ComplexSparse shifted = k - guess * m;
  Eigen::SparseLU<ComplexSparse> lu(shifted);
  REQUIRE(lu.info() == Eigen::Success);
  Eigen::VectorXcd x(model.n_dof);
  for (Eigen::Index i = 0; i < x.size(); ++i) x(i) = std::sin(1.0 + 0.7 * static_cast<double>(i));
  Complex lambda = 0.0;
  for (int step = 0; step < 60; ++step) {
    x = lu.solve(m * x).eval();
    x /= std::sqrt((x.transpose() * (m * x)).value());
    const Complex next = (x.transpose() * (k * x)).value();
    if (std::abs(next - lambda) < 1e-10 * std::abs(next)) return next;
    lambda = next;
  }
  FAIL("inverse iteration did not settle near " << guess);
  return lambda;
}

}  // namespace calmplate::testing
