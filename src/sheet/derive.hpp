// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sheet/bar_test.hpp"
#include "sheet/fractional_zener.hpp"

namespace calmplate::sheet {

/// How well the rows were read, and what the fit may use.
struct FitOptions {
  double loss_error = 0.05;   ///< one standard deviation of a composite loss, relative
  double ratio_error = 0.01;  ///< of a frequency ratio, relative
  TemperatureShift::Kind shift = TemperatureShift::Kind::wlf;  ///< or arrhenius
};

/// Whether the rows or the assumptions decide a parameter, by how far they narrow the standard
/// deviation that was assumed for it.
enum class Knowledge {
  fitted,  ///< to less than half, even with the other assumptions ten times as wide
  weak,  ///< to less than nine tenths, but for the rest only with the other assumptions as they are
  assumed  ///< hardly or not at all
};

struct FitParameter {
  std::string key;  ///< low_Pa, high_Pa, relaxation_time_s, exponent, reference_K, wlf_c1,
                    ///< wlf_c2_K or activation_J_mol
  double value = 0.0;
  double low = 0.0, high = 0.0;                  ///< one standard deviation down and up
  double assumed = 0.0;                          ///< middle of the assumption
  double assumed_low = 0.0, assumed_high = 0.0;  ///< one standard deviation of it; equal: fixed
  Knowledge knowledge = Knowledge::assumed;
};

/// The fitted material at one frequency and temperature.
struct Prediction {
  double freq_hz = 0.0, temp_k = 0.0;
  double modulus_pa = 0.0;
  double modulus_factor = 1.0;  ///< one standard deviation, as a factor up or down
  double loss_factor = 0.0;
  double loss_deviation = 0.0;  ///< one standard deviation
};

struct FitRow {
  bool used = false;
  BarAnswer answer;             ///< of the fitted material
  double loss_residual = 0.0;   ///< fitted over read - 1
  double ratio_residual = 0.0;  ///< fitted over read - 1; NaN if no ratio was read
  Prediction material;
};

/// One material for all rows.
struct Fit {
  FractionalZenerParameters parameters;
  std::vector<FitParameter> list;
  std::vector<FitRow> rows;      ///< [n_row] as the rows given
  std::vector<Prediction> door;  ///< at 100 Hz and 0, 20, 40 degrees C
  double scatter = 1.0;          ///< rows scatter this much more than read errors explain; >= 1
  int used = 0;                  ///< rows used
  bool one_temperature = false;  ///< of all used rows
  std::string assumption;        ///< name of the generic sheet that the assumptions are taken from
  /// Another material, over 25 % off in modulus at the first used row, that explains the rows
  /// nearly as well; nothing if there is none.
  std::optional<FractionalZenerParameters> other;
  Prediction other_at;  ///< modulus and loss factor of `other` at the first used row
};

struct Derivation {
  std::vector<RowResult> rows;  ///< [n_row] each by itself
  std::optional<Fit> fit;       ///< nothing if no row can be used: all are first modes
};

/// Each row by itself, then one fractional Zener material for all rows by least squares:
///
///   sum over rows of (ln(loss fitted/read) / loss_error)^2, and of the same for ratios that are
///   known, + sum over parameters of ((u - u0) / s)^2
///
/// The second sum holds what the rows do not determine to the first generic sheet of the kind on
/// the shelf: u and s are the logarithm of low modulus (factor 10), of high/low - 1 (factor 5), of
/// the relaxation time (factor 100), of exponent / (1 - exponent) (0.4) and of C1 (0.25) or of the
/// activation energy (0.35); the reference is 20 degrees C, C2 stays fixed. Standard deviations are
/// those of the least-squares covariance, with the errors of reading raised first if the rows
/// scatter more than they say. Several starts over relaxation time and modulus: one loss factor
/// has a stiff and a soft core for its cause.
///
/// First modes of a cantilever are left out. The same rows give the same result, bit for bit.
///
/// @param rows  [n_row], n_row >= 1
/// @throws std::invalid_argument if the test, a row or an option is out of range, or there is none
/// @throws std::runtime_error if the fit does not settle
Derivation derive(const BarTest& test,
                  const std::vector<BarTestRow>& rows,
                  const FitOptions& options = {});

}  // namespace calmplate::sheet
