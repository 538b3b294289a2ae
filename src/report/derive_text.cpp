// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/derive_text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/units.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Rows = std::vector<std::vector<std::string>>;
using sheet::RowFlag;

constexpr std::size_t kWidth = 96;

/// Three digits; a dash if there is no number.
std::string digits(double value) {
  if (!std::isfinite(value)) return "-";
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  const double size = std::abs(value);
  if (size >= 1e3 && size < 1e6) std::snprintf(text, sizeof text, "%.0f", value);
  return text;
}

std::string percent(double share) {
  if (!std::isfinite(share)) return "no end";
  return fixed(100.0 * share, share < 0.0995 ? 1 : 0);
}

std::string celsius(double temp_k) { return digits(base::to_celsius(temp_k) + 0.0); }

std::string whole(double value) { return fixed(value, 0); }

/// Flags of all rows in their own order: each is shown as a letter.
std::vector<RowFlag> flags_used(const sheet::Derivation& d) {
  std::vector<RowFlag> used;
  for (const sheet::RowResult& r : d.rows) used.insert(used.end(), r.flags.begin(), r.flags.end());
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  return used;
}

std::string letters(const sheet::RowResult& row, const std::vector<RowFlag>& used) {
  std::string out;
  for (std::size_t i = 0; i < used.size(); ++i)
    if (row.has(used[i])) out += static_cast<char>('a' + static_cast<char>(i));
  return out;
}

/// True if the standard's own equations give something else anywhere.
bool standard_differs(const sheet::Derivation& d) {
  return std::any_of(d.rows.begin(), d.rows.end(), [](const sheet::RowResult& r) {
    return r.determined &&
           (!(std::abs(r.standard.real() / r.modulus_pa - 1.0) < 0.01) ||
            !(std::abs(r.standard.imag() / r.standard.real() / r.loss_factor - 1.0) < 0.01));
  });
}

std::string row_table(const job::BarTestInput& input, const sheet::Derivation& d) {
  const std::vector<RowFlag> used = flags_used(d);
  const bool standard = standard_differs(d);
  Rows rows = {{"row", "C", "Hz", "loss", "ratio", "modulus", "loss", "1 % ratio", "5 % loss"},
               {"", "", "", "read", "fc/fn", "MPa", "factor", "changes %", "changes %"}};
  if (standard) {
    const char* name = input.test.shear() ? "long bar" : "standard";
    rows[0].insert(rows[0].end(), {name, "its loss"});
    rows[1].insert(rows[1].end(), {"MPa", "factor"});
  }
  rows[0].push_back("notes");
  rows[1].push_back("");
  for (std::size_t i = 0; i < d.rows.size(); ++i) {
    const sheet::RowResult& r = d.rows[i];
    const sheet::BarTestRow& read = input.rows[i];
    const auto change = [&](double share) { return r.determined ? percent(share) : "-"; };
    rows.push_back({std::to_string(i + 1),
                    celsius(read.temp_k),
                    whole(read.freq_hz),
                    fixed(read.loss_factor, 4),
                    r.freq_ratio > 0.0 ? fixed(r.freq_ratio, 4) : "-",
                    digits(1e-6 * r.modulus_pa),
                    fixed(r.loss_factor, 3),
                    change(std::max(r.modulus_by_ratio, r.loss_by_ratio)),
                    change(std::max(r.modulus_by_loss, r.loss_by_loss))});
    if (standard) {
      rows.back().push_back(digits(1e-6 * r.standard.real()));
      rows.back().push_back(fixed(r.standard.imag() / r.standard.real(), 3));
    }
    rows.back().push_back(letters(r, used));
  }
  std::string out = text_table(rows);
  if (standard)
    out +=
        wrapped(input.test.shear() ? "long bar: by the standard's equations, which take every mode "
                                     "for a sine wave"
                                   : "standard: by its equation, which takes the loss for small",
                kWidth,
                "  ");
  for (std::size_t i = 0; i < used.size(); ++i) {
    std::string lines = wrapped(flag_sentence(used[i]), kWidth - 5, "     ");
    lines.replace(2, 1, 1, static_cast<char>('a' + static_cast<char>(i)));
    out += lines;
  }
  return out;
}

struct Unit {
  const char* name;
  double factor, offset;  // shown = value * factor + offset
};

