// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/band_response.hpp"

#include <catch2/catch.hpp>

#include "reduced/toy_model.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

/// A made-up model with a core and a dashpot, which both change with frequency.
reduced::ReducedModel changing() {
  reduced::ReducedModel m = toy_model(0.02, std::make_shared<RisingModulus>());
  Eigen::VectorXd d = Eigen::VectorXd::Zero(10);
  d(2) = 1.0;
  m.terms.push_back({"dashpot", 300.0 * d * d.transpose(), nullptr, 0.0, [](double f) {
                       return std::complex<double>(0.0, base::kTwoPi * f);
                     }});
  return m;
}

}  // namespace

// Source: [derived] the equations solved at each frequency with what holds there.
TEST_CASE("a curve follows what changes with frequency, without steps", "[response][derived]") {
  const reduced::ReducedModel m = changing();
  drive::DriveInput unit;
  const response::BandResponse r(m, unit, 300.0, 30.0);
  double worst = 0.0, before = 0.0, step = 0.0;
  for (double f = 31.0; f < 299.0; f += 0.05) {
    const double level = r.level_db(f);
    const double exact = 10.0 * std::log10(mean_square_velocity(m, f) / 1e-18);
    worst = std::max(worst, std::abs(level - exact));
    if (before != 0.0) step = std::max(step, std::abs(level - before));
    before = level;
  }
  CHECK(worst < 0.06);
  // A step of a part's border would stand out against the slope of 0.05 Hz.
  CHECK(step < 0.2);
}

// Source: [derived] a fine sum over frequency.
TEST_CASE("a band level and a weighted integral are those of a fine sum", "[response][derived]") {
  const reduced::ReducedModel m = changing();
  drive::DriveInput unit;
  const response::BandResponse r(m, unit, 300.0, 30.0);
  const int steps = 20000;
  double sum = 0.0, squared = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double f = 50.0 + 150.0 * (i + 0.5) / steps;
    const double v2 = mean_square_velocity(m, f) * 150.0 / steps;
    sum += v2;
    squared += v2 * f * f;
  }
  CHECK(r.band_mean_square(50.0, 200.0) == Approx(sum / 150.0).epsilon(2e-3));
  const double weighed = r.integral(
      50.0,
      200.0,
      [&](double) { return m.surface.cast<std::complex<double>>(); },
      [](double f, double) { return f * f; });
  CHECK(weighed == Approx(squared).epsilon(3e-3));
  const Eigen::VectorXd row = m.listen.row(0);
  double point = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double f = 50.0 + 150.0 * (i + 0.5) / steps;
    const Eigen::VectorXcd q = m.solve(f);
    point += std::pow(base::kTwoPi * f, 2) *
             std::norm((row.transpose().cast<std::complex<double>>() * q).value()) / steps;
  }
  CHECK(r.band_level_db(50.0, 200.0, row) == Approx(10.0 * std::log10(point / 1e-18)).margin(0.02));
}
