// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <complex>
#include <optional>
#include <string>
#include <vector>

#include "job/job.hpp"
#include "sheet/coated_bar.hpp"
#include "sheet/shelf.hpp"
#include "sheet/temperature_shift.hpp"

namespace calmplate::report {

constexpr const char* kShelf = "shelf";

/// A sheet with what is known about where its numbers come from.
struct ListedSheet {
  sheet::Sheet sheet;
  std::string what;  ///< one sentence
  std::string from;  ///< kShelf, or the job file's name
  std::vector<sheet::ShelfParameter> parameters;
  bool thickness_known = true;  ///< a job's mass layer is known by its mass alone
};

/// The built-in sheets, in the shelf's order.
/// @param currency  in which their prices are meant
std::vector<ListedSheet> shelf_sheets(const std::string& currency);

/// The sheets of a job, in its order. Every number's source is the job file, or the shelf's own for
/// what the job takes from there unchanged.
std::vector<ListedSheet> job_sheets(const job::Job& job);

/// As a job file names it: "constrained", "free-layer", "mass".
std::string kind_word(sheet::Kind kind);

/// "shear modulus" of a core, "Young's modulus" of a free layer; empty for mass.
std::string modulus_name(const sheet::Sheet& sheet);

/// The whole sheet's thickness, m; nothing for a job's mass layer, which is known by its mass
/// alone.
std::optional<double> thickness_m(const ListedSheet& listed);

/// Price by area, by the whole stock sheet; nothing if price or size is not given.
std::optional<double> price_per_m2(const sheet::Sheet& sheet);

/// Where bars are compared: steel without a loss of its own.
constexpr double kBarFreqHz = 200.0;
constexpr double kThinBarM = 0.8e-3;
constexpr double kThickBarM = 1.0e-3;
sheet::Material bar_steel();

/// What a list of sheets shows: the bar of kThinBarM at kBarFreqHz, cold, mild and warm.
const std::vector<double>& list_temperatures_c();
sheet::CoatedBar list_bar(const sheet::Sheet& sheet, double temperature_c);

/// Modulus over frequency at one temperature.
struct ModulusOverFrequency {
  double temp_k = 0.0;
  std::vector<std::complex<double>> modulus_pa;  ///< [n_freq]
};

/// A modulus with a temperature shift over reduced frequency f a_T, at the reference temperature.
struct ModulusOverReducedFrequency {
  sheet::TemperatureShift shift;
  std::vector<double> reduced_hz;                ///< [n] Hz, ascending
  std::vector<std::complex<double>> modulus_pa;  ///< [n]
  std::vector<double> isotherm_k;                ///< temperatures worth a line
};

/// Composite loss factor of one bar over temperature.
struct BarOverTemperature {
  double thickness_m = 0.0;
  std::vector<sheet::CoatedBar> at;  ///< [n_temperature]
  std::size_t peak = 0;              ///< number of the highest loss factor
  bool peak_inside = true;           ///< false: it stands at an end of the range
};

/// What one sheet does, over frequency and over temperature.
struct SheetFigures {
  std::vector<double> freq_hz;               ///< [n_freq] 10 to 1000 Hz
  std::vector<ModulusOverFrequency> moduli;  ///< one a temperature; empty for mass
  std::optional<ModulusOverReducedFrequency> reduced;
  std::vector<double> bar_temp_k;  ///< [n_temperature] -20 to 80 C by 1 K
  std::vector<BarOverTemperature> bars;
};

/// @param temps_k  K, ascending; of the curves over frequency
SheetFigures sheet_figures(const sheet::Sheet& sheet, const std::vector<double>& temps_k);

/// "measured from 50 to 500 Hz and from -10 to 40 C; beyond, the nearest value is held", or empty
/// for a modulus without limits.
std::string range_text(const sheet::Sheet& sheet);

}  // namespace calmplate::report
