// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/read_bar_test.hpp"

#include <cmath>
#include <map>
#include <tuple>

#include "job/file_text.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

using sheet::BarEnds;
using sheet::BarKind;

const Section kFile{"the bar-test file", {"bar_test", "row", "material"}};
const Section kBarTest{"[bar_test]",
                       {"name",
                        "note",
                        "kind",
                        "ends",
                        "bar_material",
                        "bar_thickness_mm",
                        "free_length_mm",
                        "thickness_mm",
                        "density_kg_m3",
                        "poisson",
                        "core_thickness_mm",
                        "core_density_kg_m3",
                        "foil_thickness_mm",
                        "foil_material",
                        "foil_at_clamp",
                        "shift",
                        "loss_error",
                        "ratio_error"}};
const Section kRow{"[[row]]",
                   {"temperature_C",
                    "frequency_Hz",
                    "composite_loss_factor",
                    "frequency_ratio",
                    "bare_frequency_Hz",
                    "mode"}};

constexpr Range kBarThickness{0.2, 10.0};     // mm
constexpr Range kBarLength{30.0, 2000.0};     // mm
constexpr Range kLayerThickness{0.05, 30.0};  // mm
constexpr Range kLayerDensity{50.0, 8000.0};  // kg/m3
constexpr Range kLayerPoisson{0.0, 0.49};     // no unit
constexpr Range kFoilThickness{0.01, 3.0};    // mm
constexpr Range kTemperature{-60.0, 150.0};   // degrees C
constexpr Range kFrequency{5.0, 20000.0};     // Hz
constexpr Range kCompositeLoss{1e-4, 1.0};    // no unit
constexpr Range kRatio{0.2, 5.0};             // no unit
constexpr Range kError{0.001, 0.5};           // relative, no unit
constexpr Range kMode{1.0, 20.0};             // counts
constexpr std::size_t kMostRows = 1000;

void read_layers(TableReader& reader, const Materials& materials, sheet::BarTest& test) {
  if (!test.shear()) {
    test.layer_thickness_m = reader.number("thickness_mm", kLayerThickness);
    test.layer_density = reader.number("density_kg_m3", kLayerDensity);
    test.layer_poisson = reader.number_or("poisson", kLayerPoisson, 0.3);
    return;
  }
  test.layer_thickness_m = reader.number("core_thickness_mm", kLayerThickness);
  test.layer_density = reader.number("core_density_kg_m3", kLayerDensity);
  test.foil = material_named(reader, "foil_material", "aluminium", materials);
  // A sandwich has no foil, but the sheet that comes out of it needs one.
  if (test.kind == BarKind::constrained_one_side || reader.has("foil_thickness_mm"))
    test.foil_thickness_m = reader.number("foil_thickness_mm", kFoilThickness);
}

/// @return the words that keys which were not asked for do not go with
std::string read_ends(TableReader& reader, sheet::BarTest& test) {
  test.ends = reader.choice<BarEnds>(
      "ends", {{"cantilever", BarEnds::cantilever}, {"long bar", BarEnds::long_bar}});
  if (test.ends == BarEnds::long_bar) return "ends = \"long bar\"";
  test.free_length_m = reader.number("free_length_mm", kBarLength);
  if (test.free_length_m < 10.0 * test.bar_thickness_m)
    reader.fail("free_length_mm",
                "is less than ten times the bar's thickness",
                "a thin bar: shear of the bar itself is left out");
  if (test.shear())
    test.foil_held = reader.choice_or<bool>(
        "foil_at_clamp", {{"held", true}, {"cut off", false}}, test.kind == BarKind::sandwich);
  return "";
}

