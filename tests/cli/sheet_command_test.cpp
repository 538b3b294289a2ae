// SPDX-License-Identifier: GPL-3.0-or-later
// The commands `sheet list` and `sheet show`.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/units.hpp"
#include "cli/program.hpp"
#include "cli/small_job.hpp"
#include "sheet/coated_bar.hpp"
#include "sheet/shelf.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder))
    names.insert(entry.path().filename().string());
  return names;
}

/// Standard output of a run that has to go well and say nothing else.
std::string output_of(const Folder& folder, const std::vector<std::string>& arguments) {
  const Outcome run = run_program(folder, arguments);
  CAPTURE(arguments, run.err);
  CHECK(run.err.empty());
  REQUIRE(run.status == 0);
  return run.out;
}

json json_of(const Folder& folder, std::vector<std::string> arguments) {
  arguments.push_back("--json");
  return json::parse(output_of(folder, arguments));
}

sheet::CoatedBar steel_bar(const sheet::Sheet& sheet, double thickness_m, double celsius) {
  sheet::Material steel;
  return sheet::coated_bar(sheet, steel, thickness_m, 200.0, base::from_celsius(celsius));
}

/// One line on standard error that holds `words`, exit 2, nothing else.
void check_refused(const Folder& folder,
                   const std::vector<std::string>& arguments,
                   const std::string& words) {
  const auto before = folder.content();
  const Outcome run = run_program(folder, arguments);
  CAPTURE(arguments, run.err);
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains(words));
  CHECK(folder.content() == before);
}

}  // namespace

TEST_CASE("sheet list names every sheet of the shelf, and with a job the job's before them",
          "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const std::string shelf = output_of(folder, {"sheet", "list"});
  for (const sheet::ShelfEntry& entry : sheet::shelf())
    CHECK_THAT(shelf, Catch::Contains("\n  " + entry.sheet.name + " "));
  CHECK_THAT(shelf, Catch::Contains("kg/m2") && Catch::Contains("EUR/m2"));
  const std::string both = output_of(folder, {"sheet", "list", "--job", "job.toml"});
  const std::size_t job_line = both.find("\n  butyl  ");
  REQUIRE(job_line != std::string::npos);
  CHECK(job_line < both.find(sheet::shelf().front().sheet.name));
  CHECK(output_of(folder, {"sheet", "list", "--quiet"}).empty());
}

// Source: derived. The list holds what the library computes of the same sheet.
TEST_CASE("sheet list --json holds the library's figures", "[cli][derived]") {
  const Folder folder;
  const json list = json_of(folder, {"sheet", "list"});
  CHECK(list.at("schema") == "calmplate-sheet-list");
  CHECK(list.at("schema_version") == 1);
  REQUIRE(list.at("sheets").size() == sheet::shelf().size());
  for (std::size_t k = 0; k < sheet::shelf().size(); ++k) {
    const sheet::Sheet& s = sheet::shelf()[k].sheet;
    const json& entry = list["sheets"][k];
    CAPTURE(s.name);
    CHECK(entry.at("name") == s.name);
    CHECK(entry.at("mass_kg_m2").get<double>() == Approx(s.mass_per_area()).epsilon(1e-12));
    CHECK(entry.at("price_per_m2").get<double>() ==
          Approx(s.price_per_sheet / (s.stock_width_m * s.stock_length_m)).epsilon(1e-12));
    CHECK(entry.at("modulus").is_null() == (s.kind == sheet::Kind::mass));
    if (s.kind != sheet::Kind::mass) {
      const auto g = s.core_modulus->modulus(200.0, 293.15);
      CHECK(entry["modulus"].at("modulus_MPa").get<double>() == Approx(1e-6 * g.real()));
      CHECK(entry["modulus"].at("loss_factor").get<double>() == Approx(g.imag() / g.real()));
    }
    const json& bar = entry.at("coated_bar");
    CHECK(bar.at("temperatures_C") == json({0.0, 20.0, 40.0}));
    for (std::size_t i = 0; i < 3; ++i)
      CHECK(bar.at("loss_factor")[i].get<double>() ==
            Approx(steel_bar(s, 0.8e-3, 20.0 * double(i)).loss_factor).epsilon(1e-12));
  }
}

