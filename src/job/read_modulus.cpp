// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "job/read_sections.hpp"
#include "sheet/fractional_zener.hpp"
#include "sheet/table_modulus.hpp"

/// [sheet.modulus]: how a sheet's modulus changes with frequency and temperature.
namespace calmplate::job {
namespace {

constexpr Range kModulus{1e-5, 1e6};         // MPa
constexpr Range kTime{1e-20, 1e10};          // s
constexpr Range kExponent{0.01, 1.0};        // no unit
constexpr Range kTemperature{-60.0, 150.0};  // degrees C
constexpr Range kC1{0.0, 100.0};             // decades
constexpr Range kC2{10.0, 1000.0};           // K
constexpr Range kActivation{0.0, 1000.0};    // kJ/mol
constexpr Range kTableFrequency{1e-3, 1e6};  // Hz
constexpr Range kTableLoss{0.0, 10.0};       // no unit, as the table itself has it

using Kind = sheet::TemperatureShift::Kind;

sheet::TemperatureShift read_shift(TableReader& reader) {
  sheet::TemperatureShift shift;
  shift.kind = reader.choice_or<Kind>(
      "shift",
      {{"none", Kind::none}, {"wlf", Kind::wlf}, {"arrhenius", Kind::arrhenius}},
      Kind::none);
  if (shift.kind == Kind::none) return shift;
  shift.reference_k = reader.number_or("reference_C", kTemperature, 20.0);
  if (shift.kind == Kind::wlf) {
    shift.c1 = reader.number("wlf_c1", kC1);
    shift.c2_k = reader.number("wlf_c2_K", kC2);
  } else {
    shift.activation_j_mol = reader.number("activation_kJ_mol", kActivation);
  }
  return shift;
}

sheet::ModulusPtr read_fractional_zener(TableReader& reader) {
  sheet::FractionalZenerParameters p;
  p.low_pa = reader.number("low_MPa", kModulus);
  p.high_pa = reader.number("high_MPa", kModulus);
  if (p.high_pa < p.low_pa)
    reader.fail("high_MPa",
                "is " + plain_number(p.high_pa * 1e-6) + " MPa, below low_MPa",
                "low_MPa (" + plain_number(p.low_pa * 1e-6) + ") or more");
  p.time_s = reader.number("relaxation_time_s", kTime);
  p.exponent = reader.number("exponent", kExponent);
  p.shift = read_shift(reader);
  return std::make_shared<const sheet::FractionalZener>(p);
}

std::string celsius(double temp_k) { return plain_number(base::to_celsius(temp_k)); }

/// A measured point as the job's lists have it.
std::string in_words(const sheet::TableRow& row, int number) {
  return "row " + std::to_string(number) + " of its lists (" + plain_number(row.freq_hz) + " Hz, " +
         celsius(row.temp_k) + " degrees C, " + plain_number(row.modulus_pa * 1e-6) +
         " MPa, loss factor " + plain_number(row.loss_factor) + "): ";
}

/// The four lists side by side.
std::vector<sheet::TableRow> read_rows(TableReader& reader) {
  const std::vector<std::string> keys = {
      "frequency_Hz", "temperature_C", "modulus_MPa", "loss_factor"};
  const std::vector<Range> ranges = {kTableFrequency, kTemperature, kModulus, kTableLoss};
  std::vector<std::vector<double>> columns;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    columns.push_back(reader.numbers(keys[i], ranges[i]));
    if (columns[i].size() != columns[0].size())
      reader.fail(keys[i],
                  "has " + std::to_string(columns[i].size()) + " values, frequency_Hz has " +
                      std::to_string(columns[0].size()),
                  "lists of the same length, one value for each measured point");
  }
  if (columns[0].size() < 2)
    reader.fail(keys[0],
                "has one value",
                "two measured points or more; of a single one, modulus and loss factor stand in "
                "[[sheet]] itself");
  std::vector<sheet::TableRow> rows;
  for (std::size_t i = 0; i < columns[0].size(); ++i)
    rows.push_back({columns[0][i], columns[1][i], columns[2][i], columns[3][i]});
  return rows;
}

sheet::ModulusPtr read_table(TableReader& reader, SheetInput& input) {
  const std::vector<sheet::TableRow> rows = read_rows(reader);
  input.hold_outside = reader.choice_or<bool>("outside", {{"error", false}, {"hold", true}}, false);
  try {
    return std::make_shared<const sheet::TableModulus>(rows);
  } catch (const sheet::TableFault& fault) {
    const std::string row =
        fault.row < 0 ? "" : in_words(rows[static_cast<std::size_t>(fault.row)], fault.row + 1);
    throw base::InputError(reader.where(), row + fault.problem, fault.allowed);
  }
}

/// What a job asks of a sheet beyond its measured range, and the range.
struct Beyond {
  std::string asked, known;
};

std::vector<Beyond> beyond_limits(const drive::BandInput& band,
                                  double cold_k,
                                  double hot_k,
                                  const sheet::ModulusLimits& known) {
  constexpr double kTight = 1e-9, kTight_k = 1e-6;
  std::vector<Beyond> out;
  if (band.low_hz < known.low_hz * (1.0 - kTight) || band.high_hz > known.high_hz * (1.0 + kTight))
    out.push_back({"over the band from " + plain_number(band.low_hz) + " to " +
                       plain_number(band.high_hz) + " Hz",
                   plain_number(known.low_hz) + " to " + plain_number(known.high_hz) + " Hz"});
  if (cold_k < known.low_k - kTight_k || hot_k > known.high_k + kTight_k)
    out.push_back(
        {"at " + celsius(cold_k) + (hot_k > cold_k ? " to " + celsius(hot_k) : "") + " degrees C",
         celsius(known.low_k) + " to " + celsius(known.high_k) + " degrees C"});
  return out;
}

}  // namespace

