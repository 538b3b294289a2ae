// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <nlohmann/json.hpp>

#include "report/derive_text.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

/// A number, or null where there is none or no end of it.
Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json above_zero(double value) { return value > 0.0 ? Json(value) : Json(nullptr); }

Json test_json(const sheet::BarTest& t) {
  Json out = {{"name", t.name},
              {"text", bar_sentence(t)},
              {"looked_for", t.shear() ? "shear modulus" : "Young's modulus"},
              {"bar_material", t.bar.name},
              {"bar_young_Pa", t.bar.young_pa},
              {"bar_density_kg_m3", t.bar.density},
              {"bar_thickness_m", t.bar_thickness_m},
              {"free_length_m", above_zero(t.free_length_m)},
              {"layer_thickness_m", t.layer_thickness_m},
              {"layer_density_kg_m3", t.layer_density}};
  if (t.shear()) out["foil_thickness_m"] = above_zero(t.foil_thickness_m);
  return out;
}

Json row_json(const sheet::BarTestRow& read, const sheet::RowResult& r) {
  Json flags = Json::array();
  for (const sheet::RowFlag flag : r.flags) flags.push_back(flag_word(flag));
  const auto change = [&](double share) { return r.determined ? number(share) : Json(nullptr); };
  return {{"temperature_K", read.temp_k},
          {"frequency_Hz", read.freq_hz},
          {"mode", read.mode > 0 ? Json(read.mode) : Json(nullptr)},
          {"composite_loss_factor", read.loss_factor},
          {"frequency_ratio", above_zero(r.freq_ratio)},
          {"determined", r.determined},
          {"modulus_Pa", number(r.modulus_pa)},
          {"loss_factor", number(r.loss_factor)},
          {"standard_modulus_Pa", number(r.standard.real())},
          {"standard_loss_factor", number(r.standard.imag() / r.standard.real())},
          {"modulus_change_by_1_percent_ratio", change(r.modulus_by_ratio)},
          {"loss_factor_change_by_1_percent_ratio", change(r.loss_by_ratio)},
          {"modulus_change_by_5_percent_loss", change(r.modulus_by_loss)},
          {"loss_factor_change_by_5_percent_loss", change(r.loss_by_loss)},
          {"flags", flags}};
}

Json prediction_json(const sheet::Prediction& p) {
  return {{"temperature_K", p.temp_k},
          {"frequency_Hz", p.freq_hz},
          {"modulus_Pa", p.modulus_pa},
          {"modulus_one_deviation_factor", p.modulus_factor},
          {"loss_factor", p.loss_factor},
          {"loss_factor_deviation", p.loss_deviation}};
}

Json fit_json(const sheet::Fit& fit) {
  Json parameters = Json::array(), rows = Json::array(), door = Json::array();
  for (const sheet::FitParameter& p : fit.list)
    parameters.push_back({{"key", p.key},
                          {"value", p.value},
                          {"one_deviation_low", p.low},
                          {"one_deviation_high", p.high},
                          {"assumed", p.assumed},
                          {"assumed_low", p.assumed_low},
                          {"assumed_high", p.assumed_high},
                          {"known", knowledge_word(p.knowledge)}});
  for (const sheet::FitRow& r : fit.rows) {
    Json row = {{"used", r.used},
                {"composite_loss_factor", number(r.answer.loss_factor)},
                {"loss_residual", number(r.loss_residual)},
                {"frequency_ratio", number(r.answer.freq_ratio)},
                {"ratio_residual", number(r.ratio_residual)}};
    row.update(prediction_json(r.material));
    rows.push_back(row);
  }
  for (const sheet::Prediction& p : fit.door) door.push_back(prediction_json(p));
  Json other = nullptr;
  if (fit.other)
    other = {{"temperature_K", fit.other_at.temp_k},
             {"frequency_Hz", fit.other_at.freq_hz},
             {"modulus_Pa", fit.other_at.modulus_pa},
             {"loss_factor", fit.other_at.loss_factor}};
  return {{"model", "fractional-zener"},
          {"rows_used", fit.used},
          {"scatter", fit.scatter},
          {"assumptions_from", fit.assumption},
          {"parameters", parameters},
          {"rows", rows},
          {"at_100_Hz", door},
          {"other_material", other}};
}

}  // namespace

std::string derive_json(const job::BarTestInput& input, const sheet::Derivation& d) {
  Json rows = Json::array();
  for (std::size_t i = 0; i < d.rows.size(); ++i)
    rows.push_back(row_json(input.rows[i], d.rows[i]));
  Json out = {{"bar_test", test_json(input.test)},
              {"rows", rows},
              {"fit", d.fit ? fit_json(*d.fit) : Json(nullptr)},
              {"sentences", derive_sentences(input, d)},
              {"assumptions", derive_assumptions(input, d)},
              {"job_lines", job_lines(input, d)}};
  return out.dump(2) + "\n";
}

}  // namespace calmplate::report
