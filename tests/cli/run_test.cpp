// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder))
    names.insert(entry.path().filename().string());
  return names;
}

/// results.json of a run of job.toml.
std::string results_of(const Folder& folder, const std::vector<std::string>& further) {
  std::vector<std::string> arguments{"run", "job.toml", "-o", "out", "--no-pictures", "--quiet"};
  arguments.insert(arguments.end(), further.begin(), further.end());
  const Outcome run = run_program(folder, arguments);
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  return folder.read("out/results.json");
}

}  // namespace

TEST_CASE("a run writes its files and pages and prints the summary", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const Outcome run = run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures"});
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK(names_in(folder.path()) == std::set<std::string>{"job.toml", "out", "plate.obj"});
  REQUIRE(names_in(folder / "out") ==
          std::set<std::string>{
              "customer.html", "panel.vtu", "report.html", "results.json", "summary.txt"});
  CHECK_THAT(run.out, Catch::StartsWith(folder.read("out/summary.txt")));
  CHECK_THAT(folder.read("out/results.json"), Catch::StartsWith("{"));
  CHECK_THAT(folder.read("out/panel.vtu"), Catch::Contains("</VTKFile>"));
}

TEST_CASE("with --json standard output is results.json, with --quiet it is empty", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const Outcome json =
      run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures", "--json"});
  CHECK(json.status == 0);
  CHECK(json.out == folder.read("out/results.json"));
  const Outcome quiet =
      run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures", "--quiet"});
  CHECK(quiet.status == 0);
  CHECK(quiet.out.empty());
  CHECK(quiet.err.empty());
}

TEST_CASE("the same job gives the same bytes, again and with any number of threads", "[cli]") {
  // The demo's plate: its matrices are large enough for every library to share out its work.
  const Folder folder;
  write_test_plate(folder);
  const std::string first = results_of(folder, {"--threads", "2"});
  CHECK(results_of(folder, {"--threads", "2"}) == first);
  CHECK(results_of(folder, {"--threads", "1"}) == first);
  CHECK(results_of(folder, {"--threads", "3"}) == first);
}

TEST_CASE("a second run replaces the whole former result", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  results_of(folder, {});
  folder.write("out/of_old.txt", "left from before");
  folder.write("job.toml", changed(small_job(), "Small plate", "Second plate"));
  CHECK_THAT(results_of(folder, {}), Catch::Contains("Second plate"));
  CHECK(names_in(folder / "out") ==
        std::set<std::string>{
            "customer.html", "panel.vtu", "report.html", "results.json", "summary.txt"});
  CHECK(names_in(folder.path()) == std::set<std::string>{"job.toml", "out", "plate.obj"});
}

TEST_CASE("what is piped has neither progress nor codes for a terminal", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const Outcome run = run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures"});
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK(run.out.find('\033') == std::string::npos);
  CHECK(run.out.find('\r') == std::string::npos);
}

TEST_CASE("a terminal shows progress and is clean at the end", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  TerminalRun run(folder, {"run", "job.toml", "-o", "out", "--no-pictures"});
  CHECK(run.wait_for(" %  "));
  const Outcome end = run.finish();
  CHECK(end.status == 0);
  CHECK(end.out.find('\033') == std::string::npos);
  CHECK_THAT(end.out, Catch::StartsWith("Small plate"));
  CHECK_THAT(end.err, Catch::EndsWith("\r\033[K"));
}

TEST_CASE("with --quiet a terminal shows nothing", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  TerminalRun run(folder, {"run", "job.toml", "-o", "out", "--no-pictures", "--quiet"});
  const Outcome end = run.finish();
  CHECK(end.status == 0);
  CHECK(end.out.empty());
  CHECK(end.err.empty());
}

}  // namespace calmplate::cli