// Source: derived. Peak: no other temperature of the list gives more.
TEST_CASE("sheet show --json holds the library's bars, their peak, and the modulus",
          "[cli][derived]") {
  const Folder folder;
  const sheet::Sheet& s = sheet::on_shelf("butyl 2 mm")->sheet;
  const json shown =
      json_of(folder, {"sheet", "show", "butyl 2 mm", "--temperatures", "35", "-15", "35"});
  CHECK(shown.at("schema") == "calmplate-sheet");
  CHECK(shown.at("schema_version") == 1);
  const json& bars = shown.at("coated_bars");
  const json& temperatures = bars.at("temperatures_C");
  CHECK(temperatures.front() == -20.0);
  CHECK(temperatures.back() == 80.0);
  REQUIRE(bars.at("bars").size() == 2);
  for (const json& bar : bars["bars"]) {
    const double thickness_m = 1e-3 * bar.at("thickness_mm").get<double>();
    CAPTURE(thickness_m);
    double highest = 0.0, at = 0.0;
    REQUIRE(bar.at("loss_factor").size() == temperatures.size());
    for (std::size_t k = 0; k < temperatures.size(); ++k) {
      const auto expected = steel_bar(s, thickness_m, temperatures[k].get<double>());
      const double loss = bar["loss_factor"][k].get<double>();
      CHECK(loss == Approx(expected.loss_factor).epsilon(1e-12));
      CHECK(bar.at("freq_ratio")[k].get<double>() == Approx(expected.freq_ratio).epsilon(1e-12));
      if (loss > highest) at = temperatures[k].get<double>();
      highest = std::max(highest, loss);
    }
    CHECK(bar.at("peak").at("temperature_C") == at);
    CHECK(bar["peak"].at("loss_factor") == highest);
    CHECK(bar["peak"].at("inside_range") == true);
  }
  const json& curves = shown.at("modulus").at("curves");
  REQUIRE(curves.size() == 2);
  CHECK(curves[0].at("temperature_C") == -15.0);
  CHECK(curves[1].at("temperature_C") == 35.0);
  const json& freq = shown["modulus"].at("freq_hz");
  CHECK(freq.front() == 10.0);
  CHECK(freq.back() == 1000.0);
  for (std::size_t k = 0; k < freq.size(); ++k) {
    const auto g = s.core_modulus->modulus(freq[k].get<double>(), base::from_celsius(-15.0));
    CHECK(curves[0].at("modulus_MPa")[k].get<double>() == Approx(1e-6 * g.real()));
    CHECK(curves[0].at("loss_factor")[k].get<double>() == Approx(g.imag() / g.real()));
  }
}

// Source: derived. A shifted modulus depends on frequency times shift factor alone.
TEST_CASE("the reduced curve of sheet show is the modulus at every temperature at once",
          "[cli][derived]") {
  const Folder folder;
  const sheet::Sheet& s = sheet::on_shelf("bitumen 2 mm")->sheet;
  const json shown = json_of(folder, {"sheet", "show", "bitumen 2 mm"});
  const json& reduced = shown.at("reduced_frequency");
  const json& freq = reduced.at("reduced_freq_hz");
  REQUIRE(reduced.at("isotherms").size() == 11);
  for (const json& isotherm : reduced["isotherms"]) {
    const double celsius = isotherm.at("temperature_C").get<double>();
    CAPTURE(celsius);
    const double factor = isotherm.at("shift_factor").get<double>();
    // The range holds 10 to 1000 Hz at every one of these temperatures.
    CHECK(freq.front().get<double>() <= 10.0 * factor);
    CHECK(freq.back().get<double>() >= 1000.0 * factor);
    for (std::size_t k = 0; k < freq.size(); k += 7) {
      const auto g =
          s.core_modulus->modulus(freq[k].get<double>() / factor, base::from_celsius(celsius));
      CHECK(reduced.at("modulus_MPa")[k].get<double>() == Approx(1e-6 * g.real()).epsilon(1e-9));
      CHECK(reduced.at("loss_factor")[k].get<double>() ==
            Approx(g.imag() / g.real()).epsilon(1e-9));
    }
  }
}

