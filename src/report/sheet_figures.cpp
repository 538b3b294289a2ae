// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sheet_figures.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/units.hpp"
#include "sheet/fractional_zener.hpp"
#include "sheet/table_modulus.hpp"

namespace calmplate::report {
namespace {

constexpr double kLowHz = 10.0, kHighHz = 1000.0;
constexpr int kLowC = -20, kHighC = 80;

std::string text(double value) {
  char digits[32];
  std::snprintf(digits, sizeof digits, "%.9g", value);
  return digits;
}

/// Writes down the numbers of a sheet that stands in a job.
class Parameters {
 public:
  explicit Parameters(const std::string& source) : source_(source) {}

  void add(const std::string& key, double value, const std::string& unit) {
    list_.push_back({key, text(value), unit, source_});
  }
  void add_words(const std::string& key, const std::string& words) {
    list_.push_back({key, words, "", source_});
  }
  std::vector<sheet::ShelfParameter> take() { return std::move(list_); }

 private:
  std::string source_;
  std::vector<sheet::ShelfParameter> list_;
};

void add_shift(Parameters& out, const sheet::TemperatureShift& shift) {
  if (shift.kind == sheet::TemperatureShift::Kind::wlf) {
    out.add("wlf_reference", base::to_celsius(shift.reference_k), "C");
    out.add("wlf_c1", shift.c1, "");
    out.add("wlf_c2", shift.c2_k, "K");
  }
  if (shift.kind == sheet::TemperatureShift::Kind::arrhenius) {
    out.add("arrhenius_reference", base::to_celsius(shift.reference_k), "C");
    out.add("activation_energy", 1e-3 * shift.activation_j_mol, "kJ/mol");
  }
}

void add_modulus(Parameters& out, const sheet::Sheet& s) {
  const sheet::ComplexModulus* modulus = s.core_modulus.get();
  if (const auto* zener = dynamic_cast<const sheet::FractionalZener*>(modulus)) {
    out.add("low_modulus", 1e-6 * zener->parameters().low_pa, "MPa");
    out.add("high_modulus", 1e-6 * zener->parameters().high_pa, "MPa");
    out.add("relaxation_time", zener->parameters().time_s, "s");
    out.add("exponent", zener->parameters().exponent, "");
    add_shift(out, zener->parameters().shift);
  } else if (const auto* table = dynamic_cast<const sheet::TableModulus*>(modulus)) {
    out.add_words("table", std::to_string(table->rows().size()) + " rows");
  } else if (modulus != nullptr) {
    const std::complex<double> g = modulus->modulus(kBarFreqHz, base::from_celsius(20.0));
    const bool core = s.kind == sheet::Kind::constrained;
    out.add(core ? "core_shear" : "young", 1e-6 * g.real(), "MPa");
    out.add(core ? "core_loss_factor" : "loss_factor", g.imag() / g.real(), "");
  }
}

std::vector<sheet::ShelfParameter> parameters_of(const sheet::Sheet& s,
                                                 const std::string& source,
                                                 const std::string& currency) {
  Parameters out(source);
  if (s.kind == sheet::Kind::constrained) {
    out.add("core_thickness", base::to_mm(s.core_thickness_m), "mm");
    out.add("core_density", s.core_density, "kg/m3");
    out.add("foil_thickness", base::to_mm(s.foil_thickness_m), "mm");
    out.add("foil_young", 1e-9 * s.foil.young_pa, "GPa");
    out.add("foil_poisson", s.foil.poisson, "");
    out.add("foil_density", s.foil.density, "kg/m3");
  } else if (s.kind == sheet::Kind::free_layer) {
    out.add("thickness", base::to_mm(s.core_thickness_m), "mm");
    out.add("density", s.core_density, "kg/m3");
    out.add("poisson", s.core_poisson, "");
  } else {
    out.add("mass", s.mass_per_area(), "kg/m2");
  }
  add_modulus(out, s);
  if (s.price_per_sheet > 0.0) out.add("price_per_sheet", s.price_per_sheet, currency);
  if (s.stock_width_m > 0.0) out.add("stock_width", base::to_mm(s.stock_width_m), "mm");
  if (s.stock_length_m > 0.0) out.add("stock_length", base::to_mm(s.stock_length_m), "mm");
  return out.take();
}

/// Nominal one-third octaves from 10 to 1000 Hz and a frequency between each two.
std::vector<double> curve_frequencies() {
  std::vector<double> nominal;
  for (const double decade : {10.0, 100.0})
    for (const double f : {1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0})
      nominal.push_back(decade * f);
  nominal.push_back(kHighHz);
  std::vector<double> all;
  for (std::size_t k = 0; k + 1 < nominal.size(); ++k) {
    all.push_back(nominal[k]);
    all.push_back(std::sqrt(nominal[k] * nominal[k + 1]));
  }
  all.push_back(nominal.back());
  return all;
}

ModulusOverReducedFrequency over_reduced(const sheet::FractionalZener& zener) {
  ModulusOverReducedFrequency out;
  out.shift = zener.parameters().shift;
  double low = std::log10(kLowHz), high = std::log10(kHighHz);
  for (int c = kLowC; c <= kHighC; c += 10) {
    out.isotherm_k.push_back(base::from_celsius(c));
    const double factor = out.shift.log10_factor(out.isotherm_k.back());
    low = std::min(low, std::log10(kLowHz) + factor);
    high = std::max(high, std::log10(kHighHz) + factor);
  }
  constexpr double kPerDecade = 12.0;
  const auto first = std::lround(std::floor(low * kPerDecade));
  const auto last = std::lround(std::ceil(high * kPerDecade));
  for (long k = first; k <= last; ++k) {
    out.reduced_hz.push_back(std::pow(10.0, double(k) / kPerDecade));
    out.modulus_pa.push_back(zener.modulus(out.reduced_hz.back(), out.shift.reference_k));
  }
  return out;
}

BarOverTemperature over_temperature(const sheet::Sheet& s,
                                    double thickness_m,
                                    const std::vector<double>& temps_k) {
  BarOverTemperature out;
  out.thickness_m = thickness_m;
  for (const double temp_k : temps_k)
    out.at.push_back(sheet::coated_bar(s, bar_steel(), thickness_m, kBarFreqHz, temp_k));
  for (std::size_t k = 1; k < out.at.size(); ++k)
    if (out.at[k].loss_factor > out.at[out.peak].loss_factor) out.peak = k;
  out.peak_inside = out.peak > 0 && out.peak + 1 < out.at.size();
  return out;
}

}  // namespace

std::vector<ListedSheet> shelf_sheets(const std::string& currency) {
  std::vector<ListedSheet> out;
  for (const sheet::ShelfEntry& entry : sheet::shelf()) {
    out.push_back({entry.sheet, entry.what, kShelf, entry.parameters, true});
    for (sheet::ShelfParameter& p : out.back().parameters)
      if (p.key == "price_per_sheet") p.unit = currency;
  }
  return out;
}

std::vector<ListedSheet> job_sheets(const job::Job& job) {
  const std::string file = job.file.filename().string();
  std::vector<ListedSheet> out;
  for (std::size_t k = 0; k < job.sheets.size(); ++k) {
    const sheet::Sheet& s = job.sheets[k];
    const sheet::ShelfEntry* entry = sheet::on_shelf(job.sheet_inputs[k].shelf);
    if (entry == nullptr) {
      out.push_back({s,
                     "As " + file + " describes it.",
                     file,
                     parameters_of(s, file, job.currency),
                     s.kind != sheet::Kind::mass});
      continue;
    }
    const std::string what = "\"" + entry->sheet.name + "\" of the shelf. " + entry->what;
    out.push_back({s, what, file, parameters_of(s, file, job.currency), true});
    for (sheet::ShelfParameter& p : out.back().parameters)
      for (const sheet::ShelfParameter& known : entry->parameters)
        if (known.key == p.key && known.value_text == p.value_text)
          p.source = "shelf; " + known.source;
  }
  return out;
}

std::string kind_word(sheet::Kind kind) {
  return kind == sheet::Kind::constrained  ? "constrained"
         : kind == sheet::Kind::free_layer ? "free-layer"
                                           : "mass";
}

std::string modulus_name(const sheet::Sheet& sheet) {
  if (!sheet.core_modulus || sheet.kind == sheet::Kind::mass) return "";
  return sheet.kind == sheet::Kind::constrained ? "shear modulus" : "Young's modulus";
}

std::optional<double> thickness_m(const ListedSheet& listed) {
  if (!listed.thickness_known) return std::nullopt;
  return listed.sheet.core_thickness_m + listed.sheet.foil_thickness_m;
}

std::optional<double> price_per_m2(const sheet::Sheet& sheet) {
  const double area = sheet.stock_width_m * sheet.stock_length_m;
  if (!(sheet.price_per_sheet > 0.0 && area > 0.0)) return std::nullopt;
  return sheet.price_per_sheet / area;
}

sheet::Material bar_steel() {
  sheet::Material steel;
  steel.name = "steel";
  return steel;
}

const std::vector<double>& list_temperatures_c() {
  static const std::vector<double> kTemperatures = {0.0, 20.0, 40.0};
  return kTemperatures;
}

sheet::CoatedBar list_bar(const sheet::Sheet& sheet, double temperature_c) {
  return sheet::coated_bar(
      sheet, bar_steel(), kThinBarM, kBarFreqHz, base::from_celsius(temperature_c));
}

SheetFigures sheet_figures(const sheet::Sheet& sheet, const std::vector<double>& temps_k) {
  SheetFigures out;
  out.freq_hz = curve_frequencies();
  if (!modulus_name(sheet).empty()) {
    for (const double temp_k : temps_k) {
      ModulusOverFrequency curve{temp_k, {}};
      for (const double f : out.freq_hz)
        curve.modulus_pa.push_back(sheet.core_modulus->modulus(f, temp_k));
      out.moduli.push_back(curve);
    }
    const auto* zener = dynamic_cast<const sheet::FractionalZener*>(sheet.core_modulus.get());
    if (zener != nullptr && zener->parameters().shift.kind != sheet::TemperatureShift::Kind::none)
      out.reduced = over_reduced(*zener);
  }
  for (int c = kLowC; c <= kHighC; ++c) out.bar_temp_k.push_back(base::from_celsius(c));
  for (const double thickness : {kThinBarM, kThickBarM})
    out.bars.push_back(over_temperature(sheet, thickness, out.bar_temp_k));
  return out;
}

std::string range_text(const sheet::Sheet& sheet) {
  if (modulus_name(sheet).empty()) return "";
  const sheet::ModulusLimits limits = sheet.core_modulus->limits();
  if (!std::isfinite(limits.high_hz) && !std::isfinite(limits.high_k)) return "";
  std::string out = "measured";
  if (std::isfinite(limits.high_hz))
    out += limits.low_hz == limits.high_hz
               ? " at " + text(limits.low_hz) + " Hz"
               : " from " + text(limits.low_hz) + " to " + text(limits.high_hz) + " Hz";
  if (std::isfinite(limits.high_k))
    out += limits.low_k == limits.high_k
               ? " at " + text(base::to_celsius(limits.low_k)) + " C"
               : " from " + text(base::to_celsius(limits.low_k)) + " to " +
                     text(base::to_celsius(limits.high_k)) + " C";
  return out + "; beyond, the nearest value is held";
}

}  // namespace calmplate::report
