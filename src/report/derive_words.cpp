// SPDX-License-Identifier: GPL-3.0-or-later
// The words of a derivation, shared by its tables and its JSON.
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/units.hpp"
#include "report/derive_text.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using sheet::BarKind;
using sheet::Knowledge;
using sheet::RowFlag;

std::string six_digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

std::string three_digits(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  return text;
}

std::string mm(double metres, int decimals) { return fixed(base::to_mm(metres), decimals) + " mm"; }

/// Text in the quotes of TOML.
std::string toml_quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string trade_word(const std::string& key) {
  if (key == "low_Pa") return "low modulus";
  if (key == "high_Pa") return "high modulus";
  if (key == "relaxation_time_s") return "relaxation time";
  if (key == "exponent") return "exponent";
  if (key == "reference_K") return "reference temperature";
  if (key == "wlf_c1") return "WLF C1";
  if (key == "wlf_c2_K") return "WLF C2";
  return "activation energy";
}

/// "a, b and c" of the parameters known in one way; the reference temperature is a convention.
std::string parameters_known(const sheet::Fit& fit, Knowledge knowledge) {
  std::vector<std::string> words;
  for (const sheet::FitParameter& p : fit.list)
    if (p.knowledge == knowledge && p.key != "reference_K") words.push_back(trade_word(p.key));
  std::string list;
  for (std::size_t i = 0; i < words.size(); ++i)
    list += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return list;
}

std::string which_part_is_assumed(const sheet::Fit& fit) {
  const std::string fitted = parameters_known(fit, Knowledge::fitted);
  const std::string weak = parameters_known(fit, Knowledge::weak);
  const std::string assumed = parameters_known(fit, Knowledge::assumed);
  std::string text =
      fitted.empty() ? "The rows settle no parameter by themselves" : "The rows settle " + fitted;
  if (!weak.empty())
    text += "; partly assumed, because the rows settle it only with the rest as assumed: " + weak;
  return text + "; assumed, as in the generic \"" + fit.assumption + "\": " + assumed + ".";
}

std::string how_well_known(const sheet::Fit& fit) {
  double least = 1e300, most = 1.0;
  for (const sheet::FitRow& r : fit.rows) {
    if (!r.used) continue;
    least = std::min(least, r.material.modulus_factor);
    most = std::max(most, r.material.modulus_factor);
  }
  const bool same = fixed(least, 2) == fixed(most, 2);
  return "At the rows' own frequencies and temperatures the modulus is known to within a factor "
         "of " +
         fixed(least, 2) + (same ? "" : " to " + fixed(most, 2)) +
         " (one standard deviation); away from them it rests the more on what is assumed.";
}

}  // namespace

std::string flag_word(RowFlag flag) {
  switch (flag) {
    case RowFlag::no_ratio:
      return "no-ratio";
    case RowFlag::ratio_computed:
      return "ratio-computed";
    case RowFlag::bare_frequency_off:
      return "bare-frequency-off";
    case RowFlag::first_mode:
      return "first-mode";
    case RowFlag::taken_as_long:
      return "taken-as-long";
    case RowFlag::outside_scope:
      return "outside-scope";
    case RowFlag::layer_too_weak:
      return "layer-too-weak";
    case RowFlag::core_too_soft:
      return "core-too-soft";
    case RowFlag::core_too_stiff:
      return "core-too-stiff";
    case RowFlag::large_loss:
      return "large-loss";
    case RowFlag::sensitive:
      return "sensitive";
    case RowFlag::no_material:
      return "no-material";
  }
  return "";
}