Unit shown_as(const std::string& key) {
  if (key == "low_Pa") return {"low_MPa", 1e-6, 0.0};
  if (key == "high_Pa") return {"high_MPa", 1e-6, 0.0};
  if (key == "reference_K") return {"reference_C", 1.0, -273.15};
  if (key == "activation_J_mol") return {"activation_kJ_mol", 1e-3, 0.0};
  return {nullptr, 1.0, 0.0};
}

std::string parameter_table(const sheet::Fit& fit) {
  Rows rows = {{"parameter", "value", "one s.d. from", "to", "assumed", "how it is known"}};
  for (const sheet::FitParameter& p : fit.list) {
    const Unit unit = shown_as(p.key);
    const auto shown = [&](double value) { return digits(value * unit.factor + unit.offset); };
    const bool fixed_value = p.low == p.high;
    rows.push_back({unit.name == nullptr ? p.key : unit.name,
                    shown(p.value),
                    fixed_value ? "fixed" : shown(p.low),
                    fixed_value ? "" : shown(p.high),
                    shown(p.assumed),
                    knowledge_word(p.knowledge)});
  }
  return text_table(rows);
}

std::string residual_table(const job::BarTestInput& input, const sheet::Derivation& d) {
  Rows rows = {
      {"row", "loss", "fitted", "off", "ratio", "fitted", "off", "modulus", "factor", "loss", "+-"},
      {"", "read", "", "%", "fc/fn", "", "%", "MPa", "+-", "factor", ""}};
  for (std::size_t i = 0; i < d.rows.size(); ++i) {
    const sheet::FitRow& f = d.fit->rows[i];
    const bool ratio = d.rows[i].freq_ratio > 0.0;
    rows.push_back({std::to_string(i + 1) + (f.used ? "" : " not used"),
                    fixed(input.rows[i].loss_factor, 4),
                    fixed(f.answer.loss_factor, 4),
                    fixed(100.0 * f.loss_residual, 1),
                    ratio ? fixed(d.rows[i].freq_ratio, 4) : "-",
                    fixed(f.answer.freq_ratio, 4),
                    fixed(100.0 * f.ratio_residual, 2),
                    digits(1e-6 * f.material.modulus_pa),
                    fixed(f.material.modulus_factor, 2),
                    fixed(f.material.loss_factor, 3),
                    fixed(f.material.loss_deviation, 3)});
  }
  return text_table(rows);
}

std::string door_table(const sheet::Fit& fit) {
  Rows rows = {{"C", "modulus MPa", "factor +-", "loss factor", "+-"}};
  for (const sheet::Prediction& p : fit.door)
    rows.push_back({celsius(p.temp_k),
                    digits(1e-6 * p.modulus_pa),
                    fixed(p.modulus_factor, 2),
                    fixed(p.loss_factor, 3),
                    fixed(p.loss_deviation, 3)});
  return text_table(rows);
}

std::string bullets(const std::vector<std::string>& sentences) {
  std::string out;
  for (const std::string& sentence : sentences) {
    const std::string lines = wrapped(sentence, kWidth - 4, "    ");
    out += "  - " + lines.substr(4);
  }
  return out;
}

}  // namespace

std::string derive_text(const job::BarTestInput& input, const sheet::Derivation& d) {
  const std::string which = input.test.shear() ? "shear modulus" : "Young's modulus";
  std::string out = wrapped("\"" + input.test.name + "\": " + bar_sentence(input.test), kWidth, "");
  if (!input.note.empty()) out += wrapped(input.note, kWidth, "");
  out += "\nEach row by itself: " + which + "\n" + row_table(input, d);
  if (d.fit) {
    const sheet::Fit& fit = *d.fit;
    out += "\nOne material for all rows: fractional Zener, " + which + ", " +
           std::to_string(fit.used) + " of " + std::to_string(d.rows.size()) + " rows\n" +
           parameter_table(fit);
    out += "\nThe fit at the rows\n" + residual_table(input, d);
    out += "\nThe fit at 100 Hz\n" + door_table(fit);
  }
  out += "\nWhat this is worth\n" + bullets(derive_sentences(input, d));
  out += "\nTaken for granted\n" + bullets(derive_assumptions(input, d));
  const std::string lines = job_lines(input, d);
  return lines.empty() ? out : out + "\nFor a job file\n\n" + lines;
}

}  // namespace calmplate::report
