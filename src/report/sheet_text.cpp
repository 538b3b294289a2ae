// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sheet_text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/units.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr std::size_t kWidth = 96;

/// Three digits, without an exponent between 0.001 and 100000.
std::string digits(double value) {
  if (!(std::abs(value) >= 1e-3 && std::abs(value) < 1e5)) {
    char text[32];
    std::snprintf(text, sizeof text, "%.3g", value);
    return text;
  }
  const int behind = 2 - static_cast<int>(std::floor(std::log10(std::abs(value))));
  return fixed(value, std::max(behind, 0));
}

std::string celsius(double temp_k) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g C", std::round(1e3 * base::to_celsius(temp_k)) / 1e3);
  return text;
}

std::string price_text(const sheet::Sheet& sheet) {
  const std::optional<double> price = price_per_m2(sheet);
  return price ? fixed(*price, 2) : "-";
}

/// Key, value with unit, and source, the source broken into lines under itself.
std::string parameter_lines(const std::vector<sheet::ShelfParameter>& parameters) {
  std::vector<std::string> values;
  std::size_t key_width = 0, value_width = 0;
  for (const sheet::ShelfParameter& p : parameters) {
    values.push_back(p.value_text + (p.unit.empty() ? "" : " " + p.unit));
    key_width = std::max(key_width, p.key.size());
    value_width = std::max(value_width, values.back().size());
  }
  std::string out;
  const std::string indent(2 + key_width + 2 + value_width + 2, ' ');
  for (std::size_t k = 0; k < parameters.size(); ++k) {
    std::string lines = wrapped(parameters[k].source, kWidth - indent.size(), indent);
    const std::string start = "  " + parameters[k].key +
                              std::string(key_width - parameters[k].key.size() + 2, ' ') +
                              values[k];
    lines.replace(0, std::min(start.size(), lines.size()), start);
    out += lines;
  }
  return out;
}

/// One row a frequency, one column a temperature.
std::string frequency_table(const SheetFigures& figures,
                            const std::string& heading,
                            double (*value)(const std::complex<double>&)) {
  Rows rows = {{heading}};
  for (const ModulusOverFrequency& curve : figures.moduli) rows[0].push_back(celsius(curve.temp_k));
  for (std::size_t i = 0; i < figures.freq_hz.size(); ++i) {
    const double f = figures.freq_hz[i];
    bool shown = false;
    for (const double nominal : {10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0})
      shown = shown || f == nominal;
    if (!shown) continue;
    rows.push_back({fixed(f, 0) + " Hz"});
    for (const ModulusOverFrequency& curve : figures.moduli)
      rows.back().push_back(digits(value(curve.modulus_pa[i])));
  }
  return text_table(rows);
}

std::string bar_name(const BarOverTemperature& bar) {
  return fixed(base::to_mm(bar.thickness_m), 1) + " mm";
}

std::string bar_table(const SheetFigures& figures) {
  Rows rows = {{bar_steel().name + " bar"}};
  for (const BarOverTemperature& bar : figures.bars) rows[0].push_back(bar_name(bar));
  for (std::size_t i = 0; i < figures.bar_temp_k.size(); i += 10) {
    rows.push_back({celsius(figures.bar_temp_k[i])});
    for (const BarOverTemperature& bar : figures.bars)
      rows.back().push_back(fixed(bar.at[i].loss_factor, 3));
  }
  return text_table(rows);
}

std::string peak_words(const SheetFigures& figures, const BarOverTemperature& bar) {
  const double high = bar.at[bar.peak].loss_factor;
  const bool level = std::all_of(bar.at.begin(), bar.at.end(), [&](const sheet::CoatedBar& b) {
    return std::abs(b.loss_factor - high) < 1e-9;
  });
  std::string out = "On the " + bar_name(bar) + " bar ";
  if (level) return out + fixed(high, 3) + " at every temperature.";
  out += "highest " + fixed(high, 3) + " at " + celsius(figures.bar_temp_k[bar.peak]);
  return out + (bar.peak_inside ? "." : ", the end of the range.");
}

