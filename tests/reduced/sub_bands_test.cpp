// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/sub_bands.hpp"

#include <catch2/catch.hpp>

#include "reduced/toy_model.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

reduced::ReducedModel rising() { return toy_model(0.01, std::make_shared<RisingModulus>()); }

double surface_mean(const reduced::ReducedModel& m, const Eigen::VectorXcd& q, double freq_hz) {
  return std::pow(base::kTwoPi * freq_hz, 2) * q.dot(m.surface * q).real();
}

}  // namespace

// Source: derived. The equations solved at each frequency with the modulus of that frequency.
TEST_CASE("narrow parts follow a modulus that moves with frequency", "[reduced][derived]") {
  const reduced::ReducedModel m = rising();
  const reduced::SubBands bands(m, 30.0, 300.0);
  REQUIRE(bands.parts().size() == 40);
  double worst_db = 0.0;
  for (double f = 31.0; f < 300.0; f *= 1.0037) {
    const double exact = mean_square_velocity(m, f);
    const double found = surface_mean(m, bands.part_at(f).poles.response(f), f);
    worst_db = std::max(worst_db, std::abs(10.0 * std::log10(found / exact)));
  }
  CHECK(worst_db < 0.25);
  // Twice as many parts: the error of the middle falls with their width, at least in proportion.
  const reduced::SubBands fine(m, 30.0, 300.0, 48);
  double fine_db = 0.0;
  for (double f = 31.0; f < 300.0; f *= 1.0037) {
    const double exact = mean_square_velocity(m, f);
    const double found = surface_mean(m, fine.part_at(f).poles.response(f), f);
    fine_db = std::max(fine_db, std::abs(10.0 * std::log10(found / exact)));
  }
  CHECK(fine_db < 0.5 * worst_db);
}

TEST_CASE("the integral over a band does not feel that the modulus stands still in each part",
          "[reduced][derived]") {
  const reduced::ReducedModel m = rising();
  const auto integral = [&](int parts_per_octave) {
    const reduced::SubBands bands(m, 40.0, 250.0, parts_per_octave);
    double sum = 0.0;
    for (const reduced::SubBands::Part& p : bands.parts())
      sum += reduced::BandIntegral(p.poles, m.surface).mean_square_velocity(p.low_hz, p.high_hz);
    return sum;
  };
  double exact = 0.0;
  const int steps = 20000;
  for (int i = 0; i < steps; ++i)
    exact += mean_square_velocity(m, 40.0 + 210.0 * (i + 0.5) / steps) * 210.0 / steps;
  CHECK(std::abs(10.0 * std::log10(integral(12) / exact)) < 0.01);
  CHECK(std::abs(10.0 * std::log10(integral(3) / exact)) < 0.1);
}

TEST_CASE("parts cover the range without a gap, and the ends serve beyond it", "[reduced]") {
  const reduced::SubBands bands(rising(), 40.0, 250.0, 3);
  CHECK(bands.parts().front().low_hz == Approx(40.0));
  CHECK(bands.parts().back().high_hz == Approx(250.0));
  for (std::size_t i = 1; i < bands.parts().size(); ++i)
    CHECK(bands.parts()[i].low_hz == Approx(bands.parts()[i - 1].high_hz).epsilon(1e-12));
  CHECK(&bands.part_at(5.0) == &bands.parts().front());
  CHECK(&bands.part_at(900.0) == &bands.parts().back());
  CHECK_THROWS_AS(reduced::SubBands(rising(), 0.0, 250.0), std::invalid_argument);
  CHECK_THROWS_AS(reduced::SubBands(rising(), 40.0, 30.0), std::invalid_argument);
  CHECK_THROWS_AS(reduced::SubBands(rising(), 40.0, 80.0, 0), std::invalid_argument);
}

// Source: derived. Followers keep the static answer and, to first order, the inertia.
TEST_CASE("a pencil with its stiff shapes following answers as the whole", "[reduced][derived]") {
  const reduced::ReducedModel m =
      toy_model(0.02, std::make_shared<sheet::ConstantModulus>(1e6, 0.5));
  const reduced::RealModes modes = reduced::real_modes(m, 100.0);
  CHECK(
      (modes.shape.transpose() * m.mass * modes.shape - Eigen::MatrixXd::Identity(10, 10)).norm() <
      1e-8);
  const reduced::ReducedModel changed = reduced::in_coordinates(m, modes.shape);
  const reduced::FollowedPencil f =
      reduced::follow(changed.stiffness(100.0), changed.mass, changed.load, 7);
  const double w2 = std::pow(base::kTwoPi * 60.0, 2);
  const Eigen::VectorXcd x =
      Eigen::MatrixXcd(f.stiffness - w2 * f.mass).partialPivLu().solve(f.load);
  const Eigen::VectorXcd q = modes.shape * (f.shapes * x + f.still);
  CHECK((q - m.solve(60.0)).norm() < 0.02 * q.norm());
  const reduced::FollowedPencil whole =
      reduced::follow(changed.stiffness(100.0), changed.mass, changed.load, 10);
  const Eigen::VectorXcd all =
      Eigen::MatrixXcd(whole.stiffness - w2 * whole.mass).partialPivLu().solve(whole.load);
  CHECK((modes.shape * all - m.solve(60.0)).norm() < 1e-9 * q.norm());
}
