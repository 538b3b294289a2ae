// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/table_modulus.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

using namespace calmplate;
using sheet::TableModulus;
using sheet::TableRow;

namespace {

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// Invented: 10, 20 and 40 degrees C, each from and to other frequencies.
const std::vector<TableRow> kRows = {{100.0, 283.15, 4e6, 0.9},
                                     {400.0, 283.15, 8e6, 0.8},
                                     {50.0, 293.15, 1e6, 0.6},
                                     {200.0, 293.15, 2e6, 1.0},
                                     {800.0, 293.15, 4e6, 0.0},
                                     {100.0, 313.15, 5e5, 0.4},
                                     {900.0, 313.15, 5e5, 0.4}};

double loss(const TableModulus& m, double freq_hz, double temp_k) {
  const std::complex<double> g = m.modulus(freq_hz, temp_k);
  return g.imag() / g.real();
}

struct Fault {
  int row;
  std::string text;
};

/// What the table says to these rows; row -9 if it takes them.
Fault fault_of(const std::vector<TableRow>& rows) {
  try {
    const TableModulus taken(rows);
  } catch (const sheet::TableFault& f) {
    CHECK(std::string(f.what()).find(f.problem + "; allowed: " + f.allowed) != std::string::npos);
    CHECK(std::string(f.what()).find('\n') == std::string::npos);
    return {f.row, f.what()};
  }
  return {-9, ""};
}

void check_fault(const std::vector<TableRow>& rows, int row, const std::string& text) {
  CAPTURE(text);
  const Fault fault = fault_of(rows);
  CHECK(fault.row == row);
  CHECK_THAT(fault.text, Catch::Contains(text));
  if (row >= 0)
    CHECK_THAT(fault.text, Catch::StartsWith("table row " + std::to_string(row + 1) + ": "));
}

std::vector<TableRow> with(std::size_t i, const TableRow& row) {
  std::vector<TableRow> rows = kRows;
  rows[i] = row;
  return rows;
}

}  // namespace

TEST_CASE("a table gives its own points back", "[sheet]") {
  const TableModulus m(kRows);
  for (const TableRow& r : kRows) {
    CHECK(m.modulus(r.freq_hz, r.temp_k).real() == Approx(r.modulus_pa).epsilon(1e-14));
    CHECK(loss(m, r.freq_hz, r.temp_k) == Approx(r.loss_factor).margin(1e-14));
  }
  CHECK_FALSE(m.constant());
  CHECK(m.rows().size() == kRows.size());
}

// Source: derived, by hand: middle of a straight line over log f, over T.
TEST_CASE("a table runs straight over log frequency, then over temperature", "[sheet][derived]") {
  const TableModulus m(kRows);
  CHECK(m.modulus(100.0, 293.15).real() == Approx(std::sqrt(1e6 * 2e6)).epsilon(1e-12));
  CHECK(loss(m, 100.0, 293.15) == Approx(0.8).epsilon(1e-12));
  CHECK(m.modulus(400.0, 293.15).real() == Approx(std::sqrt(2e6 * 4e6)).epsilon(1e-12));
  CHECK(loss(m, 400.0, 293.15) == Approx(0.5).epsilon(1e-12));
  // 200 Hz at 10 C: sqrt(4 8) MPa and 0.85; at 20 C: 2 MPa and 1.0; 12.5 C is a quarter of the way.
  CHECK(m.modulus(200.0, 285.65).real() ==
        Approx(std::pow(std::sqrt(32e12), 0.75) * std::pow(2e6, 0.25)).epsilon(1e-12));
  CHECK(loss(m, 200.0, 285.65) == Approx(0.75 * 0.85 + 0.25 * 1.0).epsilon(1e-12));
}

TEST_CASE("outside its range a table holds the value of the edge", "[sheet]") {
  const TableModulus m(kRows);
  CHECK(m.modulus(1e-3, 293.15) == m.modulus(50.0, 293.15));
  CHECK(m.modulus(1e6, 293.15) == m.modulus(800.0, 293.15));
  CHECK(m.modulus(250.0, 200.0) == m.modulus(250.0, 283.15));
  CHECK(m.modulus(250.0, 500.0) == m.modulus(250.0, 313.15));
  CHECK(m.modulus(1e9, 1.0) == m.modulus(400.0, 283.15));
}