void read_test(TableReader& reader, const Materials& materials, BarTestInput& out) {
  using Shift = sheet::TemperatureShift::Kind;
  sheet::BarTest& test = out.test;
  test.name = reader.text("name");
  out.note = reader.long_text_or("note", "");
  test.kind = reader.choice<BarKind>("kind",
                                     {{"free-layer one side", BarKind::free_one_side},
                                      {"free-layer both sides", BarKind::free_both_sides},
                                      {"sandwich", BarKind::sandwich},
                                      {"constrained one side", BarKind::constrained_one_side}});
  test.bar = material_named(reader, "bar_material", "steel", materials);
  test.bar_thickness_m = reader.number("bar_thickness_mm", kBarThickness);
  const std::string ends = read_ends(reader, test);
  read_layers(reader, materials, test);
  out.options.shift = reader.choice_or<Shift>(
      "shift", {{"wlf", Shift::wlf}, {"arrhenius", Shift::arrhenius}}, Shift::wlf);
  out.options.loss_error = reader.number_or("loss_error", kError, out.options.loss_error);
  out.options.ratio_error = reader.number_or("ratio_error", kError, out.options.ratio_error);
  const std::string kind = "kind = \"" + reader.text("kind") + "\"";
  reader.finish(ends.empty() ? kind : kind + " and " + ends);
}

sheet::BarTestRow read_row(TableReader& reader, const sheet::BarTest& test) {
  sheet::BarTestRow row;
  row.temp_k = reader.number("temperature_C", kTemperature);
  row.freq_hz = reader.number("frequency_Hz", kFrequency);
  row.loss_factor = reader.number("composite_loss_factor", kCompositeLoss);
  if (reader.has("frequency_ratio") && reader.has("bare_frequency_Hz"))
    reader.fail("bare_frequency_Hz",
                "stands beside frequency_ratio",
                "one of the two: coated over bare frequency, or the bare frequency");
  if (reader.has("frequency_ratio")) row.freq_ratio = reader.number("frequency_ratio", kRatio);
  if (reader.has("bare_frequency_Hz")) {
    const double bare_hz = reader.number("bare_frequency_Hz", kFrequency);
    row.freq_ratio = row.freq_hz / bare_hz;
    if (!kRatio.holds(row.freq_ratio))
      reader.fail("bare_frequency_Hz",
                  "is " + plain_number(bare_hz) + " Hz, which makes a frequency ratio of " +
                      plain_number(row.freq_ratio),
                  "a ratio of " + plain_number(kRatio.low) + " to " + plain_number(kRatio.high) +
                      ", both frequencies in Hz and of one mode");
  }
  if (test.ends == BarEnds::cantilever && reader.has("mode")) {
    const double mode = reader.number("mode", kMode);
    if (mode != std::floor(mode))
      reader.fail("mode", "is " + plain_number(mode), "a whole number, 1 for the lowest mode");
    row.mode = static_cast<int>(mode);
  }
  reader.finish("ends = \"long bar\"");
  return row;
}

void read_rows(TableReader& file, BarTestInput& out) {
  std::vector<TableReader> readers = file.sections("row", kRow);
  if (readers.empty()) file.fail_missing("row", "at least one section [[row]]");
  if (readers.size() > kMostRows)
    file.fail("row",
              "has " + std::to_string(readers.size()) + " sections",
              "up to " + std::to_string(kMostRows));
  std::map<std::tuple<double, double, int>, int> lines;
  for (TableReader& reader : readers) {
    const sheet::BarTestRow row = read_row(reader, out.test);
    const int line = reader.where().line;
    const auto [other, is_new] = lines.emplace(std::tuple(row.temp_k, row.freq_hz, row.mode), line);
    if (!is_new)
      throw base::InputError(
          reader.where(),
          "has the temperature and frequency of the row on line " + std::to_string(other->second),
          "one row a reading");
    out.rows.push_back(row);
  }
}

}  // namespace

std::vector<const Section*> bar_test_sections() { return {&kBarTest, &kRow}; }

BarTestInput read_bar_test_text(const std::string& text, const std::string& file) {
  TableReader reader = TableReader::parse(text, file, kFile);
  BarTestInput out;
  const Materials materials = read_materials(reader);
  TableReader test = reader.required_section("bar_test", kBarTest);
  read_test(test, materials, out);
  read_rows(reader, out);
  reader.finish();
  return out;
}

BarTestInput read_bar_test(const std::filesystem::path& file) {
  return read_bar_test_text(
      file_text(file, "a bar-test file", "a bar-test file with [bar_test] and [[row]]"),
      file.string());
}

}  // namespace calmplate::job