std::string modulus_words(const sheet::Sheet& s, const SheetFigures& figures) {
  const auto mpa = [](const std::complex<double>& g) { return 1e-6 * g.real(); };
  const auto loss = [](const std::complex<double>& g) { return g.imag() / g.real(); };
  if (s.core_modulus->constant()) {
    const std::complex<double> g = figures.moduli.front().modulus_pa.front();
    return "\nAt every frequency and temperature: " + modulus_name(s) + " " + digits(mpa(g)) +
           " MPa, loss factor " + digits(loss(g)) +
           ".\nA real sheet changes with both; these are figures for one temperature.\n";
  }
  std::string out = "\nOver frequency\n";
  out += frequency_table(figures, modulus_name(s) + ", MPa", mpa) + "\n";
  out += frequency_table(figures, "loss factor", loss);
  const std::string range = range_text(s);
  if (!range.empty()) out += wrapped("The modulus is " + range + ".", kWidth - 2, "  ");
  return out;
}

}  // namespace

std::string sheet_text(const ListedSheet& listed,
                       const SheetFigures& figures,
                       const std::string& currency) {
  const sheet::Sheet& s = listed.sheet;
  std::string out = s.name + " (" + listed.from + "): " + kind_word(s.kind) + "\n";
  out += wrapped(listed.what, kWidth, "");
  if (thickness_m(listed)) out += fixed(base::to_mm(*thickness_m(listed)), 2) + " mm thick, ";
  out += fixed(s.mass_per_area(), 2) + " kg/m2, ";
  out += price_per_m2(s) ? price_text(s) + " " + currency + "/m2\n" : "no price given\n";
  out += "\nParameters and where they come from\n" + parameter_lines(listed.parameters);
  if (s.kind == sheet::Kind::mass) return out + "\nAdds mass only: a bar gains no loss from it.\n";
  out += modulus_words(s, figures);
  out += "\nComposite loss factor of a covered bar at " + fixed(kBarFreqHz, 0) +
         " Hz, sheet on one face\n";
  if (!s.core_modulus->constant()) out += bar_table(figures);
  for (const BarOverTemperature& bar : figures.bars) out += "  " + peak_words(figures, bar) + "\n";
  return out;
}

std::string sheet_list_text(const std::vector<ListedSheet>& sheets, const std::string& currency) {
  Rows rows = {{"sheet", "from", "kind", "mm", "kg/m2", currency + "/m2", "MPa", "loss"},
               {"", "", "", "", "", "", "", ""}};
  for (const double c : list_temperatures_c()) {
    rows[0].push_back("bar");
    rows[1].push_back(fixed(c, 0) + " C");
  }
  for (const ListedSheet& listed : sheets) {
    const sheet::Sheet& s = listed.sheet;
    std::string modulus = "-", loss = "-";
    if (!modulus_name(s).empty()) {
      const auto g = s.core_modulus->modulus(kBarFreqHz, base::from_celsius(20.0));
      modulus = digits(1e-6 * g.real());
      loss = fixed(g.imag() / g.real(), 2);
    }
    rows.push_back({s.name,
                    listed.from == kShelf ? kShelf : "job",
                    kind_word(s.kind),
                    thickness_m(listed) ? fixed(base::to_mm(*thickness_m(listed)), 1) : "-",
                    fixed(s.mass_per_area(), 2),
                    price_text(s),
                    modulus,
                    loss});
    for (const double c : list_temperatures_c())
      rows.back().push_back(fixed(list_bar(s, c).loss_factor, 3));
  }
  std::string out = text_table(rows);
  out += "\n" + wrapped(
                    "MPa, loss: shear modulus of a core, Young's modulus of a free layer, and its "
                    "loss factor, at 200 Hz and 20 C.",
                    kWidth,
                    "");
  out += wrapped(
      "bar: composite loss factor of a 0.8 mm steel bar covered from end to end on one "
      "face, at 200 Hz.",
      kWidth,
      "");
  const bool shelf = std::any_of(
      sheets.begin(), sheets.end(), [](const ListedSheet& l) { return l.from == kShelf; });
  if (shelf)
    out += wrapped(
        "The shelf's sheets are generic, no products; their prices are invented. See "
        "calmplate sheet show NAME for where each number comes from.",
        kWidth,
        "");
  return out;
}

}  // namespace calmplate::report
