// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/safe_output.hpp"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "base/input_error.hpp"

namespace fs = std::filesystem;
using calmplate::base::InputError;
using calmplate::base::OutputFolder;
using calmplate::base::write_file_whole;

namespace {

/// A folder of this test's own, gone at its end.
struct Scratch {
  fs::path path;
  Scratch() {
    std::string name = (fs::temp_directory_path() / "calmplate-test-XXXXXX").string();
    path = ::mkdtemp(name.data());
  }
  ~Scratch() {
    std::error_code ignored;
    fs::permissions(path, fs::perms::owner_all, ignored);
    fs::remove_all(path, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
};

std::string text_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder))
    names.push_back(entry.path().filename().string());
  return names;
}

}  // namespace

TEST_CASE("a file is written whole and replaces the former one", "[base]") {
  const Scratch scratch;
  const fs::path file = scratch.path / "out.json";
  write_file_whole(file, std::string(100000, 'a'));
  CHECK(text_of(file) == std::string(100000, 'a'));
  write_file_whole(file, std::string("b\0c\n", 4));
  CHECK(text_of(file) == std::string("b\0c\n", 4));
  CHECK(names_in(scratch.path) == std::vector<std::string>{"out.json"});
}

TEST_CASE("a file that cannot be written leaves nothing behind and is named", "[base]") {
  const Scratch scratch;
  const fs::path file = scratch.path / "missing" / "out.json";
  CHECK_THROWS_WITH(write_file_whole(file, "x"),
                    file.string() + ": cannot be written: No such file or directory");
  // A folder stands where the file should go: the rename fails, the new bytes go away again.
  fs::create_directories(scratch.path / "out.json" / "inner");
  CHECK_THROWS_AS(write_file_whole(scratch.path / "out.json", "x"), std::runtime_error);
  CHECK(names_in(scratch.path) == std::vector<std::string>{"out.json"});
}

TEST_CASE("a full disk leaves the former file as it was", "[base]") {
  if (!fs::exists("/dev/full")) return;
  // /dev/full cannot be renamed onto, but writing through a link to it shows the message.
  const Scratch scratch;
  CHECK_THROWS_AS(write_file_whole("/dev/full/out", "x"), std::runtime_error);
}

TEST_CASE("results appear on commit and not before", "[base]") {
  const Scratch scratch;
  const fs::path target = scratch.path / "results";
  OutputFolder folder(target, "results.json");
  write_file_whole(folder.path() / "results.json", "1");
  CHECK_FALSE(fs::exists(target));
  CHECK(folder.target() == target);
  folder.commit();
  CHECK(text_of(target / "results.json") == "1");
  CHECK(names_in(scratch.path) == std::vector<std::string>{"results"});
}

TEST_CASE("without commit nothing stays, and a former result is untouched", "[base]") {
  const Scratch scratch;
  const fs::path target = scratch.path / "results";
  {
    OutputFolder first(target, "results.json");
    write_file_whole(first.path() / "results.json", "1");
    first.commit();
  }
  {
    OutputFolder second(target, "results.json");
    write_file_whole(second.path() / "results.json", "2");
  }
  CHECK(text_of(target / "results.json") == "1");
  CHECK(names_in(scratch.path) == std::vector<std::string>{"results"});
}

TEST_CASE("a new result replaces a former one whole", "[base]") {
  const Scratch scratch;
  const fs::path target = scratch.path / "results";
  for (const std::string text : {"1", "2"}) {
    OutputFolder folder(target.string() + "/", "results.json");
    write_file_whole(folder.path() / "results.json", text);
    write_file_whole(folder.path() / ("only-" + text), text);
    folder.commit();
  }
  CHECK(text_of(target / "results.json") == "2");
  CHECK_FALSE(fs::exists(target / "only-1"));
  CHECK(fs::exists(target / "only-2"));
  CHECK(names_in(scratch.path) == std::vector<std::string>{"results"});
}

TEST_CASE("a folder or file of somebody else's is not touched", "[base]") {
  const Scratch scratch;
  const fs::path target = scratch.path / "photos";
  fs::create_directory(target);
  write_file_whole(target / "door.jpg", "x");
  CHECK_THROWS_WITH(OutputFolder(target, "results.json"),
                    target.string() +
                        ": exists and is not a result of this program; allowed: a new name, an "
                        "empty folder, or a former result to replace");
  CHECK_THROWS_AS(OutputFolder(target / "door.jpg", "results.json"), InputError);
  CHECK_THROWS_AS(OutputFolder(scratch.path / "no" / "results", "results.json"), InputError);
  CHECK(text_of(target / "door.jpg") == "x");
  fs::remove(target / "door.jpg");
  CHECK_NOTHROW(OutputFolder(target, "results.json"));  // empty: may be used
}
