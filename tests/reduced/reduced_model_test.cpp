// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/reduced_model.hpp"

#include <catch2/catch.hpp>

#include "reduced/toy_model.hpp"

using namespace calmplate;
using namespace calmplate::testing;

TEST_CASE("the stiffness is the sum of its terms, each with its own factor", "[reduced][derived]") {
  const reduced::ReducedModel m = toy_model(0.01, std::make_shared<RisingModulus>());
  for (const double f : {20.0, 100.0, 333.0}) {
    const Eigen::MatrixXcd exact = m.terms[0].matrix * std::complex<double>(1.0, 0.01) +
                                   m.terms[1].matrix * RisingModulus().modulus(f, m.temp_k);
    CHECK((m.stiffness(f) - exact).norm() < 1e-14 * exact.norm());
    const double w = base::kTwoPi * f;
    const Eigen::VectorXcd q = m.solve(f);
    const Eigen::VectorXcd left = exact * q - w * w * m.mass * q;
    CHECK((left - m.load).norm() < 1e-9 * m.load.norm());
  }
}

TEST_CASE("a model is constant only if all of its moduli are", "[reduced]") {
  CHECK(toy_model(0.01).constant());
  CHECK(toy_model(0.01, std::make_shared<sheet::ConstantModulus>(1e6, 1.0)).constant());
  CHECK_FALSE(toy_model(0.01, std::make_shared<RisingModulus>()).constant());
  reduced::ReducedModel m = toy_model(0.01);
  reduced::CondensedPiece piece;
  m.pieces.push_back(piece);
  CHECK(m.constant());
  piece.modulus = std::make_shared<RisingModulus>();
  m.pieces.push_back(piece);
  CHECK_FALSE(m.constant());
}

// Source: derived. Over a period the load does as much work as the losses take.
TEST_CASE("the power that goes in is the power that the losses take", "[reduced][derived]") {
  const reduced::ReducedModel m = toy_model(0.003, std::make_shared<RisingModulus>());
  for (const double f : {15.0, 41.0, 77.7, 120.0, 250.0}) {
    const double w = base::kTwoPi * f;
    const Eigen::VectorXcd q = m.solve(f);
    const std::complex<double> v =
        std::complex<double>(0.0, w) * m.load.cast<std::complex<double>>().dot(q);
    const double lost = 0.5 * w * q.dot(m.stiffness(f).imag() * q).real();
    CHECK(0.5 * v.real() == Approx(lost).epsilon(1e-9).margin(0.0));
  }
}
