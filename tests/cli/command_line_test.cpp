// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <fstream>
#include <iomanip>
#include <sstream>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;

/// Files that tell people what to type.
std::vector<fs::path> manuals() {
  const fs::path root = CALMPLATE_SOURCE_FOLDER;
  std::vector<fs::path> files{root / "README.md"};
  for (const auto& entry : fs::directory_iterator(root / "docs"))
    if (entry.path().extension() == ".md") files.push_back(entry.path());
  return files;
}

/// The words of every line in a fenced block that starts with the program's name, in any folder;
/// a "$" before it is the prompt, a "#" starts a remark, words in double quotes are one.
std::vector<std::vector<std::string>> commands_in(const fs::path& manual) {
  std::vector<std::vector<std::string>> commands;
  std::ifstream stream(manual);
  bool fenced = false;
  for (std::string line; std::getline(stream, line);) {
    if (line.rfind("```", 0) == 0) fenced = !fenced;
    std::istringstream text(line.substr(0, line.find(" #")));
    std::vector<std::string> words;
    for (std::string word; text >> std::quoted(word);) words.push_back(word);
    if (!words.empty() && words[0] == "$") words.erase(words.begin());
    if (!fenced || words.empty() || fs::path(words[0]).filename() != "calmplate") continue;
    words.erase(words.begin());
    commands.push_back(words);
  }
  return commands;
}

}  // namespace

TEST_CASE("the version is one line with the program's name", "[cli]") {
  const Folder folder;
  const Outcome run = run_program(folder, {"--version"});
  CHECK(run.status == 0);
  CHECK(run.out == std::string("calmplate ") + CALMPLATE_VERSION + "\n");
  CHECK(run.err.empty());
}

TEST_CASE("help goes to standard output and ends with an example of the command", "[cli]") {
  const Folder folder;
  const std::vector<std::pair<std::vector<std::string>, std::string>> cases = {
      {{"--help"}, "Example: calmplate run "},
      {{"run", "--help"}, "Example: calmplate run "},
      {{"check", "--help"}, "Example: calmplate check "},
      {{"cut", "--help"}, "Example: calmplate cut "},
      {{"report", "--help"}, "Example: calmplate report "},
      {{"sheet", "--help"}, "Example: calmplate sheet list"},
      {{"sheet", "list", "--help"}, "Example: calmplate sheet list "},
      {{"sheet", "show", "--help"}, "Example: calmplate sheet show "}};
  for (const auto& [arguments, example] : cases) {
    const Outcome run = run_program(folder, arguments);
    CAPTURE(arguments);
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    const std::size_t at = run.out.find(example);
    REQUIRE(at != std::string::npos);
    CHECK(count_lines(run.out.substr(at)) == 1);
  }
}

TEST_CASE("every command in README and manual is one that the program takes", "[cli]") {
  // Each is run with a job that does not exist: what is wrong then is the job, not the command. The
  // demo jobs that they name have to be there.
  const Folder folder;
  int count = 0;
  for (const fs::path& manual : manuals()) {
    for (std::vector<std::string> words : commands_in(manual)) {
      bool with_job = false;
      for (std::string& word : words) {
        if (fs::path(word).extension() != ".toml") continue;
        if (word.rfind("meshes/", 0) == 0)
          CHECK(fs::exists(fs::path(CALMPLATE_SOURCE_FOLDER) / word));
        word = "not_there.toml";
        with_job = true;
      }
      // A page is made of results; here of none.
      if (words.front() == "report") {
        words[1] = "not_there.toml";
        with_job = true;
      }
      const Outcome run = run_program(folder, words);
      CAPTURE(manual.filename(), words, run.err);
      CHECK(run.status == (with_job ? 2 : 0));
      if (with_job) CHECK_THAT(run.err, Catch::Contains("not_there.toml"));
      ++count;
    }
  }
  CHECK(count >= 2);
}

TEST_CASE("check prints what would be computed, writes nothing and takes no time", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const auto before = folder.content();
  const Outcome run = run_program(folder, {"check", "job.toml"});
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out, Catch::Contains("500 x 400 mm") && Catch::Contains("patch"));
  const Outcome json = run_program(folder, {"check", "job.toml", "--json"});
  CHECK(json.status == 0);
  CHECK(json.out.substr(0, 1) == "{");
  const Outcome quiet = run_program(folder, {"check", "job.toml", "--quiet"});
  CHECK(quiet.status == 0);
  CHECK(quiet.out.empty());
  CHECK(folder.content() == before);
}

TEST_CASE("output that cannot be written is a failure, not a success", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const Outcome run = run_into_full_device(folder, {"check", "job.toml"});
  CHECK(run.status == 1);
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::StartsWith("calmplate: ") && Catch::Contains("standard output"));
}

}  // namespace calmplate::cli
