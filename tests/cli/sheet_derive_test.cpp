// SPDX-License-Identifier: GPL-3.0-or-later
// The command `sheet derive`.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

const std::string kExample =
    (fs::path(CALMPLATE_SOURCE_FOLDER) / "docs/examples/bar_test_butyl.toml").string();

/// A datasheet's three figures, invented.
const std::string kDatasheet =
    "[bar_test]\nname = \"from a \\\"datasheet\\\"\"\nkind = \"constrained one side\"\n"
    "ends = \"long bar\"\nbar_thickness_mm = 1.0\ncore_thickness_mm = 2.0\n"
    "core_density_kg_m3 = 1600\nfoil_thickness_mm = 0.1\n"
    "[[row]]\ntemperature_C = 0\nfrequency_Hz = 200\ncomposite_loss_factor = 0.15\n"
    "[[row]]\ntemperature_C = 20\nfrequency_Hz = 200\ncomposite_loss_factor = 0.24\n"
    "[[row]]\ntemperature_C = 40\nfrequency_Hz = 200\ncomposite_loss_factor = 0.16\n";

std::string output_of(const Folder& folder, const std::vector<std::string>& arguments) {
  const auto before = folder.content();
  const Outcome run = run_program(folder, arguments);
  CAPTURE(arguments, run.err);
  CHECK(run.err.empty());
  CHECK(folder.content() == before);
  REQUIRE(run.status == 0);
  return run.out;
}

}  // namespace

TEST_CASE("the bar test of the manual gives rows, fit, confidence and lines to paste", "[cli]") {
  const Folder folder;
  const std::string text = output_of(folder, {"sheet", "derive", kExample});
  for (const char* part : {"invented",
                           "Each row by itself: shear modulus",
                           "First mode of a cantilever: the standard test leaves it out",
                           "One material for all rows: fractional Zener",
                           "18 of 19 rows",
                           "10 not used",
                           "The rows settle low modulus",
                           "assumed, as",
                           "[sheet.modulus]",
                           "model = \"fractional-zener\"",
                           "shift = \"wlf\""}) {
    CAPTURE(part);
    CHECK(text.find(part) != std::string::npos);
  }
  CHECK(output_of(folder, {"sheet", "derive", kExample}) == text);
  CHECK(output_of(folder, {"sheet", "derive", kExample, "--quiet"}).empty());
}

TEST_CASE("the derivation as JSON holds the same in SI units", "[cli]") {
  const Folder folder;
  const json j = json::parse(output_of(folder, {"sheet", "derive", kExample, "--json"}));
  CHECK(j["bar_test"]["bar_thickness_m"] == 1e-3);
  CHECK(j["rows"].size() == 19);
  CHECK(j["rows"][9]["flags"] == json({"bare-frequency-off", "first-mode", "outside-scope"}));
  CHECK(j["rows"][0]["temperature_K"] == 263.15);
  CHECK(j["fit"]["rows_used"] == 18);
  CHECK(j["fit"]["rows"][9]["used"] == false);
  // Where the fit is as sure as here, it says of each row what the row says by itself.
  for (std::size_t i = 0; i < 9; ++i) {
    const double alone = j["rows"][i]["modulus_Pa"], all = j["fit"]["rows"][i]["modulus_Pa"];
    CHECK(all == Approx(alone).epsilon(0.1));
  }
  for (const json& p : j["fit"]["parameters"]) {
    CHECK(p["one_deviation_low"].get<double>() <= p["value"].get<double>());
    CHECK(p["value"].get<double>() <= p["one_deviation_high"].get<double>());
  }
  CHECK(j["assumptions"].size() >= 4);
}

