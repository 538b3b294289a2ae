// SPDX-License-Identifier: GPL-3.0-or-later
// calmplate start: a job to begin with, drawn, that runs as it is and never replaces a file.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

const std::vector<std::string> kKinds = {
    "small-hatch-front", "estate-rear", "van-sliding", "aluminium"};

Outcome start(const Folder& folder, std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), "start");
  return run_program(folder, arguments);
}

/// What check says of a job, as JSON.
nlohmann::json checked(const Folder& folder, const std::string& job) {
  const Outcome run = run_program(folder, {"check", job, "--json"});
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  return nlohmann::json::parse(run.out);
}

void check_refused(const Folder& folder,
                   const std::vector<std::string>& arguments,
                   const std::vector<std::string>& words) {
  const auto before = folder.content();
  const Outcome run = start(folder, arguments);
  CAPTURE(arguments, run.err);
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
  for (const std::string& word : words) CHECK_THAT(run.err, Catch::Contains(word));
  CHECK(folder.content() == before);
}

}  // namespace

TEST_CASE("start writes one file and says what to do next", "[cli]") {
  const Folder folder;
  const Outcome run = start(folder, {"left_front"});
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  CHECK_THAT(run.out,
             Catch::StartsWith("Wrote left_front.toml: a small hatchback's front door") &&
                 Catch::Contains("invented") && Catch::Contains("calmplate check left_front.toml"));
  CHECK(folder.content().size() == 1);
  CHECK_THAT(folder.read("left_front.toml"),
             Catch::Contains("title = \"left_front\"") && Catch::Contains("invented"));
  const Outcome quiet = start(folder, {"other", "--quiet", "-o", "my other door.toml"});
  CHECK(quiet.status == 0);
  CHECK(quiet.out.empty());
  CHECK_THAT(folder.read("my other door.toml"),
             Catch::Contains("title = \"other\"") &&
                 Catch::Contains("calmplate check \"my other door.toml\""));
  const Outcome json = start(folder, {"third.toml", "--json", "--kind", "van-sliding"});
  CHECK(json.status == 0);
  const nlohmann::json said = nlohmann::json::parse(json.out);
  CHECK(said.at("file") == "third.toml");
  CHECK(said.at("kind") == "van-sliding");
  CHECK(said.at("title") == "third");
}

TEST_CASE("a name in quotes and back-strokes is a title like any other", "[cli]") {
  const Folder folder;
  REQUIRE(start(folder, {"the \"old\" \\ door", "-o", "a.toml"}).status == 0);
  CHECK(checked(folder, "a.toml").at("job").at("title") == "the \"old\" \\ door");
}

TEST_CASE("the job of every kind of door is one that check takes", "[cli]") {
  const Folder folder;
  for (const std::string& kind : kKinds) {
    CAPTURE(kind);
    REQUIRE(start(folder, {kind, "--kind", kind}).status == 0);
    const nlohmann::json panel = checked(folder, kind + ".toml").at("panel");
    CHECK(panel.at("worst_angle_deg") > 20.0);
    CHECK(panel.at("rim").size() >= 5);
    CHECK(panel.at("material") == (kind == "aluminium" ? "aluminium" : "steel"));
  }
}

TEST_CASE("sizes, sheet metal and a woofer's hole come out as asked", "[cli]") {
  const Folder folder;
  REQUIRE(start(folder,
                {"mine",
                 "--kind",
                 "estate-rear",
                 "--width-mm",
                 "900",
                 "--height-mm",
                 "600",
                 "--thickness-mm",
                 "0.9",
                 "--material",
                 "aluminium",
                 "--woofer-hole-mm",
                 "165"})
              .status == 0);
  const nlohmann::json panel = checked(folder, "mine.toml").at("panel");
  CHECK(panel.at("thickness_mm") == Approx(0.9));
  CHECK(panel.at("material") == "aluminium");
  CHECK(panel.at("size_flat_mm")[0] == Approx(900.0).margin(15.0));
  CHECK(panel.at("size_flat_mm")[1] == Approx(600.0).margin(15.0));
  bool woofer = false;
  for (const auto& part : panel.at("rim"))
    woofer = woofer || (part.at("name") == "hole-1" && part.at("length_mm") > 510.0 &&
                        part.at("length_mm") < 519.0);
  CHECK(woofer);
}

// The corners of what may be asked for: layouts, holes, recess and beam must fit there too.
TEST_CASE("the smallest and largest doors of every kind are jobs too", "[cli]") {
  const Folder folder;
  int count = 0;
  for (const std::string& kind : kKinds)
    for (const char* width : {"400", "1600"})
      for (const char* height : {"300", "1300"}) {
        const std::string name = "door" + std::to_string(count++);
        std::vector<std::string> arguments{
            name, "--kind", kind, "--width-mm", width, "--height-mm", height};
        if (count % 2 == 0) arguments.insert(arguments.end(), {"--woofer-hole-mm", "90"});
        CAPTURE(arguments);
        REQUIRE(start(folder, arguments).status == 0);
        const Outcome run = run_program(folder, {"check", name + ".toml", "--quiet"});
        CAPTURE(run.err);
        CHECK(run.status == 0);
      }
}

