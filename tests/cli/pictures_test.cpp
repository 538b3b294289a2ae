// SPDX-License-Identifier: GPL-3.0-or-later
// Runs with pictures; DISPLAY is unset for all runs here.
#include <catch2/catch.hpp>
#include <csignal>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;

}  // namespace

TEST_CASE("without a display a run draws all pictures, each a whole PNG", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const Outcome run = run_program(folder, {"run", "job.toml", "-o", "out"});
  CAPTURE(run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder / "out/pictures")) {
    const std::string name = entry.path().filename().string();
    names.insert(name);
    const std::string bytes = folder.read("out/pictures/" + name);
    CAPTURE(name, bytes.size());
    CHECK(bytes.size() > 10000);
    const bool starts = bytes.substr(0, 8) == "\x89PNG\r\n\x1a\n";
    const bool ends = bytes.substr(bytes.size() - 8, 4) == "IEND";
    CHECK(starts);
    CHECK(ends);
  }
  CHECK(names == std::set<std::string>{"benefit_map.png",
                                       "layout_bare.png",
                                       "layout_full.png",
                                       "layout_patch.png",
                                       "modes_bare.png",
                                       "modes_full.png",
                                       "modes_patch.png",
                                       "panel_3d.png",
                                       "reduction_third_octaves.png",
                                       "response.png",
                                       "velocity_bare.png",
                                       "velocity_full.png",
                                       "velocity_patch.png",
                                       "working_full.png",
                                       "working_patch.png"});
}

TEST_CASE("Ctrl-C or a request to end while pictures are drawn leaves nothing either", "[cli]") {
  const bool key = GENERATE(true, false);
  CAPTURE(key);
  const Folder folder;
  write_small_job(folder);
  const auto before = folder.content();
  TerminalRun run(folder, {"run", "job.toml", "-o", "out"});
  REQUIRE(run.wait_for("pictures"));
  if (key)
    run.press_ctrl_c();
  else
    run.send_signal(SIGTERM);
  const Outcome end = run.finish();
  CHECK(end.status == 130);
  CHECK(end.out.empty());
  CHECK_THAT(end.err, Catch::EndsWith("calmplate: stopped on request; nothing was written\r\n"));
  CHECK(folder.content() == before);
}

TEST_CASE("sheet show -o draws the pictures of a sheet, and none of one that only adds mass",
          "[cli]") {
  const Folder folder;
  const Outcome run = run_program(folder, {"sheet", "show", "butyl 2 mm", "-o", "butyl"});
  CAPTURE(run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  for (const char* name : {"modulus.png", "nomogram.png", "coated_bar.png"})
    CHECK(folder.read(std::string("butyl/pictures/") + name).size() > 10000);
  const Outcome mass = run_program(folder, {"sheet", "show", "heavy layer", "-o", "heavy"});
  CHECK(mass.status == 0);
  CHECK(fs::exists(folder / "heavy/sheet.json"));
  CHECK_FALSE(fs::exists(folder / "heavy/pictures"));
}

TEST_CASE("check -o writes what it understood and draws it", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const Outcome run = run_program(folder, {"check", "job.toml", "-o", "seen"});
  CAPTURE(run.err);
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Catch::EndsWith("\nRim parts and holes: seen/pictures/rim.png\n"));
  CHECK(folder.read("seen/pictures/rim.png").size() > 10000);
  const Outcome json = run_program(folder, {"check", "job.toml", "--json"});
  CHECK(folder.read("seen/check.json") == json.out);
  // A former one gives way, any other folder does not.
  CHECK(run_program(folder, {"check", "job.toml", "-o", "seen", "--quiet"}).status == 0);
  REQUIRE(run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures"}).status == 0);
  const Outcome other = run_program(folder, {"check", "job.toml", "-o", "out"});
  CHECK(other.status == 2);
  CHECK(count_lines(other.err) == 1);
  CHECK_FALSE(fs::exists(folder / "out/check.json"));
}

TEST_CASE("a disk that is full at the pictures keeps the results and says so", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  REQUIRE(run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures"}).status == 0);
  const auto limit = static_cast<long>(fs::file_size(folder / "out/panel.vtu")) + 4000;
  const std::string results = folder.read("out/results.json");
  const Outcome run = run_program(folder, {"run", "job.toml", "-o", "out", "--quiet"}, limit);
  CHECK(run.status == 1);
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains("not the pictures"));
  CHECK(folder.read("out/results.json") == results);
  CHECK_FALSE(fs::exists(folder / "out/pictures"));
}

TEST_CASE("a disk that is full at the pages keeps the results and says so", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  REQUIRE(run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures"}).status == 0);
  const std::string results = folder.read("out/results.json");
  const auto limit = static_cast<long>(fs::file_size(folder / "out/panel.vtu")) + 4000;
  REQUIRE(fs::file_size(folder / "out/report.html") > std::uintmax_t(limit));
  const Outcome run =
      run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures", "--quiet"}, limit);
  CHECK(run.status == 1);
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains("results are in out, but not the pages: "));
  CHECK(folder.read("out/results.json") == results);
  CHECK_FALSE(fs::exists(folder / "out/report.html"));
  CHECK_FALSE(fs::exists(folder / "out/customer.html"));
}

}  // namespace calmplate::cli