TEST_CASE("sheet show names every parameter with its source", "[cli]") {
  const Folder folder;
  for (const sheet::ShelfEntry& entry : sheet::shelf()) {
    const std::string text = output_of(folder, {"sheet", "show", entry.sheet.name});
    CAPTURE(text);
    for (const sheet::ShelfParameter& p : entry.parameters) {
      CHECK_THAT(text, Catch::Contains("  " + p.key + " ") && Catch::Contains(p.value_text));
      CHECK_THAT(text, Catch::Contains(p.source.substr(0, p.source.find(' '))));
    }
    std::size_t longest = 0;
    for (std::size_t from = 0, to; (to = text.find('\n', from)) != std::string::npos; from = to + 1)
      longest = std::max(longest, to - from);
    CHECK(longest <= 100);
    const json shown = json_of(folder, {"sheet", "show", entry.sheet.name});
    REQUIRE(shown.at("parameters").size() == entry.parameters.size());
    for (std::size_t k = 0; k < entry.parameters.size(); ++k)
      CHECK(shown["parameters"][k].at("source") == entry.parameters[k].source);
  }
}

TEST_CASE("sheet show takes a sheet of a job, whose source is the job file", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const json shown = json_of(folder, {"sheet", "show", "butyl", "--job", "job.toml"});
  CHECK(shown.at("from") == "job.toml");
  CHECK(shown.at("mass_kg_m2").get<double>() == Approx(1700 * 2e-3 + 2700 * 1e-4));
  CHECK(shown.at("price_per_m2").is_null());
  CHECK(shown.at("reduced_frequency").is_null());
  CHECK(shown.at("modulus").at("constant") == true);
  for (const json& p : shown.at("parameters")) CHECK(p.at("source") == "job.toml");
  CHECK_THAT(output_of(folder, {"sheet", "show", "butyl", "--job", "job.toml"}),
             Catch::Contains("shear modulus 1.00 MPa, loss factor 0.900"));
}

TEST_CASE("sheet show -o writes a whole folder and replaces a former one", "[cli]") {
  const Folder folder;
  const std::vector<std::string> arguments{
      "sheet", "show", "butyl 3 mm", "-o", "out", "--no-pictures"};
  const std::string text = output_of(folder, arguments);
  CHECK(names_in(folder / "out") == std::set<std::string>{"sheet.json", "sheet.txt"});
  CHECK_THAT(text, Catch::StartsWith(folder.read("out/sheet.txt")));
  const std::string first = folder.read("out/sheet.json");
  CHECK(json::parse(first).at("name") == "butyl 3 mm");
  folder.write("out/of_old.txt", "left from before");
  output_of(folder, arguments);
  CHECK(folder.read("out/sheet.json") == first);
  CHECK(names_in(folder / "out") == std::set<std::string>{"sheet.json", "sheet.txt"});
  CHECK(names_in(folder.path()) == std::set<std::string>{"out"});
  // A folder of something else is left alone.
  folder.write("other", "a file");
  check_refused(folder, {"sheet", "show", "butyl 3 mm", "-o", "other", "--no-pictures"}, "other");
}

TEST_CASE("what sheet cannot use is refused in one line", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  check_refused(folder, {"sheet"}, "subcommand");
  check_refused(folder, {"sheet", "show"}, "NAME");
  check_refused(folder, {"sheet", "show", "butil 2 mm"}, "did you mean \"butyl 2 mm\"?");
  check_refused(folder, {"sheet", "show", "carpet"}, "\"carpet\" is neither on the shelf");
  check_refused(folder, {"sheet", "show", "carpet"}, "butyl 1.5 mm, butyl 2 mm");
  check_refused(folder, {"sheet", "show", "buty", "--job", "job.toml"}, "did you mean \"butyl\"?");
  check_refused(folder, {"sheet", "list", "--job", "absent.toml"}, "absent.toml");
  check_refused(folder, {"sheet", "show", "butyl 2 mm", "--temperatures", "500"}, "-100 to 200 C");
  check_refused(folder, {"sheet", "show", "butyl 2 mm", "--temperatures", "nan"}, "-100 to 200 C");
  check_refused(folder,
                {"sheet", "show", "butyl 2 mm", "--temperatures=1,2,3,4,5,6,7,8,9"},
                "has 9 temperatures; allowed: 1 to 8");
}

}  // namespace calmplate::cli
