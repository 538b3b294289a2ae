// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/read_bar_test.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "base/input_error.hpp"
#include "job/good_job.hpp"

namespace calmplate {
namespace {

using testing::with;

const std::string kGood =
    "[bar_test]\n"                       // 1
    "name = \"core\"\n"                  // 2
    "kind = \"constrained one side\"\n"  // 3
    "ends = \"cantilever\"\n"            // 4
    "bar_thickness_mm = 0.8\n"           // 5
    "free_length_mm = 200\n"             // 6
    "core_thickness_mm = 2\n"            // 7
    "core_density_kg_m3 = 1600\n"        // 8
    "foil_thickness_mm = 0.1\n"          // 9
    "\n"                                 // 10
    "[[row]]\n"                          // 11
    "temperature_C = 20\n"               // 12
    "frequency_Hz = 200\n"               // 13
    "composite_loss_factor = 0.2\n"      // 14
    "frequency_ratio = 1.1\n"            // 15
    "mode = 3\n"                         // 16
    "\n"                                 // 17
    "[[row]]\n"                          // 18
    "temperature_C = -5\n"               // 19
    "frequency_Hz = 90\n"                // 20
    "composite_loss_factor = 0.15\n"     // 21
    "bare_frequency_Hz = 80\n";          // 22

const std::string kFree =
    "[bar_test]\nname = \"layer\"\nkind = \"free-layer both sides\"\nends = \"long bar\"\n"
    "bar_thickness_mm = 1\nthickness_mm = 2\ndensity_kg_m3 = 1500\n"
    "[[row]]\ntemperature_C = 20\nfrequency_Hz = 200\ncomposite_loss_factor = 0.2\n";

std::string refusal(const std::string& text) {
  try {
    job::read_bar_test_text(text, "bar.toml");
  } catch (const base::InputError& e) {
    return e.what();
  }
  return "taken";
}

std::string file_of(const std::string& name) {
  std::ifstream file(std::string(CALMPLATE_DOCS) + "/" + name);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace

// Source: derived: units by hand.
TEST_CASE("a bar-test file is read in SI units", "[job][derived]") {
  const job::BarTestInput in = job::read_bar_test_text(kGood, "bar.toml");
  CHECK(in.test.name == "core");
  CHECK(in.test.kind == sheet::BarKind::constrained_one_side);
  CHECK(in.test.ends == sheet::BarEnds::cantilever);
  CHECK(in.test.bar.name == "steel");
  CHECK(in.test.bar_thickness_m == Approx(0.8e-3));
  CHECK(in.test.free_length_m == Approx(0.2));
  CHECK(in.test.layer_thickness_m == Approx(2e-3));
  CHECK(in.test.layer_density == 1600.0);
  CHECK(in.test.foil.name == "aluminium");
  CHECK(in.test.foil_thickness_m == Approx(0.1e-3));
  CHECK_FALSE(in.test.foil_held);
  CHECK(in.options.loss_error == 0.05);
  CHECK(in.options.ratio_error == 0.01);
  CHECK(in.options.shift == sheet::TemperatureShift::Kind::wlf);
  REQUIRE(in.rows.size() == 2);
  CHECK(in.rows[0].temp_k == Approx(293.15));
  CHECK(in.rows[0].freq_ratio == 1.1);
  CHECK(in.rows[0].mode == 3);
  CHECK(in.rows[1].temp_k == Approx(268.15));
  CHECK(in.rows[1].freq_ratio == Approx(1.125));
  CHECK(in.rows[1].mode == 0);

  const job::BarTestInput free = job::read_bar_test_text(kFree, "bar.toml");
  CHECK(free.test.kind == sheet::BarKind::free_both_sides);
  CHECK(free.test.layer_poisson == 0.3);
  CHECK(free.rows[0].freq_ratio == 0.0);
  const job::BarTestInput twin =
      job::read_bar_test_text(with(kGood, "constrained one side", "sandwich"), "bar.toml");
  CHECK(twin.test.foil_held);
  const job::BarTestInput other = job::read_bar_test_text(
      with(kGood, "bar_thickness_mm", "bar_material = \"brass\"\nbar_thickness_mm") +
          "[material.brass]\nyoung_GPa = 100\npoisson = 0.33\ndensity_kg_m3 = 8500\n",
      "bar.toml");
  CHECK(other.test.bar.young_pa == Approx(1e11));
}

// Source: practice, no source: every fault has one line with file, line, key and what is allowed.
TEST_CASE("each fault of a bar-test file is one line", "[job][practice]") {
  const auto changed = [](const std::string& part, const std::string& by) {
    return refusal(with(kGood, part, by));
  };
  const auto starts = [](const std::string& line, const std::string& begin) {
    CHECK_THAT(line, Catch::StartsWith(begin));
    CHECK(line.find('\n') == std::string::npos);
  };
  starts(changed("frequency_Hz = 200", "frequency_Hz = nan"),
         "bar.toml:13: row[1].frequency_Hz: is not a finite number");
  starts(changed("composite_loss_factor = 0.2", "composite_loss_factor = -0.2"),
         "bar.toml:14: row[1].composite_loss_factor: is -0.2; allowed: 0.0001 to 1");
  CHECK_THAT(changed("composite_loss_factor = 0.2", "composite_loss_factor = 20"),
             Catch::Contains("(is it in percent?)"));
  CHECK_THAT(changed("temperature_C = 20", "temperature_C = 293"),
             Catch::Contains("row[1].temperature_C: is 293") && Catch::Contains("kelvin?"));
  CHECK_THAT(changed("frequency_Hz = 200", "frequency_Hz = 0.2"), Catch::Contains("kHz?"));
  starts(changed("frequency_Hz = 200", "frequency_kHz = 0.2"),
         "bar.toml:13: row[1].frequency_kHz: is not a key of [[row]]; did you mean frequency_Hz?");
  starts(changed("temperature_C = 20", "temperature_F = 68"),
         "bar.toml:12: row[1].temperature_F: is not a key of [[row]]; did you mean temperature_C?");
  starts(changed("bare_frequency_Hz = 80", "bare_frequency_Hz = 8000"),
         "bar.toml:22: row[2].bare_frequency_Hz: is 8000 Hz, which makes a frequency ratio of");
  starts(changed("bare_frequency_Hz = 80", "bare_frequency_Hz = 80\nfrequency_ratio = 1.1"),
         "bar.toml:22: row[2].bare_frequency_Hz: stands beside frequency_ratio");
  starts(changed("mode = 3", "mode = 2.5"), "bar.toml:16: row[1].mode: is 2.5; allowed: a whole");
  starts(changed("temperature_C = -5\nfrequency_Hz = 90\n",
                 "temperature_C = 20\nfrequency_Hz = 200\nmode = 3\n"),
         "bar.toml:18: row[2]: has the temperature and frequency of the row on line 11");
  starts(refusal(kGood.substr(0, kGood.find("[[row]]"))),
         "bar.toml: row: is missing; allowed: at least one section [[row]]");
  starts(refusal(kGood.substr(kGood.find("[[row]]"))),
         "bar.toml: bar_test: is missing; allowed: one section [bar_test]");
  starts(changed("[bar_test]", "[bartest]"),
         "bar.toml:1: bartest: is not a section of the bar-test file; did you mean bar_test?");
  starts(changed("constrained one side", "constrained"), "bar.toml:3: bar_test.kind: is ");
  starts(changed("free_length_mm = 200\n", ""), "bar.toml:1: bar_test.free_length_mm: is missing");
  starts(changed("free_length_mm = 200", "free_length_mm = 0.2"),
         "bar.toml:6: bar_test.free_length_mm: is 0.2 mm");
  starts(changed("bar_thickness_mm = 0.8", "bar_thickness_mm = 10\nloss_error = 0.05"), "taken");
  starts(refusal(with(with(kGood, "bar_thickness_mm = 0.8", "bar_thickness_mm = 9"),
                      "free_length_mm = 200",
                      "free_length_mm = 80")),
         "bar.toml:6: bar_test.free_length_mm: is less than ten times the bar's thickness");
  starts(changed("foil_thickness_mm = 0.1\n", ""),
         "bar.toml:1: bar_test.foil_thickness_mm: is missing");
  starts(changed("core_thickness_mm = 2", "core_thickness_mm = 2\nthickness_mm = 2"),
         "bar.toml:8: bar_test.thickness_mm: does not go with kind = \"constrained one side\"");
  starts(changed("ends = \"cantilever\"", "ends = \"long bar\""),
         "bar.toml:6: bar_test.free_length_mm: does not go with kind = \"constrained one side\" "
         "and ends = \"long bar\"");
  starts(refusal(kFree + "mode = 2\n"),
         "bar.toml:12: row[1].mode: does not go with ends = \"long bar\"");
  starts(changed("name = \"core\"", "name = \"core\"\nloss_error = 5"),
         "bar.toml:3: bar_test.loss_error: is 5; allowed: 0.001 to 0.5");
  starts(refusal("bar_test = 3\n"), "bar.toml:1: bar_test: is a number, 3; allowed: one section");
  starts(refusal("[bar_test\n"), "bar.toml:1: is not valid TOML");
  starts(refusal("\xff\xfe"), "bar.toml:1: is not UTF-8 text; allowed: a bar-test file saved as");
}

TEST_CASE("more rows than any test has are refused", "[job]") {
  std::string many = kFree;
  for (int i = 0; i < 1000; ++i)
    many += "[[row]]\ntemperature_C = 20\nfrequency_Hz = " + std::to_string(300 + i) +
            "\ncomposite_loss_factor = 0.2\n";
  CHECK_THAT(refusal(many), Catch::Contains("row: has 1001 sections; allowed: up to 1000"));
}

TEST_CASE("a bar-test file that cannot be read is refused by its name", "[job]") {
  CHECK_THROWS_WITH(job::read_bar_test("not_there.toml"),
                    "not_there.toml: does not exist; allowed: a bar-test file");
}

// Source: practice, no source: what a document shows must work as shown.
TEST_CASE("the bar test of the manual is read, and its keys are those of the reader",
          "[job][practice]") {
  const job::BarTestInput in =
      job::read_bar_test(std::string(CALMPLATE_DOCS) + "/examples/bar_test_butyl.toml");
  CHECK(in.rows.size() > 10);
  CHECK_THAT(in.test.name, Catch::Contains("invented"));
  const std::string text = file_of("sheets.md"), title = "\n## Deriving a sheet from a bar test\n";
  const std::size_t begin = text.find(title);
  REQUIRE(begin != std::string::npos);
  const std::string part = text.substr(begin, text.find("\n## ", begin + title.size()) - begin);
  for (const job::Section* section : job::bar_test_sections())
    for (const std::string& key : section->keys) {
      CAPTURE(section->title, key);
      CHECK(part.find("| `" + key + "` |") != std::string::npos);
    }
}

}  // namespace calmplate
