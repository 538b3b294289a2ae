// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/reduced_model.hpp"

#include <Eigen/LU>

#include "base/units.hpp"

namespace calmplate::reduced {

bool ReducedModel::constant() const {
  for (const ReducedTerm& t : terms)
    if (!t.constant()) return false;
  for (const CondensedPiece& p : pieces)
    if (!p.constant()) return false;
  return true;
}

Eigen::MatrixXcd ReducedModel::stiffness(double freq_hz) const {
  Eigen::MatrixXcd k = Eigen::MatrixXcd::Zero(size(), size());
  for (const ReducedTerm& t : terms) {
    const std::complex<double> c = t.coefficient(freq_hz, temp_k);
    k.real() += c.real() * t.matrix;
    k.imag() += c.imag() * t.matrix;
  }
  for (const CondensedPiece& p : pieces) p.add_stiffness(freq_hz, temp_k, k);
  return k;
}

Eigen::VectorXcd ReducedModel::solve(double freq_hz) const {
  const double w = base::kTwoPi * freq_hz;
  Eigen::MatrixXcd d = stiffness(freq_hz);
  d.real() -= w * w * mass;
  return Eigen::PartialPivLU<Eigen::MatrixXcd>(d).solve(load.cast<std::complex<double>>());
}

}  // namespace calmplate::reduced
