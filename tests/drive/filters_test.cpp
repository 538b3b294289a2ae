// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/filters.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "base/units.hpp"

using namespace calmplate;
using drive::FilterInput;
using drive::FilterSlope;
using drive::FilterType;

namespace {

constexpr double kCorner = 80.0;

FilterInput low_pass(int order, FilterType type) {
  FilterInput f;
  f.low_pass = FilterSlope{kCorner, order, type};
  return f;
}

FilterInput high_pass(int order, FilterType type) {
  FilterInput f;
  f.high_pass = FilterSlope{kCorner, order, type};
  return f;
}

double db(const FilterInput& filter, double freq_hz) {
  return base::to_db(std::norm(drive::filter_response(filter, freq_hz)));
}

std::string fault(const FilterInput& filter) {
  const auto f = drive::fault_of(filter);
  return f ? f->key + ": " + f->problem + "; allowed: " + f->allowed : "no fault";
}

}  // namespace

// Source: derived. The property that defines the filter: |H|^2 = 1/(1 + r^2n), r = f/fc for a
// low-pass, fc/f for a high-pass.
TEST_CASE("a Butterworth filter is as flat as its order allows", "[drive][derived]") {
  for (int n = 1; n <= 8; ++n)
    for (const double r : {0.01, 0.3, 0.9, 1.0, 1.1, 2.0, 10.0}) {
      CAPTURE(n, r);
      const double expected = 1.0 / (1.0 + std::pow(r, 2 * n));
      const auto low = drive::filter_response(low_pass(n, FilterType::butterworth), r * kCorner);
      const auto high = drive::filter_response(high_pass(n, FilterType::butterworth), kCorner / r);
      CHECK(std::norm(low) == Approx(expected).epsilon(1e-12));
      CHECK(std::norm(high) == Approx(expected).epsilon(1e-12));
    }
}

// Source: derived. The square of a Butterworth of half the order: |H| = 1/(1 + r^n).
TEST_CASE("a Linkwitz-Riley filter is a Butterworth twice", "[drive][derived]") {
  for (const int n : {2, 4, 8})
    for (const double r : {0.01, 0.3, 0.9, 1.0, 1.1, 2.0, 10.0}) {
      CAPTURE(n, r);
      const double expected = 1.0 / (1.0 + std::pow(r, n));
      const auto type = FilterType::linkwitz_riley;
      CHECK(std::abs(drive::filter_response(low_pass(n, type), r * kCorner)) ==
            Approx(expected).epsilon(1e-12));
      CHECK(std::abs(drive::filter_response(high_pass(n, type), kCorner / r)) ==
            Approx(expected).epsilon(1e-12));
    }
  for (const double f : {20.0, 80.0, 300.0})
    CHECK(drive::filter_response(low_pass(1, FilterType::linkwitz_riley), f) ==
          drive::filter_response(low_pass(1, FilterType::butterworth), f));
}

// Source: derived. 10 lg 1/2 and 20 lg 1/2 at the corner; far off, 20 lg 2 an octave and order.
TEST_CASE("corners lie at -3 and -6 dB, and slopes fall 6 dB an octave and order",
          "[drive][derived]") {
  for (int n = 1; n <= 8; ++n) {
    CAPTURE(n);
    const FilterInput low = low_pass(n, FilterType::butterworth);
    const FilterInput high = high_pass(n, FilterType::butterworth);
    CHECK(db(low, kCorner) == Approx(-3.0103).margin(1e-4));
    CHECK(db(high, kCorner) == Approx(-3.0103).margin(1e-4));
    CHECK(db(low, 64 * kCorner) - db(low, 32 * kCorner) == Approx(-6.0206 * n).margin(4e-3));
    CHECK(db(high, kCorner / 64) - db(high, kCorner / 32) == Approx(-6.0206 * n).margin(4e-3));
    if (n != 2 && n != 4 && n != 8) continue;
    const FilterInput twice = low_pass(n, FilterType::linkwitz_riley);
    CHECK(db(twice, kCorner) == Approx(-6.0206).margin(1e-4));
    CHECK(db(twice, 64 * kCorner) - db(twice, 32 * kCorner) == Approx(-6.0206 * n).margin(0.3));
  }
}