std::string flag_sentence(RowFlag flag) {
  switch (flag) {
    case RowFlag::no_ratio:
      return "No frequency ratio: a loss factor alone cannot give modulus and loss; only the fit "
             "can use the row.";
    case RowFlag::ratio_computed:
      return "No bare frequency was read: it is computed from the bar's material, thickness and "
             "length, so 1 % in its thickness is 1 % in the ratio.";
    case RowFlag::bare_frequency_off:
      return "The bare frequency is more than 3 % off what the bar's material, thickness and "
             "length "
             "give for this mode: wrong mode number, unit, or clamp?";
    case RowFlag::first_mode:
      return "First mode of a cantilever: the standard test leaves it out, and so does the fit.";
    case RowFlag::taken_as_long:
      return "The mode is not known, so the cantilever is taken for a long bar: with a core in "
             "shear, modulus and loss can be 10 to 20 % off. Give mode = 2, 3, ...";
    case RowFlag::outside_scope:
      return "Outside the standard test's 50 to 5000 Hz.";
    case RowFlag::layer_too_weak:
      return "The layer hardly stiffens the bar: (fc/fn)^2 (1 + DT) is below 1.01, the least that "
             "the test can tell from nothing. Take a thinner bar or a thicker layer.";
    case RowFlag::core_too_soft:
      return "The core's shear hardly stiffens the bar (under 2 % of what a rigid core would do): "
             "the test cannot tell its modulus. Take a longer wave, a lower mode.";
    case RowFlag::core_too_stiff:
      return "The bar is within 10 % of what a rigid core would make it: the test cannot tell how "
             "stiff the core is. Take a shorter wave, a higher mode, a warmer row.";
    case RowFlag::large_loss:
      return "Large loss: half-power widths read it wrong above about 0.3, or the standard's "
             "small-loss equation is off by 1 % or more (the figures shown do not use it).";
    case RowFlag::sensitive:
      return "1 % in the frequency ratio or 5 % in the loss changes the answer by more than 20 %.";
    case RowFlag::no_material:
      return "No material gives these readings: ratio, mass or thickness do not go together.";
  }
  return "";
}

std::string knowledge_word(Knowledge knowledge) {
  return knowledge == Knowledge::fitted ? "fitted"
         : knowledge == Knowledge::weak ? "weakly determined"
                                        : "held by assumption";
}

std::string bar_sentence(const sheet::BarTest& t) {
  const std::string bar = t.bar.name + " bar " + mm(t.bar_thickness_m, 2) + " thick";
  const std::string layer = mm(t.layer_thickness_m, 2);
  std::string text;
  switch (t.kind) {
    case BarKind::free_one_side:
      text = "free layer of " + layer + " on one side of a " + bar;
      break;
    case BarKind::free_both_sides:
      text = "free layers of " + layer + " on both sides of a " + bar;
      break;
    case BarKind::sandwich:
      text = "core of " + layer + " between two " + t.bar.name + " bars, each " +
             mm(t.bar_thickness_m, 2) + " thick";
      break;
    case BarKind::constrained_one_side:
      text = "core of " + layer + " and " + t.foil.name + " foil of " + mm(t.foil_thickness_m, 2) +
             " on one side of a " + bar;
      break;
  }
  return text + (t.ends == sheet::BarEnds::cantilever
                     ? ", clamped at one end, " + mm(t.free_length_m, 1) + " free"
                     : ", taken as long");
}

std::vector<std::string> derive_sentences(const job::BarTestInput& input,
                                          const sheet::Derivation& derivation) {
  if (!derivation.fit)
    return {
        "No row can be used for the fit: all of them are a cantilever's first mode. Give rows of "
        "mode 2 and up."};
  const sheet::Fit& fit = *derivation.fit;
  std::vector<std::string> out = {which_part_is_assumed(fit), how_well_known(fit)};
  const bool no_ratios = std::none_of(derivation.rows.begin(),
                                      derivation.rows.end(),
                                      [](const sheet::RowResult& r) { return r.freq_ratio > 0.0; });
  if (no_ratios)
    out.push_back(
        "No row has a frequency ratio: stiffness and loss of the material cannot be told apart "
        "from "
        "the rows alone, only along the assumed curve.");
  if (fit.one_temperature)
    out.push_back(
        "All rows are at one temperature: how the sheet changes with temperature is "
        "assumed entirely.");
  if (fit.scatter > 1.0)
    out.push_back("The rows scatter " + fixed(fit.scatter, 1) + " times as much as errors of " +
                  six_digits(100.0 * input.options.loss_error) + " % in loss and " +
                  six_digits(100.0 * input.options.ratio_error) +
                  " % in frequency ratio explain; the confidence is widened by that.");
  if (fit.other)
    out.push_back("Another material explains the rows about as well: at " +
                  fixed(base::to_celsius(fit.other_at.temp_k), 0) + " C and " +
                  fixed(fit.other_at.freq_hz, 0) + " Hz a modulus of " +
                  three_digits(1e-6 * fit.other_at.modulus_pa) + " MPa with a loss factor of " +
                  fixed(fit.other_at.loss_factor, 2) +
                  ". A frequency ratio, or a row at another temperature, tells the two apart.");
  return out;
}

