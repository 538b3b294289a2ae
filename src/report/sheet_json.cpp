// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sheet_json.hpp"

#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "base/units.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;
constexpr double kListTempC = 20.0;

/// Celsius to a thousandth: what was given in Celsius comes back as it was written.
double celsius(double temp_k) { return std::round(1e3 * base::to_celsius(temp_k)) / 1e3; }

double loss_factor(const std::complex<double>& modulus) { return modulus.imag() / modulus.real(); }

Json moduli(const std::vector<std::complex<double>>& values) {
  Json out = Json::array();
  for (const std::complex<double>& g : values) out.push_back(1e-6 * g.real());
  return out;
}

Json losses(const std::vector<std::complex<double>>& values) {
  Json out = Json::array();
  for (const std::complex<double>& g : values) out.push_back(loss_factor(g));
  return out;
}

Json price(const sheet::Sheet& sheet) {
  const std::optional<double> value = price_per_m2(sheet);
  return value ? Json(*value) : Json(nullptr);
}

Json thickness_mm(const ListedSheet& listed) {
  const std::optional<double> value = thickness_m(listed);
  return value ? Json(base::to_mm(*value)) : Json(nullptr);
}

Json measured_range(const sheet::Sheet& sheet) {
  const sheet::ModulusLimits limits = sheet.core_modulus->limits();
  if (range_text(sheet).empty()) return nullptr;
  const auto hz = [](double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); };
  const auto c = [](double k) { return std::isfinite(k) ? Json(celsius(k)) : Json(nullptr); };
  return {{"low_hz", hz(limits.low_hz)},
          {"high_hz", hz(limits.high_hz)},
          {"low_C", c(limits.low_k)},
          {"high_C", c(limits.high_k)}};
}

Json modulus_json(const sheet::Sheet& sheet, const SheetFigures& figures) {
  if (figures.moduli.empty()) return nullptr;
  Json curves = Json::array();
  for (const ModulusOverFrequency& curve : figures.moduli)
    curves.push_back({{"temperature_C", celsius(curve.temp_k)},
                      {"modulus_MPa", moduli(curve.modulus_pa)},
                      {"loss_factor", losses(curve.modulus_pa)}});
  const std::string range = range_text(sheet);
  return {{"name", modulus_name(sheet)},
          {"constant", sheet.core_modulus->constant()},
          {"measured_range", measured_range(sheet)},
          {"range_text", range.empty() ? Json(nullptr) : Json(range)},
          {"freq_hz", figures.freq_hz},
          {"curves", curves}};
}

std::string shift_text(const sheet::TemperatureShift& shift) {
  char words[160] = "";
  const double reference = celsius(shift.reference_k);
  if (shift.kind == sheet::TemperatureShift::Kind::wlf)
    std::snprintf(words,
                  sizeof words,
                  "Shift over temperature: WLF, C1 = %.4g, C2 = %.4g K, from %.4g \u00b0C.",
                  shift.c1,
                  shift.c2_k,
                  reference);
  else
    std::snprintf(words,
                  sizeof words,
                  "Shift over temperature: Arrhenius, Q = %.4g kJ/mol, from %.4g \u00b0C.",
                  1e-3 * shift.activation_j_mol,
                  reference);
  return words;
}

Json reduced_json(const sheet::Sheet& sheet, const SheetFigures& figures) {
  if (!figures.reduced) return nullptr;
  const ModulusOverReducedFrequency& r = *figures.reduced;
  const auto factor = [&](double temp_k) { return std::pow(10.0, r.shift.log10_factor(temp_k)); };
  Json isotherms = Json::array();
  for (const double temp_k : r.isotherm_k)
    isotherms.push_back({{"temperature_C", celsius(temp_k)}, {"shift_factor", factor(temp_k)}});
  const double temp_k = base::from_celsius(kListTempC);
  const std::complex<double> g = sheet.core_modulus->modulus(kBarFreqHz, temp_k);
  return {{"shift_text", shift_text(r.shift)},
          {"reference_temperature_C", celsius(r.shift.reference_k)},
          {"reduced_freq_hz", r.reduced_hz},
          {"modulus_MPa", moduli(r.modulus_pa)},
          {"loss_factor", losses(r.modulus_pa)},
          {"isotherms", isotherms},
          {"example",
           {{"temperature_C", kListTempC},
            {"freq_hz", kBarFreqHz},
            {"shift_factor", factor(temp_k)},
            {"modulus_MPa", 1e-6 * g.real()},
            {"loss_factor", loss_factor(g)}}}};
}

