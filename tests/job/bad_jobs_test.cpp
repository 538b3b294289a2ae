// SPDX-License-Identifier: GPL-3.0-or-later
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "job/good_job.hpp"
#include "job/job.hpp"
#include "job/read_sections.hpp"

namespace calmplate {
namespace {

namespace fs = std::filesystem;

struct Case {
  std::string from, to, message;
};

/// One block of lines, without its mark and joined again.
void add_line(std::string& block, bool& begun, const std::string& line) {
  if (begun) block += "\n";
  begun = true;
  if (line.size() > 2) block += line.substr(2);
}

/// Reads tests/data/job/bad_jobs.txt, whose head describes its form.
std::vector<Case> bad_jobs() {
  std::ifstream file(std::string(CALMPLATE_TEST_DATA) + "/job/bad_jobs.txt");
  std::vector<Case> cases;
  Case next;
  bool from = false, to = false;
  for (std::string line; std::getline(file, line);) {
    if (line.rfind('-', 0) == 0) add_line(next.from, from, line);
    if (line.rfind('+', 0) == 0) add_line(next.to, to, line);
    if (line.rfind("! ", 0) == 0) {
      next.message = line.substr(2);
      cases.push_back(next);
      next = Case();
      from = to = false;
    }
  }
  return cases;
}

/// The message with which a job's text is refused, or what else happened.
std::string refusal(const std::string& text) {
  try {
    job::read_job_text(text, "door.toml");
  } catch (const base::InputError& e) {
    return e.what();
  }
  return "it was read without complaint";
}

/// A folder of this test's own, gone with it.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / ("job_test_" + std::to_string(getpid()))) {
    fs::create_directory(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  fs::path file(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return path_ / name;
  }
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

/// As `refusal`, for a file; the folder's name is cut off.
std::string refusal_of_file(const fs::path& file) {
  try {
    job::read_job(file);
  } catch (const base::InputError& e) {
    CHECK(e.where().file == file.string());
    const std::string folder = file.parent_path().string() + "/";
    const std::string message = e.what();
    return message.rfind(folder, 0) == 0 ? message.substr(folder.size()) : message;
  }
  return "it was read without complaint";
}

}  // namespace

// Source: [practice] common practice, no source: one line with file, line, key, fault, remedy.
TEST_CASE("each fault in a job has one line that says where and what", "[job][practice]") {
  const std::vector<Case> cases = bad_jobs();
  REQUIRE(cases.size() >= 100);
  CHECK(refusal(testing::good_job()) == "it was read without complaint");
  for (const Case& c : cases) {
    CAPTURE(c.from, c.to);
    const std::string text = testing::with(testing::good_job(), c.from, c.to);
    REQUIRE_FALSE(text.empty());
    CHECK(refusal(text) == c.message);
  }
}

// Source: [practice] as above.
TEST_CASE("faults that need a job of their own", "[job][practice]") {
  const std::string panel =
      "[job]\ntitle = 't'\n[panel]\nmesh = 'a.vtp'\nthickness_mm = 0.8\nfree = true\n";
  const std::string drive = "[drive]\nkind = 'pressure'\n";
  CHECK(refusal(panel + drive) == "it was read without complaint");
  CHECK(refusal(drive) == "door.toml: job: is missing; allowed: one section [job]");
  CHECK(refusal("[job]\ntitle = 't'\n") ==
        "door.toml: panel: is missing; allowed: one section [panel]");
  CHECK(refusal(testing::with(panel, "free = true", "free = false") + drive) ==
        "door.toml:3: panel.edge: is missing; allowed: at least one [[panel.edge]] that says what "
        "holds the rim, or free = true in [panel] if nothing does");
  CHECK(refusal(panel + drive + "[[layout]]\nname = 'a'\n[[layout.piece]]\nsheet = 'b'\n") ==
        "door.toml:12: layout[1].piece[1].sheet: is \"b\", and the job has no sheet");
  CHECK(refusal(panel + drive +
                "[woofer]\nfs_Hz = 65\nQes = 0.62\nQts = 0.54\nRe_ohm = 3.2\nSd_cm2 = 133\n"
                "Vas_l = 10\n[amplifier]\npower_W = 20\n") ==
        "door.toml: cavity: is missing; allowed: one section [cavity], as there is a [woofer]: its "
        "back plays into it");
  const std::string woofer =
      "[woofer]\nfs_Hz = 65\nQes = 0.62\nQts = 0.54\nRe_ohm = 3.2\nSd_cm2 = 133\nVas_l = 10\n"
      "[amplifier]\npower_W = 20\n[cavity]\nvolume_l = 40\n";
  CHECK(refusal(panel + woofer) == "it was read without complaint");
  CHECK(refusal(panel + "[drive]\nkind = 'woofer'\n" + woofer) == "it was read without complaint");
  CHECK(
      refusal(panel + "[drive]\nkind = 'woofer'\n") ==
      "door.toml:8: drive.kind: is \"woofer\", but there is no [woofer]; allowed: [woofer] too, or "
      "another kind");
  CHECK(refusal(panel) == "door.toml: drive: is missing; allowed: one section [drive]");
  // Nothing would reach the skin.
  const std::string open = woofer + "wanted = false\n";
  CHECK(refusal(panel + drive + open) == "it was read without complaint");
  const std::string no_path =
      "cavity.wanted: is false, so that a woofer on the inner panel does not reach the skin; "
      "allowed: "
      "true, or [woofer] mounting = \"skin\", or another kind of [drive]";
  CHECK(refusal(panel + open) == "door.toml:16: " + no_path);
  CHECK(refusal(panel + "[drive]\nkind = 'woofer'\n" + open) == "door.toml:18: " + no_path);
  CHECK(refusal(panel + testing::with(open,
                                      "[amplifier]",
                                      "mounting = 'skin'\nring_centre_mm = [300, 300]\n"
                                      "ring_diameter_mm = 150\nframe_mass_kg = 1\n[amplifier]")) ==
        "it was read without complaint");
  CHECK(refusal(panel + drive + "[benefit_map]\nwanted = true\n") ==
        "door.toml:10: benefit_map.wanted: is true, but the job has no sheet that damps; allowed: "
        "a [[sheet]] of kind \"constrained\" or \"free-layer\"");
  CHECK(refusal(testing::with(panel, "'t'", "'" + std::string(201, 'x') + "'") + drive) ==
        "door.toml:2: job.title: is 201 characters long; allowed: a text of 1 to 200 characters");
  CHECK(refusal("[job]\ntitle = \"\xff\"\n" + drive) ==
        "door.toml:2: is not UTF-8 text; allowed: a job file saved as UTF-8");
  CHECK(refusal(panel + drive + "[[spring]]\nname = '" + std::string(90, 'y') + "'\nat_mm = '" +
                std::string(90, 'z') + "'\n") ==
        "door.toml:11: spring[1].at_mm: is a string, \"" + std::string(60, 'z') +
            "...\"; allowed: two numbers [x, y] in mm, each from -10000 to 10000");
}

// Source: [practice] as above.
TEST_CASE("a file that cannot be a job is refused in one line", "[job][practice]") {
  const Folder folder;
  CHECK(refusal_of_file(folder.path() / "none.toml") ==
        "none.toml: does not exist; allowed: a job file");
  CHECK(refusal_of_file(folder.path() / "none" / "a.toml") ==
        "a.toml: does not exist; allowed: a job file");
  CHECK(refusal_of_file(folder.path()).find(": is a folder; allowed: a job file") !=
        std::string::npos);
  CHECK(refusal_of_file(folder.file("empty.toml", "")) ==
        "empty.toml: is empty; allowed: a job file with at least [job], [panel] and [drive]");
  CHECK(refusal_of_file(folder.file("blank.toml", " \n\t\r\n")) ==
        "blank.toml: is empty; allowed: a job file with at least [job], [panel] and [drive]");
  CHECK(refusal_of_file(folder.file("huge.toml", std::string(5U << 20U, '#'))) ==
        "huge.toml: is 5 MB long; allowed: a job file of up to 4 MB");
  CHECK(refusal_of_file(folder.file("utf16.toml", std::string("\xff\xfe[\0j\0", 6))) ==
        "utf16.toml:1: is not UTF-8 text; allowed: a job file saved as UTF-8");
  const fs::path pipe = folder.path() / "pipe.toml";
  REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
  CHECK(refusal_of_file(pipe) == "pipe.toml: is not an ordinary file; allowed: a job file");
  const fs::path locked = folder.file("locked.toml", "[job]\n");
  fs::permissions(locked, fs::perms::none);
  if (geteuid() != 0)  // root may read everything
    CHECK(refusal_of_file(locked) ==
          "locked.toml: cannot be opened for reading; allowed: a file you may read");
  CHECK(job::read_job(folder.file("good.toml", testing::good_job())).mesh_file ==
        folder.path() / "meshes" / "skin.stl");
}

}  // namespace calmplate
