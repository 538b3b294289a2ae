// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/sample_folder.hpp"

#include <unistd.h>

#include <cmath>
#include <fstream>

#include "page/ring_fit.hpp"

namespace calmplate::sample {
namespace {

using nlohmann::json;

json layout(const std::string& name, double share, double less, int number) {
  json out = {
      {"name", name},
      {"pieces", json::array()},
      {"area_m2", 0.577123 * share},
      {"share", share},
      {"mass_kg", 2.12345 * share},
      {"cost", 13.8765 * share},
      {"stock_sheets", 1.54321 * share},
      {"band_level_db", 158.3149 - less},
      {"band_reduction_db", less},
      {"third_octaves", json::array()},
      {"listen_at", json::array({{{"name", "wiring clip"}, {"reduction_db", 1.0491 * less}}})},
      {"temperature", json::array()},
      {"modes", json::array()},
      {"sound", json::array()},
      {"rattles", json::array()},
      {"tap", json::array()}};
  if (share > 0.0)
    for (int p = 1; p <= number; ++p)
      out["pieces"].push_back({{"number", p},
                               {"sheet", "butyl & foil"},
                               {"face", p == 2 ? "outer" : "inner"},
                               {"size_mm", {250.4 + p, 160.6}},
                               {"area_m2", 0.04015 + 0.001 * p},
                               {"mass_kg", 0.1478 * p}});
  for (const double f : {40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0}) {
    const double lower = less * (0.5 + f / 250.0);
    out["third_octaves"].push_back(
        {{"nominal_hz", f}, {"level_db", 151.2345 + 0.01 * f - lower}, {"reduction_db", lower}});
    out["sound"].push_back({{"nominal_hz", f},
                            {"skin_level_dB", 91.26 - lower},
                            {"woofer_level_dB", 93.44},
                            {"skin_under_woofer_dB", 2.18 + lower}});
  }
  for (const double t : {-10.0, 5.0, 20.0, 40.0})
    out["temperature"].push_back(
        {{"temperature_C", t}, {"reduction_dB", less * (1.0 - std::abs(t - 10.0) / 77.0)}});
  for (int m = 0; m < 7; ++m) {
    const double freq = (48.37 + 27.613 * m) * (1.0 - 0.05 * share), loss = 0.0123 + 0.01 * less;
    out["modes"].push_back({{"freq_hz", freq},
                            {"loss_factor", loss},
                            {"ring_time_s", m == 3 ? json(nullptr) : json(2.2 / (loss * freq))}});
    out["tap"].push_back({{"freq_Hz", freq},
                          {"decay_per_s", 3.14159 * loss * freq},
                          {"amplitude_Pa", 0.3 / (1 + m)},
                          {"phase_rad", 0.7 * m}});
  }
  out["rattles"].push_back({{"name", "wiring clip"},
                            {"limit_m_s2", 50.0},
                            {"sweep_peak_m_s2", 172.37 - 10.0 * less},
                            {"sweep_hz", 75.4},
                            {"sweep_margin_dB", -10.74 + less},
                            {"pink_noise_margin_dB", -10.26 + less}});
  return out;
}

json levels(double less) {
  json out = json::array();
  for (int k = 0; k < 200; ++k) out.push_back(150.0 + 8.0 * std::sin(0.3 * k) - less);
  return out;
}

json frequencies() {
  json out = json::array();
  for (int k = 0; k < 200; ++k) out.push_back(32.0 * std::pow(312.0 / 32.0, k / 199.0));
  return out;
}

json panel() {
  return {{"area_m2", 0.577123},
          {"thickness_mm", 0.75},
          {"loss_factor", 0.01},
          {"mass_kg", 3.398},
          {"material", "steel"},
          {"element_size_mm", 12.07},
          {"rim", json::array({{{"name", "bottom"}, {"hold", "springs"}, {"length_mm", 838.6}}})},
          {"keep_outs", json::array({{{"name", "handle"}}})}};
}

json range(double low, double high) { return {{"low", low}, {"high", high}}; }

json unknowns() {
  json layouts = json::array();
  for (const char* name : {"partial", "full"})
    layouts.push_back({{"name", name},
                       {"reduction_dB", range(2.345, 7.891)},
                       {"first_hz", range(51.26, 66.64)},
                       {"first_loss_factor", range(0.0512, 0.1239)}});
  return {{"ranges", {"rim springs 0.5 to 2 times", "thickness 0.7 to 0.8 mm"}},
          {"samples", 16},
          {"sentence", "The order of the layouts holds."},
          {"layouts", layouts}};
}

json coverage() {
  json points = json::array();
  for (int k = 0; k < 5; ++k)
    points.push_back({{"pieces", k},
                      {"share", 0.0912 * k},
                      {"mass_kg", 0.1934 * k},
                      {"cost", 1.267 * k},
                      {"reduction_dB", 6.0 * (1.0 - std::exp(-0.7 * k))}});
  return {{"layout", "best"},
          {"knee", 2},
          {"sentence", "At 18 % of the skin the curve bends most."},
          {"points", points}};
}

}  // namespace

json page_results() {
  const json layouts = json::array({layout("bare", 0.0, 0.0, 0),
                                    layout("partial", 0.27, 3.1449, 4),
                                    layout("full", 0.84, 6.1551, 1)});
  return {
      {"schema", "calmplate-results"},
      {"schema_version", 1},
      {"program_version", "0.1.0"},
      {"job",
       {{"title", "Estate door"},
        {"note", "Invented."},
        {"file", "door.toml"},
        {"currency", "EUR"},
        {"temperature_C", 20.0}}},
      {"report",
       {{"fitter", "Quiet Doors (invented)"},
        {"contact", "12 Example Lane"},
        {"logo", "logo.png"},
        {"car", "Estate car, left front door"},
        {"customer", "A. Customer"},
        {"question", "Why does my door drone?"},
        {"proposal", "partial"}}},
      {"answer", "The layout \"full\" calms the skin most."},
      {"notes", {"A note."}},
      {"cautions", {"Take care of airbags."}},
      {"panel", panel()},
      {"sheets",
       json::array({{{"name", "butyl & foil"},
                     {"kind", "constrained"},
                     {"mass_kg_m2", 3.671},
                     {"stock_mm", {500.0, 750.0}},
                     {"price_per_sheet", 9.0}}})},
      {"band", {{"low_hz", 40.0}, {"high_hz", 250.0}}},
      {"drive", {{"kind", "woofer"}, {"text", "woofer at 10 V rms"}}},
      {"curves",
       {{"unit", "dB re 1 nm/s"},
        {"freq_hz", frequencies()},
        {"level_db", {{"bare", levels(0.0)}, {"partial", levels(3.1)}, {"full", levels(6.2)}}}}},
      {"layouts", layouts},
      {"tap", {{"impulse_N_s", 0.02}, {"distance_m", 1}, {"up_to_Hz", 312.5}}},
      {"woofer",
       {{"sentence", "The bare skin sings over the woofer."},
        {"travel_mm", 4.8449},
        {"travel_hz", 58.2},
        {"xmax_mm", 5.0}}},
      {"sheet_comparison", nullptr},
      {"coverage_curve", coverage()},
      {"unknowns", unknowns()},
      {"convergence", {{"worst_hz_error", 0.00236}, {"worst_dB_error", 0.0749}}}};
}

PageFolder::PageFolder(const json& results) {
  static int count = 0;
  path_ = std::filesystem::temp_directory_path() /
          ("calmplate-page-" + std::to_string(getpid()) + "-" + std::to_string(++count));
  std::filesystem::create_directories(path_ / "pictures");
  write("results.json", results.dump(1));
}

PageFolder::~PageFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

void PageFolder::write(const std::string& name, const std::string& bytes) const {
  std::ofstream(path_ / name, std::ios::binary) << bytes;
}

std::string tiny_png() {
  return testing::from_base64(
      "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR42mNgAAAAAgABc3UBGAAAAABJRU5ErkJggg="
      "=");
}

}  // namespace calmplate::sample
