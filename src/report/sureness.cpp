// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/sureness.hpp"

#include "base/units.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;
using Rows = std::vector<std::vector<std::string>>;
constexpr std::size_t kWidth = 96;

Json range_json(const study::LowHigh& r) { return {{"low", r.low}, {"high", r.high}}; }

Json extrapolated_json(const study::Extrapolated& e) {
  return {{"value", e.value}, {"limit", e.limit}};
}

std::string range_text(const study::LowHigh& r, int digits) {
  return fixed(r.low, digits) + " to " + fixed(r.high, digits);
}

std::string unknowns_text(const study::Results& results) {
  const study::UnknownsResult& u = *results.unknowns;
  std::string varied;
  for (const std::string& r : u.ranges) varied += (varied.empty() ? "" : "; ") + r;
  std::string out = "How sure\n" + wrapped("Unknown: " + varied + ".", kWidth, "") + "\n";
  Rows rows = {{"layout", "dB less", "low to high", "first mode Hz", "its loss factor"}};
  for (std::size_t i = 0; i < u.layouts.size(); ++i) {
    const study::LayoutRange& l = u.layouts[i];
    rows.push_back({l.name,
                    fixed(results.layouts[0].band_level_db - results.layouts[i].band_level_db, 1),
                    range_text(l.reduction_db, 1),
                    range_text(l.first_hz, 1),
                    range_text(l.first_loss, 3)});
  }
  out += text_table(rows) + "\n";
  if (!u.sentence.empty()) out += wrapped(u.sentence, kWidth, "");
  return out +
         wrapped(std::to_string(u.samples) + " draws, " + std::to_string(u.solves) + " solves of " +
                     std::to_string(u.degrees_of_freedom) + " degrees of freedom.",
                 kWidth,
                 "") +
         "\n";
}

std::string convergence_text(const study::Results& results) {
  const study::ConvergenceResult& c = *results.convergence;
  Rows rows = {{"element size, mm"}};
  for (const double h : c.element_m) rows[0].push_back(fixed(base::to_mm(h), 1));
  rows[0].insert(rows[0].end(), {"limit", "error"});
  for (std::size_t m = 0; m < c.bare_hz.size(); ++m) {
    const study::Extrapolated& e = c.bare_hz[m];
    rows.push_back({"bare, mode " + std::to_string(m + 1) + ", Hz"});
    for (const double v : e.value) rows.back().push_back(fixed(v, 2));
    rows.back().push_back(fixed(e.limit, 2));
    rows.back().push_back(fixed(100.0 * (e.value[2] / e.limit - 1.0), 2) + " %");
  }
  for (std::size_t i = 0; i < c.layouts.size(); ++i) {
    const study::Extrapolated& e = c.reduction_db[i];
    rows.push_back({c.layouts[i] + ", dB less"});
    for (const double v : e.value) rows.back().push_back(fixed(v, 2));
    rows.back().push_back(fixed(e.limit, 2));
    rows.back().push_back(fixed(e.value[2] - e.limit, 2) + " dB");
  }
  return "Element size\n" + text_table(rows) + "\n" +
         wrapped("Against the limit the finest size is off by " +
                     fixed(100.0 * c.worst_hz_error, 2) + " % in frequency and " +
                     fixed(c.worst_db_error, 2) + " dB in reduction at most.",
                 kWidth,
                 "") +
         "\n";
}

}  // namespace

Json unknowns_json(const study::Results& results) {
  if (!results.unknowns) return nullptr;
  const study::UnknownsResult& u = *results.unknowns;
  Json layouts = Json::array();
  for (const study::LayoutRange& l : u.layouts)
    layouts.push_back({{"name", l.name},
                       {"reduction_dB", range_json(l.reduction_db)},
                       {"first_hz", range_json(l.first_hz)},
                       {"first_loss_factor", range_json(l.first_loss)}});
  return {{"ranges", u.ranges},
          {"samples", u.samples},
          {"solves", u.solves},
          {"degrees_of_freedom", u.degrees_of_freedom},
          {"sentence", u.sentence},
          {"layouts", layouts}};
}

Json convergence_json(const study::Results& results) {
  if (!results.convergence) return nullptr;
  const study::ConvergenceResult& c = *results.convergence;
  Json sizes = Json::array(), modes = Json::array(), layouts = Json::array();
  for (const double h : c.element_m) sizes.push_back(base::to_mm(h));
  for (const study::Extrapolated& e : c.bare_hz) modes.push_back(extrapolated_json(e));
  for (std::size_t i = 0; i < c.layouts.size(); ++i) {
    Json entry = {{"name", c.layouts[i]}};
    entry.update(extrapolated_json(c.reduction_db[i]));
    layouts.push_back(entry);
  }
  return {{"element_mm", sizes},
          {"bare_hz", modes},
          {"reduction_dB", layouts},
          {"worst_hz_error", c.worst_hz_error},
          {"worst_dB_error", c.worst_db_error}};
}

std::string sureness_text(const study::Results& results) {
  std::string out;
  if (results.unknowns) out += unknowns_text(results);
  if (results.convergence) out += convergence_text(results);
  return out;
}

}  // namespace calmplate::report