std::vector<std::string> derive_assumptions(const job::BarTestInput& input,
                                            const sheet::Derivation& derivation) {
  const sheet::BarTest& t = input.test;
  std::vector<std::string> out = {
      "The bar itself has no loss, nor have clamp and air; the bond is perfect; " +
          std::string(t.shear() ? "bar and foil are as their materials say."
                                : "the bar is as its material says."),
      t.shear() ? (t.ends == sheet::BarEnds::cantilever
                       ? "Rows of known mode: exact cantilever with a core in shear, foil " +
                             std::string(t.foil_held ? "held" : "cut off") +
                             " at the clamp; the core's own stretching left out."
                       : "Long bar: a sine wave all along; the core stretches with a Young's "
                         "modulus of three times its shear modulus.")
                : "Layer and bar bend as one section; a cantilever's modes keep their shape.",
      "The standard's equations are written from memory (ASTM E756) and proven by derivation."};
  if (!derivation.fit) return out;
  out.push_back(
      "Errors of reading, one standard deviation: " + six_digits(100.0 * input.options.loss_error) +
      " % in loss, " + six_digits(100.0 * input.options.ratio_error) +
      " % in frequency ratio. Wrong thickness, density or length is not in the confidence.");
  out.push_back(
      "Held where the rows say nothing, middle values of the generic \"" +
      derivation.fit->assumption +
      "\": low modulus within a factor 10, high over low within 5, relaxation time within "
      "100, exponent within 0.1, temperature shift within 25 to 35 %; its C2 and the "
      "reference temperature of 20 C fixed.");
  if (t.kind == BarKind::sandwich && t.foil_thickness_m == 0.0)
    out.push_back(
        "A sandwich has no foil: 0.1 mm of aluminium in the lines for a job file is "
        "invented; put the sheet's own.");
  return out;
}

std::string job_lines(const job::BarTestInput& input, const sheet::Derivation& derivation) {
  if (!derivation.fit) return "";
  const sheet::BarTest& t = input.test;
  const sheet::FractionalZenerParameters& p = derivation.fit->parameters;
  const auto line = [](const std::string& key, double value) {
    return key + " = " + six_digits(value) + "\n";
  };
  std::string out = "[[sheet]]\nname = " + toml_quoted(t.name) + "\n";
  if (t.shear()) {
    out += "kind = \"constrained\"\n";
    out += line("core_thickness_mm", base::to_mm(t.layer_thickness_m));
    out += line("core_density_kg_m3", t.layer_density);
    if (t.foil_thickness_m > 0.0)
      out += line("foil_thickness_mm", base::to_mm(t.foil_thickness_m));
    else
      out += "foil_thickness_mm = 0.1  # invented: put the sheet's own\n";
    out += "foil_material = " + toml_quoted(t.foil.name) + "\n";
  } else {
    out += "kind = \"free-layer\"\n";
    out += line("thickness_mm", base::to_mm(t.layer_thickness_m));
    out += line("density_kg_m3", t.layer_density);
    out += line("poisson", t.layer_poisson);
  }
  out += "[sheet.modulus]\nmodel = \"fractional-zener\"\n";
  out += line("low_MPa", 1e-6 * p.low_pa) + line("high_MPa", 1e-6 * p.high_pa);
  out += line("relaxation_time_s", p.time_s) + line("exponent", p.exponent);
  out += line("reference_C", base::to_celsius(p.shift.reference_k));
  if (p.shift.kind == sheet::TemperatureShift::Kind::arrhenius)
    return out + "shift = \"arrhenius\"\n" +
           line("activation_kJ_mol", 1e-3 * p.shift.activation_j_mol);
  return out + "shift = \"wlf\"\n" + line("wlf_c1", p.shift.c1) + line("wlf_c2_K", p.shift.c2_k);
}

}  // namespace calmplate::report
