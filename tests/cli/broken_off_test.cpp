// SPDX-License-Identifier: GPL-3.0-or-later
// Runs that do not come to their end: stopped by the user, or by a disk that takes no more.
#include <algorithm>
#include <catch2/catch.hpp>
#include <csignal>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;

const std::vector<std::string> kRun{"run", "job.toml", "-o", "out", "--no-pictures"};

/// The demo's plate with a benefit map so fine that the run takes far longer than a key press.
void write_long_job(const Folder& folder) {
  write_test_plate(folder);
  folder.write("job.toml", changed(folder.read("job.toml"), "spacing_mm = 40", "spacing_mm = 10"));
}

/// A former result in "out", whose job is the small one; job.toml is put back.
void write_former_result(const Folder& folder) {
  const std::string job = fs::exists(folder / "job.toml") ? folder.read("job.toml") : "";
  write_small_job(folder);
  REQUIRE(run_program(folder, kRun).status == 0);
  if (!job.empty()) folder.write("job.toml", job);
}

/// What the terminal shows after progress was wiped off it the last time.
std::string last_words(const std::string& shown) {
  const std::string wipe = "\r\033[K";
  const std::size_t at = shown.rfind(wipe);
  return at == std::string::npos ? shown : shown.substr(at + wipe.size());
}

}  // namespace

TEST_CASE("Ctrl-C ends a run with one line, exit 130, and nothing left", "[cli]") {
  const Folder folder;
  write_long_job(folder);
  const bool with_former_result = GENERATE(false, true);
  CAPTURE(with_former_result);
  if (with_former_result) write_former_result(folder);
  const auto before = folder.content();
  TerminalRun run(folder, kRun);
  REQUIRE(run.wait_for(" %  "));
  run.press_ctrl_c();
  const Outcome end = run.finish();
  CHECK(end.status == 130);
  CHECK(end.out.empty());
  CHECK(last_words(end.err) == "calmplate: stopped on request; nothing was written\r\n");
  CHECK(folder.content() == before);
}

TEST_CASE("a request to end does the same, late in the run too", "[cli]") {
  const Folder folder;
  write_long_job(folder);
  const auto before = folder.content();
  TerminalRun run(folder, kRun);
  REQUIRE(run.wait_for("benefit map"));
  run.send_signal(SIGTERM);
  const Outcome end = run.finish();
  CHECK(end.status == 130);
  CHECK(last_words(end.err) == "calmplate: stopped on request; nothing was written\r\n");
  CHECK(folder.content() == before);
}

TEST_CASE("a disk that is full at any file leaves nothing new and the former result whole",
          "[cli]") {
  // A limit on the size of files stands for the full disk: a write beyond it fails in the same way.
  const Folder folder;
  write_former_result(folder);
  const auto size_of = [&](const char* name) {
    return static_cast<long>(fs::file_size(folder / "out" / name));
  };
  const long json = size_of("results.json"), mesh = size_of("panel.vtu");
  REQUIRE(json < mesh);
  const bool with_former_result = GENERATE(false, true);
  CAPTURE(with_former_result);
  if (!with_former_result) fs::remove_all(folder / "out");
  const auto before = folder.content();
  for (const long limit : {1000L, json - 1, (json + mesh) / 2, mesh - 1}) {
    CAPTURE(limit, json, mesh);
    const Outcome run = run_program(folder, kRun, limit);
    CHECK(run.status == 1);
    CHECK(run.out.empty());
    CHECK(count_lines(run.err) == 1);
    CHECK_THAT(run.err, Catch::StartsWith("calmplate: "));
    CHECK(folder.content() == before);
  }
}

}  // namespace calmplate::cli