TEST_CASE("what is derived can be pasted into a job", "[cli]") {
  const Folder folder;
  folder.write("bar.toml", kDatasheet);
  const json j = json::parse(output_of(folder, {"sheet", "derive", "bar.toml", "--json"}));
  write_small_job(folder);
  folder.write("job.toml", small_job() + "\n" + j["job_lines"].get<std::string>());
  const Outcome run = run_program(folder, {"check", "job.toml"});
  CAPTURE(run.err);
  CHECK(run.status == 0);
  // On the bar it came from the sheet shows the datasheet's loss factors again.
  const json shown = json::parse(
      output_of(folder, {"sheet", "show", "from a \"datasheet\"", "--job", "job.toml", "--json"}));
  const json& bars = shown["coated_bars"];
  CHECK(bars["freq_hz"] == 200.0);
  const json& steel_1mm = bars["bars"][1];
  CHECK(steel_1mm["thickness_mm"] == 1.0);
  const std::vector<double> celsius = bars["temperatures_C"];
  int found = 0;
  for (std::size_t i = 0; i < celsius.size(); ++i)
    for (const auto& [temperature, loss] : {std::pair(0.0, 0.15), {20.0, 0.24}, {40.0, 0.16}})
      if (celsius[i] == temperature) {
        CHECK(steel_1mm["loss_factor"][i].get<double>() == Approx(loss).epsilon(0.02));
        ++found;
      }
  CHECK(found == 3);
}

TEST_CASE("a datasheet of three losses says which part is assumed", "[cli]") {
  const Folder folder;
  folder.write("bar.toml", kDatasheet);
  const std::string text = output_of(folder, {"sheet", "derive", "bar.toml"});
  CHECK(text.find("The rows settle no parameter by themselves; partly assumed") !=
        std::string::npos);
  CHECK(text.find("No row has a frequency ratio") != std::string::npos);
  const json j = json::parse(output_of(folder, {"sheet", "derive", "bar.toml", "--json"}));
  for (const json& row : j["rows"]) {
    CHECK(row["modulus_Pa"].is_null());
    CHECK(row["flags"] == json({"no-ratio"}));
  }
  for (const json& p : j["fit"]["parameters"]) CHECK(p["known"] != "fitted");
  for (const json& row : j["fit"]["rows"])
    CHECK(std::abs(row["loss_residual"].get<double>()) < 0.02);
}

TEST_CASE("rows of first modes alone give no fit, and the words say why", "[cli]") {
  const Folder folder;
  folder.write("bar.toml",
               "[bar_test]\nname = \"one\"\nkind = \"free-layer one side\"\nends = \"cantilever\"\n"
               "bar_thickness_mm = 1\nfree_length_mm = 150\nthickness_mm = 2\n"
               "density_kg_m3 = 1600\n[[row]]\ntemperature_C = 20\nfrequency_Hz = 36\n"
               "frequency_ratio = 0.97\ncomposite_loss_factor = 0.1\nmode = 1\n");
  const std::string text = output_of(folder, {"sheet", "derive", "bar.toml"});
  CHECK(text.find("No row can be used for the fit") != std::string::npos);
  CHECK(text.find("[sheet.modulus]") == std::string::npos);
  const json j = json::parse(output_of(folder, {"sheet", "derive", "bar.toml", "--json"}));
  CHECK(j["fit"].is_null());
  CHECK(j["job_lines"] == "");
}

TEST_CASE("a bar-test file that is damaged or not there is one line and exit 2", "[cli][bad]") {
  const Folder folder;
  folder.write("bad.toml", changed(kDatasheet, "= 0.24", "= -0.24"));
  folder.write("empty.toml", "\n");
  for (const auto& [file, words] : std::vector<std::pair<std::string, std::string>>{
           {"bad.toml", "bad.toml:16: row[2].composite_loss_factor: is -0.24"},
           {"empty.toml", "empty.toml: is empty; allowed: a bar-test file"},
           {"none.toml", "none.toml: does not exist; allowed: a bar-test file"}}) {
    const Outcome run = run_program(folder, {"sheet", "derive", file});
    CAPTURE(file, run.err);
    CHECK(run.status == 2);
    CHECK(run.out.empty());
    CHECK(count_lines(run.err) == 1);
    CHECK_THAT(run.err, Catch::StartsWith("calmplate: " + words));
  }
  const Outcome help = run_program(folder, {"sheet", "derive", "--help"});
  CHECK(help.status == 0);
  CHECK_THAT(help.out, Catch::Contains("Example: calmplate sheet derive "));
}

}  // namespace calmplate::cli