// Source: derived. Two halves of one Linkwitz-Riley crossover sum to an all-pass (order 4, 8; order
// 2 with one side turned over), and first-order halves sum to the input itself: what phase does.
TEST_CASE("low-pass and high-pass of one corner sum flat", "[drive][derived]") {
  for (const double f : {10.0, 60.0, 80.0, 111.0, 900.0}) {
    CAPTURE(f);
    const auto sum = [f](int n, FilterType type, double sign) {
      return drive::filter_response(low_pass(n, type), f) +
             sign * drive::filter_response(high_pass(n, type), f);
    };
    CHECK(std::abs(sum(4, FilterType::linkwitz_riley, 1.0)) == Approx(1.0).epsilon(1e-12));
    CHECK(std::abs(sum(8, FilterType::linkwitz_riley, 1.0)) == Approx(1.0).epsilon(1e-12));
    CHECK(std::abs(sum(2, FilterType::linkwitz_riley, -1.0)) == Approx(1.0).epsilon(1e-12));
    CHECK(std::abs(sum(1, FilterType::butterworth, 1.0) - 1.0) < 1e-13);
  }
}

// Source: derived. e^{+i w t}: a low-pass lags, a high-pass leads, by n times 45 degrees at the
// corner.
TEST_CASE("a low-pass lags and a high-pass leads", "[drive][derived]") {
  for (int n = 1; n <= 3; ++n) {
    CAPTURE(n);
    const double turn = n * base::kPi / 4.0;
    CHECK(std::arg(drive::filter_response(low_pass(n, FilterType::butterworth), kCorner)) ==
          Approx(-turn).epsilon(1e-12));
    CHECK(std::arg(drive::filter_response(high_pass(n, FilterType::butterworth), kCorner)) ==
          Approx(turn).epsilon(1e-12));
  }
}

// Source: derived. Filters in a row multiply; none is 1; a high-pass stops a steady voltage.
TEST_CASE("both sides multiply, and no filter changes nothing", "[drive][derived]") {
  FilterInput both;
  both.high_pass = FilterSlope{50.0, 3, FilterType::butterworth};
  both.low_pass = FilterSlope{200.0, 4, FilterType::linkwitz_riley};
  FilterInput low = both, high = both;
  low.high_pass.reset();
  high.low_pass.reset();
  for (const double f : {0.0, 40.0, 130.0, 1000.0}) {
    CHECK(std::abs(drive::filter_response(both, f) -
                   drive::filter_response(low, f) * drive::filter_response(high, f)) < 1e-14);
    CHECK(drive::filter_response(FilterInput(), f) == 1.0);
  }
  CHECK(drive::filter_response(both, 0.0) == 0.0);
  CHECK(std::abs(drive::filter_response(low, 0.0) - 1.0) < 1e-14);
}

// Source: practice: common practice, no source.
TEST_CASE("crossing filters and orders that do not exist are refused", "[drive][practice]") {
  FilterInput f;
  CHECK(fault(f) == "no fault");
  f.high_pass = FilterSlope{200.0, 2, FilterType::butterworth};
  f.low_pass = FilterSlope{100.0, 2, FilterType::butterworth};
  CHECK(fault(f) ==
        "high_pass_Hz: is 200 Hz, not below low_pass_Hz of 100 Hz: the filters cross; allowed: "
        "below low_pass_Hz");
  CHECK_THROWS_AS(drive::filter_response(f, 50.0), std::invalid_argument);
  f.high_pass->freq_hz = 100.0;
  CHECK(drive::fault_of(f)->key == "high_pass_Hz");
  f.high_pass->freq_hz = 99.0;
  CHECK(fault(f) == "no fault");
  f.high_pass->order = 9;
  CHECK(fault(f) == "high_pass_order: is 9; allowed: a whole number from 1 to 8");
  f.high_pass->order = 8;
  f.low_pass->order = 0;
  CHECK(fault(f) == "low_pass_order: is 0; allowed: a whole number from 1 to 8");
  f.low_pass = FilterSlope{300.0, 3, FilterType::linkwitz_riley};
  CHECK(fault(f) ==
        "low_pass_order: is 3, which a Linkwitz-Riley filter does not have; allowed: 1, 2, 4 or 8, "
        "or another low_pass_type");
  for (const double bad : {0.0, -5.0, std::numeric_limits<double>::quiet_NaN()}) {
    f.low_pass = FilterSlope{bad, 2, FilterType::butterworth};
    CHECK(drive::fault_of(f)->key == "low_pass_Hz");
  }
  for (const double bad : {-1.0, std::numeric_limits<double>::infinity()})
    CHECK_THROWS_AS(drive::filter_response(FilterInput(), bad), std::invalid_argument);
}
