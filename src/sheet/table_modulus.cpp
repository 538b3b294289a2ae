// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/table_modulus.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <utility>

#include "base/units.hpp"

namespace calmplate::sheet {
namespace {

constexpr double kColdestTable = 150.0, kHottestTable = 600.0;  // K
constexpr double kMostLoss = 10.0;
// Between neighbouring frequencies a passive material cannot rise faster than f^2, nor fall; the
// factor leaves room for scatter, but not for a prefix of units.
// Source: [derived] storage modulus of a sum of Maxwell elements; factor common practice, no
// source.
constexpr double kScatter = 30.0;

std::string text(double x) {
  char buffer[32];
  std::snprintf(buffer, sizeof buffer, "%.6g", x);
  return buffer;
}

std::string celsius(double temp_k) { return text(base::to_celsius(temp_k)) + " degrees C"; }

void check_numbers(const TableRow& r, int row) {
  const auto refuse = [row](const std::string& what,
                            double value,
                            const std::string& unit,
                            const std::string& allowed) {
    throw TableFault(row, what + " is " + text(value) + unit, allowed);
  };
  if (!(r.freq_hz > 0.0) || !std::isfinite(r.freq_hz))
    refuse("frequency", r.freq_hz, " Hz", "finite, above 0 Hz");
  if (!(r.temp_k >= kColdestTable && r.temp_k <= kHottestTable))
    refuse("temperature", r.temp_k, " K", "150 to 600 K (-123 to 327 degrees C)");
  if (!(r.modulus_pa > 0.0) || !std::isfinite(r.modulus_pa))
    refuse("modulus", r.modulus_pa, " Pa", "finite, above 0 Pa");
  if (!(r.loss_factor >= 0.0 && r.loss_factor <= kMostLoss))
    refuse("loss factor", r.loss_factor, "", "0 to 10, a number and not a percentage");
}

/// A row against the one before it.
void check_order(const TableRow& before, const TableRow& now, int row) {
  if (now.temp_k < before.temp_k)
    throw TableFault(
        row,
        "temperature " + celsius(now.temp_k) + " comes after " + celsius(before.temp_k),
        "rows sorted by temperature, then by frequency, both rising");
  if (now.temp_k > before.temp_k) return;
  if (now.freq_hz == before.freq_hz)
    throw TableFault(row,
                     text(now.freq_hz) + " Hz at " + celsius(now.temp_k) + " is given twice",
                     "one row for each frequency and temperature");
  if (now.freq_hz < before.freq_hz)
    throw TableFault(row,
                     text(now.freq_hz) + " Hz comes after " + text(before.freq_hz) + " Hz at " +
                         celsius(now.temp_k),
                     "rows sorted by temperature, then by frequency, both rising");
  const double rise = now.freq_hz / before.freq_hz, jump = now.modulus_pa / before.modulus_pa;
  if (jump > kScatter * rise * rise || jump < 1.0 / kScatter)
    throw TableFault(row,
                     "modulus goes from " + text(before.modulus_pa) + " Pa at " +
                         text(before.freq_hz) + " Hz to " + text(now.modulus_pa) + " Pa at " +
                         text(now.freq_hz) + " Hz",
                     "the same unit in every row; up to 30 (f2/f1)^2 times up, 30 times down");
}

struct Point {
  double log_modulus, loss;
};

Point between(const Point& a, const Point& b, double t) {
  return {(1.0 - t) * a.log_modulus + t * b.log_modulus, (1.0 - t) * a.loss + t * b.loss};
}

Point point(const TableRow& r) { return {std::log(r.modulus_pa), r.loss_factor}; }

/// Along one isotherm, edges held. The rows are [first, end) and rise in frequency.
Point along(const TableRow* first, const TableRow* end, double freq_hz) {
  const TableRow* above = std::upper_bound(
      first, end, freq_hz, [](double f, const TableRow& r) { return f < r.freq_hz; });
  if (above == first) return point(*first);
  if (above == end) return point(*(end - 1));
  const TableRow* below = above - 1;
  return between(point(*below),
                 point(*above),
                 std::log(freq_hz / below->freq_hz) / std::log(above->freq_hz / below->freq_hz));
}

}  // namespace

TableFault::TableFault(int row_, const std::string& problem_, const std::string& allowed_)
    : std::invalid_argument(
          (row_ < 0 ? std::string("table: ") : "table row " + std::to_string(row_ + 1) + ": ") +
          problem_ + "; allowed: " + allowed_),
      row(row_),
      problem(problem_),
      allowed(allowed_) {}

TableModulus::TableModulus(std::vector<TableRow> rows) : rows_(std::move(rows)) {
  if (rows_.size() < 2)
    throw TableFault(-1,
                     "has " + std::to_string(rows_.size()) + (rows_.size() == 1 ? " row" : " rows"),
                     "two rows or more; for one value give a constant modulus");
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    check_numbers(rows_[i], static_cast<int>(i));
    if (i > 0) check_order(rows_[i - 1], rows_[i], static_cast<int>(i));
    if (i == 0 || rows_[i].temp_k != rows_[i - 1].temp_k)
      isotherms_.push_back({rows_[i].temp_k, i, i});
    isotherms_.back().end = i + 1;
  }
  limits_.low_k = rows_.front().temp_k;
  limits_.high_k = rows_.back().temp_k;
  std::size_t narrowing = 0;  // the isotherm that leaves no common frequency
  for (std::size_t k = 0; k < isotherms_.size(); ++k) {
    limits_.low_hz = std::max(limits_.low_hz, rows_[isotherms_[k].first].freq_hz);
    limits_.high_hz = std::min(limits_.high_hz, rows_[isotherms_[k].end - 1].freq_hz);
    if (limits_.low_hz > limits_.high_hz && narrowing == 0) narrowing = k;
  }
  if (narrowing > 0) {
    const Isotherm& here = isotherms_[narrowing];
    throw TableFault(
        static_cast<int>(here.first),
        "frequencies at " + celsius(here.temp_k) + " (" + text(rows_[here.first].freq_hz) + " to " +
            text(rows_[here.end - 1].freq_hz) + " Hz) do not overlap those of the colder rows",
        "at least one frequency within the range of every temperature");
  }
}

std::complex<double> TableModulus::modulus(double freq_hz, double temp_k) const {
  if (!(freq_hz > 0.0) || !std::isfinite(freq_hz))
    throw std::invalid_argument("TableModulus: freq_hz must be finite and above 0");
  if (!(temp_k > 0.0) || !std::isfinite(temp_k))
    throw std::invalid_argument("TableModulus: temp_k must be finite and above 0");
  const auto at = [&](const Isotherm& i) {
    return along(rows_.data() + i.first, rows_.data() + i.end, freq_hz);
  };
  const auto above = std::upper_bound(
      isotherms_.begin(), isotherms_.end(), temp_k, [](double t, const Isotherm& i) {
        return t < i.temp_k;
      });
  Point p;
  if (above == isotherms_.begin()) {
    p = at(isotherms_.front());
  } else if (above == isotherms_.end()) {
    p = at(isotherms_.back());
  } else {
    const Isotherm &cold = *(above - 1), &warm = *above;
    p = between(at(cold), at(warm), (temp_k - cold.temp_k) / (warm.temp_k - cold.temp_k));
  }
  const double storage_pa = std::exp(p.log_modulus);
  return {storage_pa, storage_pa * p.loss};
}

}  // namespace calmplate::sheet