TEST_CASE("a table states where it was measured at every temperature", "[sheet]") {
  const sheet::ModulusLimits all = TableModulus(kRows).limits();
  CHECK(all.low_hz == 100.0);
  CHECK(all.high_hz == 400.0);
  CHECK(all.low_k == 283.15);
  CHECK(all.high_k == 313.15);
  // A datasheet's one frequency at three temperatures.
  const TableModulus one({{200.0, 273.15, 6e6, 0.9}, {200.0, 293.15, 2e6, 1.0}});
  CHECK(one.limits().low_hz == 200.0);
  CHECK(one.limits().high_hz == 200.0);
  CHECK(one.modulus(50.0, 283.15).real() == Approx(std::sqrt(12e12)).epsilon(1e-12));
}

TEST_CASE("a table never gives energy, inside and far outside its range", "[sheet]") {
  const TableModulus m(kRows);
  for (double f = 1e-6; f < 1e9; f *= 1.3)
    for (const double k : {100.0, 283.15, 288.0, 293.15, 293.16, 300.0, 313.15, 700.0}) {
      const std::complex<double> g = m.modulus(f, k);
      REQUIRE(std::isfinite(g.real()));
      REQUIRE(g.real() >= 5e5 * (1.0 - 1e-12));
      REQUIRE(g.real() <= 8e6 * (1.0 + 1e-12));
      REQUIRE(g.imag() >= 0.0);
    }
}

TEST_CASE("a table out of order or with a point twice is refused, by row", "[sheet]") {
  check_fault(with(1, {90.0, 283.15, 8e6, 0.8}), 1, "90 Hz comes after 100 Hz at 10 degrees C");
  check_fault(with(3, {50.0, 293.15, 2e6, 1.0}), 3, "50 Hz at 20 degrees C is given twice");
  check_fault(with(5, {100.0, 273.15, 5e5, 0.4}), 5, "0 degrees C comes after 20 degrees C");
}

TEST_CASE("a number that no table may hold is refused, by row", "[sheet]") {
  check_fault(with(2, {50.0, 293.15, 1e6, -0.1}), 2, "loss factor is -0.1");
  check_fault(with(2, {50.0, 293.15, 1e6, 60.0}), 2, "not a percentage");
  check_fault(with(2, {50.0, 293.15, 1e6, kNaN}), 2, "loss factor is ");
  for (const double bad : {0.0, -2e6, kNaN, kInfinite}) {
    check_fault(with(3, {200.0, 293.15, bad, 1.0}), 3, "modulus is ");
    check_fault(with(0, {bad, 283.15, 4e6, 0.9}), 0, "frequency is ");
  }
  for (const double bad : {20.0, -5.0, 0.0, 1000.0, kNaN, kInfinite})
    check_fault(with(6, {900.0, bad, 5e5, 0.4}), 6, "allowed: 150 to 600 K");
}

TEST_CASE("a table of mixed units is refused at the row where they change", "[sheet]") {
  check_fault(with(1, {400.0, 283.15, 8.0, 0.8}), 1, "the same unit in every row");
  check_fault(with(3, {200.0, 293.15, 2e9, 1.0}), 3, "the same unit in every row");
  // Scatter of a measurement is no fault.
  CHECK(fault_of(with(3, {200.0, 293.15, 7e5, 1.0})).row == -9);
}

TEST_CASE("a table too small, or without a common frequency, is refused", "[sheet]") {
  check_fault({}, -1, "table: has 0 rows");
  check_fault({kRows[0]}, -1, "table: has 1 row;");
  std::vector<TableRow> apart = {{100.0, 283.15, 4e6, 0.9},
                                 {200.0, 283.15, 5e6, 0.9},
                                 {201.0, 293.15, 2e6, 1.0},
                                 {400.0, 293.15, 3e6, 1.0}};
  check_fault(apart, 2, "frequencies at 20 degrees C (201 to 400 Hz) do not overlap");
  apart[2].freq_hz = 200.0;
  CHECK(fault_of(apart).row == -9);
  // Each overlaps its neighbour, but no frequency is measured throughout.
  apart.push_back({300.0, 303.15, 1e6, 1.0});
  check_fault(apart, 4, "allowed: at least one frequency within the range of every temperature");
}

TEST_CASE("a table refuses to be asked outside of physics", "[sheet]") {
  const TableModulus m(kRows);
  for (const double bad : {0.0, -1.0, kNaN, kInfinite}) {
    CHECK_THROWS_AS(m.modulus(bad, 293.15), std::invalid_argument);
    CHECK_THROWS_AS(m.modulus(100.0, bad), std::invalid_argument);
  }
}