Json bars_json(const SheetFigures& figures) {
  Json temperatures = Json::array(), bars = Json::array();
  for (const double temp_k : figures.bar_temp_k) temperatures.push_back(celsius(temp_k));
  for (const BarOverTemperature& bar : figures.bars) {
    Json ratio = Json::array(), loss = Json::array();
    for (const sheet::CoatedBar& at : bar.at) {
      ratio.push_back(at.freq_ratio);
      loss.push_back(at.loss_factor);
    }
    bars.push_back({{"thickness_mm", base::to_mm(bar.thickness_m)},
                    {"freq_ratio", ratio},
                    {"loss_factor", loss},
                    {"peak",
                     {{"temperature_C", celsius(figures.bar_temp_k[bar.peak])},
                      {"loss_factor", bar.at[bar.peak].loss_factor},
                      {"inside_range", bar.peak_inside}}}});
  }
  return {{"freq_hz", kBarFreqHz},
          {"material", bar_steel().name},
          {"temperatures_C", temperatures},
          {"bars", bars}};
}

/// What list and show say alike.
Json head(const ListedSheet& listed) {
  return {{"name", listed.sheet.name},
          {"from", listed.from},
          {"what", listed.what},
          {"kind", kind_word(listed.sheet.kind)},
          {"thickness_mm", thickness_mm(listed)},
          {"mass_kg_m2", listed.sheet.mass_per_area()},
          {"price_per_m2", price(listed.sheet)}};
}

Json list_entry(const ListedSheet& listed) {
  const sheet::Sheet& s = listed.sheet;
  Json out = head(listed);
  out["modulus"] = nullptr;
  if (!modulus_name(s).empty()) {
    const auto g = s.core_modulus->modulus(kBarFreqHz, base::from_celsius(kListTempC));
    out["modulus"] = {{"name", modulus_name(s)},
                      {"freq_hz", kBarFreqHz},
                      {"temperature_C", kListTempC},
                      {"modulus_MPa", 1e-6 * g.real()},
                      {"loss_factor", loss_factor(g)}};
  }
  Json temperatures = Json::array(), loss = Json::array();
  for (const double c : list_temperatures_c()) {
    temperatures.push_back(c);
    loss.push_back(list_bar(s, c).loss_factor);
  }
  out["coated_bar"] = {{"freq_hz", kBarFreqHz},
                       {"material", bar_steel().name},
                       {"thickness_mm", base::to_mm(kThinBarM)},
                       {"temperatures_C", temperatures},
                       {"loss_factor", loss}};
  return out;
}

}  // namespace

std::string sheet_json(const ListedSheet& listed,
                       const SheetFigures& figures,
                       const std::string& currency) {
  Json parameters = Json::array();
  for (const sheet::ShelfParameter& p : listed.parameters)
    parameters.push_back(
        {{"key", p.key}, {"value", p.value_text}, {"unit", p.unit}, {"source", p.source}});
  Json out = {
      {"schema", "calmplate-sheet"}, {"schema_version", 1}, {"program_version", CALMPLATE_VERSION}};
  out.update(head(listed));
  out["currency"] = currency;
  out["parameters"] = parameters;
  out["modulus"] = modulus_json(listed.sheet, figures);
  out["reduced_frequency"] = reduced_json(listed.sheet, figures);
  out["coated_bars"] = bars_json(figures);
  return out.dump(1) + "\n";
}

std::string sheet_list_json(const std::vector<ListedSheet>& sheets, const std::string& currency) {
  Json entries = Json::array();
  for (const ListedSheet& listed : sheets) entries.push_back(list_entry(listed));
  const Json out = {{"schema", "calmplate-sheet-list"},
                    {"schema_version", 1},
                    {"program_version", CALMPLATE_VERSION},
                    {"currency", currency},
                    {"sheets", entries}};
  return out.dump(1) + "\n";
}

}  // namespace calmplate::report
