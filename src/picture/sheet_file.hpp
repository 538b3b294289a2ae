// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace calmplate::picture {

/// What a picture needs of sheet.json (schema "calmplate-sheet", version 1), in the file's own
/// units, which are those of the drawing. A figure that the file gives as null is NaN.

/// Modulus and loss factor over frequency at one temperature.
struct ModulusCurve {
  double temperature_c = 0.0;
  std::vector<double> modulus_mpa;  ///< [n_freq]
  std::vector<double> loss_factor;  ///< [n_freq]
};

struct Isotherm {
  double temperature_c = 0.0;
  double shift_factor = 1.0;  ///< reduced frequency over frequency
};

/// Modulus and loss factor over reduced frequency, for a modulus with a temperature shift.
struct ReducedFrequency {
  std::string shift_text;
  double reference_c = 0.0;
  std::vector<double> reduced_hz;   ///< [n] ascending
  std::vector<double> modulus_mpa;  ///< [n]
  std::vector<double> loss_factor;  ///< [n]
  std::vector<Isotherm> isotherms;
  double example_hz = 0.0;  ///< the worked reading
  Isotherm example;
  double example_mpa = 0.0;
  double example_loss = 0.0;
};

/// Composite loss factor of one coated bar over temperature.
struct BarCurve {
  double thickness_mm = 0.0;
  std::vector<double> loss_factor;  ///< [n_temperature]
  double peak_c = 0.0;
  double peak_loss = 0.0;
  bool peak_inside = true;  ///< false: the highest value stands at an end of the range
};

struct CoatedBars {
  double freq_hz = 0.0;
  std::string material;
  std::vector<double> temperature_c;  ///< [n_temperature] ascending
  std::vector<BarCurve> bars;
};

struct SheetFile {
  std::string name;
  std::string what;
  std::string kind;
  double thickness_mm = 0.0;  ///< NaN if it is not known
  double mass_kg_m2 = 0.0;
  double price_per_m2 = 0.0;  ///< NaN if none is given
  std::string currency;
  std::string modulus_name;  ///< such as "shear modulus"; empty: the sheet has no modulus
  std::string range_text;    ///< where the modulus is known; empty: everywhere
  bool constant = false;     ///< the modulus is one figure for all frequencies and temperatures
  std::vector<double> freq_hz;
  std::vector<ModulusCurve> curves;
  std::optional<ReducedFrequency> reduced;
  std::optional<CoatedBars> bars;
};

/// Reads sheet.json of a folder that `calmplate sheet show` wrote.
/// @throws base::InputError naming file, key, what is wrong and what is allowed
SheetFile read_sheet_file(const std::filesystem::path& file);

}  // namespace calmplate::picture
