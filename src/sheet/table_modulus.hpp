// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <stdexcept>
#include <string>
#include <vector>

#include "sheet/complex_modulus.hpp"

namespace calmplate::sheet {

/// One measured point.
struct TableRow {
  double freq_hz = 0.0;      ///< Hz, above 0
  double temp_k = 0.0;       ///< K, 150 to 600
  double modulus_pa = 0.0;   ///< storage modulus, Pa, above 0
  double loss_factor = 0.0;  ///< no unit, 0 to 10
};

/// A table that cannot be used. what() is one line: row (counted from 1), problem, what is allowed.
class TableFault : public std::invalid_argument {
 public:
  TableFault(int row, const std::string& problem, const std::string& allowed);

  int row;              ///< counted from 0; -1: the table as a whole
  std::string problem;  ///< what was found, with its value: "loss factor is -0.1"
  std::string allowed;  ///< what would have been accepted: "0 to 10"
};

/// A modulus measured at several frequencies and temperatures.
///
/// Between frequencies of one temperature the logarithm of the storage modulus, and the loss factor
/// itself, run straight over log f; between temperatures the results run straight over T. So the
/// table's own points are met, the modulus stays above 0 and the loss factor at or above 0.
/// Outside what was measured the value of the nearest edge is held, because the solver asks far
/// outside the band; limits() says where that begins.
class TableModulus final : public ComplexModulus {
 public:
  /// @param rows  sorted by temperature, then by frequency, both rising; rows of one temperature
  ///              have exactly the same temp_k. At least two rows.
  /// @throws TableFault at the first row that is out of order, a duplicate, not finite or out of
  ///         range, or that jumps against its neighbour so far that units must be mixed
  ///         (over 30 (f2/f1)^2 times up or 30 times down); for the whole table, if it has fewer
  ///         than two rows, or if no frequency is measured at every temperature
  explicit TableModulus(std::vector<TableRow> rows);

  std::complex<double> modulus(double freq_hz, double temp_k) const override;
  bool constant() const noexcept override { return false; }

  /// Frequencies measured at every temperature (low_hz = high_hz if there is only one), and the
  /// lowest and highest temperature.
  ModulusLimits limits() const override { return limits_; }

  const std::vector<TableRow>& rows() const noexcept { return rows_; }

 private:
  struct Isotherm {
    double temp_k;
    std::size_t first, end;  // rows [first, end)
  };

  std::vector<TableRow> rows_;
  std::vector<Isotherm> isotherms_;
  ModulusLimits limits_;
};

}  // namespace calmplate::sheet