TEST_CASE("start never replaces a file and refuses what makes no door", "[cli][bad]") {
  const Folder folder;
  folder.write("mine.toml", "somebody's work");
  check_refused(folder, {"mine"}, {"mine.toml: is there already and stays as it is"});
  check_refused(folder, {"x", "-o", "mine.toml"}, {"mine.toml", "there already"});
  CHECK(folder.read("mine.toml") == "somebody's work");
  check_refused(folder, {"x", "-o", "nowhere/a.toml"}, {"nowhere", "is not a folder"});
  check_refused(folder, {"a/b"}, {"NAME", "no name of a file here"});
  check_refused(folder, {""}, {"NAME"});
  check_refused(folder,
                {"x", "--kind", "estate-raer"},
                {"--kind", "did you mean estate-rear?", "van-sliding"});
  check_refused(folder, {"x", "--width-mm", "1.04"}, {"--width-mm: is 1.04 mm", "400 to 1600 mm"});
  check_refused(folder, {"x", "--height-mm", "5000"}, {"--height-mm", "300 to 1300 mm"});
  check_refused(folder, {"x", "--thickness-mm", "0"}, {"--thickness-mm", "0.2 to 5 mm"});
  check_refused(folder, {"x", "--material", "wood"}, {"--material", "steel, aluminium"});
  check_refused(folder, {"x", "--woofer-hole-mm", "400"}, {"--woofer-hole-mm", "50 to 179.2 mm"});
  check_refused(folder, {"x", "--width-mm", "wide"}, {"--width-mm", "see calmplate --help"});
  check_refused(folder, {}, {"NAME"});
}

TEST_CASE("a started job runs to its end", "[cli]") {
  const Folder folder;
  REQUIRE(start(folder, {"mine", "--width-mm", "500", "--height-mm", "400"}).status == 0);
  // Coarse elements and a short band: this is about the run, not its figures.
  folder.write(
      "mine.toml",
      changed(changed(folder.read("mine.toml"), "thickness_mm", "element_mm = 30\nthickness_mm"),
              "high_Hz = 250",
              "high_Hz = 90"));
  const Outcome run = run_program(folder, {"run", "mine.toml", "-o", "out", "--no-pictures"});
  CAPTURE(run.err);
  CHECK(run.status == 0);
  CHECK_THAT(
      run.out,
      Catch::Contains("centre block") && Catch::Contains("partial") && Catch::Contains("full"));
}

TEST_CASE("a drawn job's faults are one line with file, line and key", "[cli][bad]") {
  const Folder folder;
  REQUIRE(start(folder, {"mine", "--quiet"}).status == 0);
  const std::string good = folder.read("mine.toml");
  const std::vector<std::pair<std::pair<std::string, std::string>, std::string>> cases = {
      {{"[39, 0, 45]", "[39, 0, 700]"}, "and the rounding of its corners needs"},
      {{"[980, 560, 35],\n  [0, 526, 45]", "[0, 526, 45],\n  [980, 560, 35]"},
       "crosses itself near"},
      {{"centre_mm = [936, 431]", "centre_mm = [1100, 431]"}, "lies outside the outline"},
      {{"from_mm = [69, 246]", "from_mm = [-300, 246]"}, "off the panel"},
      {{"crown_radius_up_m = 2.6", "crown_radius_up_m = 0.4"}, "which is no shallow skin"}};
  for (const auto& [change, words] : cases) {
    folder.write("bad.toml", changed(good, change.first, change.second));
    const Outcome run = run_program(folder, {"check", "bad.toml"});
    CAPTURE(change.second, run.err);
    CHECK(run.status == 2);
    CHECK(count_lines(run.err) == 1);
    CHECK_THAT(run.err, Catch::StartsWith("calmplate: bad.toml:") && Catch::Contains(words));
  }
}

TEST_CASE("check says that elements are too coarse for the band", "[cli]") {
  const Folder folder;
  REQUIRE(start(folder, {"mine", "--quiet"}).status == 0);
  CHECK_THAT(run_program(folder, {"check", "mine.toml"}).out, !Catch::Contains("coarse"));
  folder.write("mine.toml",
               changed(folder.read("mine.toml"), "thickness_mm", "element_mm = 40\nthickness_mm"));
  const Outcome run = run_program(folder, {"check", "mine.toml"});
  CHECK(run.status == 0);
  CHECK_THAT(run.out, Catch::Contains("Elements of 40 mm are coarse"));
}

}  // namespace calmplate::cli
