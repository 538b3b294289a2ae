// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Dense>
#include <cmath>
#include <memory>

#include "base/units.hpp"
#include "reduced/reduced_model.hpp"
#include "shell/small_panels.hpp"

namespace calmplate::testing {

/// A core that stiffens with frequency and is lossiest about 100 Hz. Pa.
struct RisingModulus final : sheet::ComplexModulus {
  std::complex<double> modulus(double freq_hz, double) const override {
    const double storage = 1e6 * std::pow(freq_hz / 100.0, 0.4);
    const double x = std::log(freq_hz / 100.0);
    return {storage, 0.9 * storage / (1.0 + 0.3 * x * x)};
  }
};

/// A made-up model of ten degrees of freedom: nine modes between 40 and 310 Hz and one so stiff
/// that inertia does not matter to it.
/// @param loss_factor  of its skin
/// @param core         acts on three directions; may be null
inline reduced::ReducedModel toy_model(double loss_factor, sheet::ModulusPtr core = nullptr) {
  constexpr int kSize = 10;
  Dice dice;
  const Eigen::MatrixXd x =
      dice.matrix(kSize, kSize) + 3.0 * Eigen::MatrixXd::Identity(kSize, kSize);
  Eigen::VectorXd omega2(kSize);
  for (int j = 0; j < kSize; ++j)
    omega2(j) =
        std::pow(base::kTwoPi * (j == kSize - 1 ? 3.2e4 : 40.0 + 30.0 * j + 3.0 * dice()), 2);
  reduced::ReducedModel m;
  m.mass = x.transpose() * x;
  m.mass = 0.5 * (m.mass + m.mass.transpose()).eval();
  const Eigen::MatrixXd k = x.transpose() * omega2.asDiagonal() * x;
  m.terms.push_back({"skin", 0.5 * (k + k.transpose()), nullptr, loss_factor});
  if (core) {
    const Eigen::MatrixXd c = dice.matrix(kSize, 3);
    m.terms.push_back({"core", 0.3 * c * c.transpose(), core, 0.0});
  }
  m.load = dice.matrix(kSize, 1);
  const Eigen::MatrixXd s = dice.matrix(kSize, kSize);
  m.surface = s.transpose() * s;
  m.listen = dice.matrix(2, kSize);
  return m;
}

/// Surface mean of |v|^2 under the unit load at one frequency, by solving there.
inline double mean_square_velocity(const reduced::ReducedModel& m, double freq_hz) {
  const Eigen::VectorXcd q = m.solve(freq_hz);
  const double w = base::kTwoPi * freq_hz;
  return w * w * q.dot(m.surface * q).real();
}

}  // namespace calmplate::testing