sheet::ModulusPtr read_modulus(TableReader& sheet, SheetInput& input) {
  TableReader reader = sheet.required_section("modulus", keys::kModulus);
  enum class Model { fractional_zener, table };
  const Model model = reader.choice<Model>(
      "model", {{"fractional-zener", Model::fractional_zener}, {"table", Model::table}});
  sheet::ModulusPtr out =
      model == Model::table ? read_table(reader, input) : read_fractional_zener(reader);
  std::string condition = "model = \"" + reader.text("model") + "\"";
  if (model == Model::fractional_zener)
    condition +=
        reader.has("shift") ? " and shift = \"" + reader.text("shift") + "\"" : " without a shift";
  reader.finish(condition);
  input.modulus_where = reader.where();
  return out;
}

void check_sheet_limits(Job& job) {
  double cold = job.temperature_k, hot = job.temperature_k;
  for (const double temp_k : job.temperatures_k) {
    cold = std::min(cold, temp_k);
    hot = std::max(hot, temp_k);
  }
  if (job.unknowns.temperature_k) {
    cold = std::min(cold, job.unknowns.temperature_k->low);
    hot = std::max(hot, job.unknowns.temperature_k->high);
  }
  for (std::size_t i = 0; i < job.sheets.size(); ++i) {
    if (!job.sheets[i].core_modulus) continue;
    const sheet::ComplexModulus& modulus = *job.sheets[i].core_modulus;
    const SheetInput& input = job.sheet_inputs[i];
    const std::string sheet = "Sheet " + in_quotes(job.sheets[i].name);
    for (const Beyond& beyond : beyond_limits(job.band, cold, hot, modulus.limits())) {
      if (!input.hold_outside)
        throw base::InputError(input.modulus_where,
                               "was not measured " + beyond.asked,
                               beyond.known + ", or outside = \"hold\" to hold the nearest value");
      job.warnings.push_back(sheet + " was measured at " + beyond.known + " only; " + beyond.asked +
                             " the nearest value is held, a guess.");
    }
    const double middle_hz = std::sqrt(job.band.low_hz * job.band.high_hz);
    if (hot > cold && modulus.modulus(middle_hz, cold) == modulus.modulus(middle_hz, hot))
      job.warnings.push_back(sheet +
                             " is given the same modulus at all temperatures, which no sheet has: "
                             "its figures hold near the temperature of its data alone.");
  }
}

}  // namespace calmplate::job
