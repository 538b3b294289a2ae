// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

using Catch::Contains;
using Json = nlohmann::json;

/// The small job with a stock size and a price for its sheet, and what else is to stand in it.
std::string cut_job(const std::string& further) {
  std::string job = changed(small_job(),
                            "foil_thickness_mm = 0.1\n",
                            "foil_thickness_mm = 0.1\nprice_per_sheet = 4.5\n"
                            "stock_width_mm = 300\nstock_length_mm = 400\n");
  return job + further;
}

const std::string kSplit = "\n[cutting]\nsplit = true\n";

Folder& written(Folder& folder, const std::string& job) {
  write_small_job(folder);
  folder.write("job.toml", job);
  return folder;
}

void check_refused(const std::string& job,
                   const std::vector<std::string>& further,
                   const std::string& words) {
  Folder folder;
  written(folder, job);
  const auto before = folder.content();
  std::vector<std::string> arguments{"cut", "job.toml", "-o", "out"};
  arguments.insert(arguments.end(), further.begin(), further.end());
  const Outcome run = run_program(folder, arguments);
  CAPTURE(words, run.err);
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Contains(words));
  CHECK(folder.content() == before);
}

}  // namespace

TEST_CASE("cut writes plans, templates and the laying sheet of one layout", "[cli]") {
  Folder folder;
  written(folder, cut_job(""));
  const Outcome run = run_program(
      folder, {"cut", "job.toml", "-o", "out", "--layout", "patch", "--paper", "Letter"});
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  CHECK(run.err.empty());
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "out"))
    names.insert(entry.path().filename().string());
  CHECK(names == std::set<std::string>{"cutting.json",
                                       "cutting.txt",
                                       "laying_sheet.pdf",
                                       "plan.pdf",
                                       "plan.png",
                                       "plan.svg",
                                       "template_1.svg",
                                       "templates_long.pdf",
                                       "templates_long_inner.svg",
                                       "templates_tiles.pdf"});
  for (const char* pdf : {"laying_sheet.pdf", "templates_tiles.pdf", "templates_long.pdf"})
    CHECK_THAT(folder.read(std::string("out/") + pdf), Catch::StartsWith("%PDF-"));
  CHECK_THAT(folder.read("out/plan.png"), Catch::StartsWith("\x89PNG"));
  CHECK_THAT(run.out, Catch::StartsWith(folder.read("out/cutting.txt")));
  CHECK_THAT(run.out, Contains("buy 1 sheet of 300 x 400 mm, 4.50 EUR"));
  CHECK_THAT(run.out, Contains("No straight-cut plan needs fewer."));
  CHECK_THAT(run.out, Contains("A 125 mm from bottom and 150 mm from"));
  const Json json = Json::parse(folder.read("out/cutting.json"));
  CHECK(json["schema"] == "calmplate-cutting");
  CHECK(json["paper"] == "Letter");
  CHECK(json["together"].is_null());
  const Json& plan = json["layouts"][0]["plan"];
  CHECK(plan["cost"] == 4.5);
  CHECK(plan["sheets"][0]["bought"] == 1);
  CHECK(plan["sheets"][0]["stock"][0]["cuts"].size() == 2);
  CHECK(json["layouts"][0]["pieces"][0]["size_mm"] == Json({200.0, 150.0}));
}

TEST_CASE("several layouts are cut each alone and all together", "[cli]") {
  Folder folder;
  written(folder, cut_job(kSplit));
  const Outcome run = run_program(folder, {"cut", "job.toml", "-o", "out"});
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  CHECK(std::filesystem::exists(folder / "out/plan.png"));
  CHECK(std::filesystem::exists(folder / "out/layout_patch/template_1.svg"));
  CHECK(std::filesystem::exists(folder / "out/layout_full/templates_tiles.pdf"));
  const Json json = Json::parse(folder.read("out/cutting.json"));
  CHECK(json["layouts"].size() == 2);
  CHECK(json["together"]["layouts"] == Json({"patch", "full"}));
  CHECK(json["layouts"][1]["pieces"].size() >= 2);
  for (const Json& piece : json["layouts"][1]["pieces"]) CHECK(piece["was_split"] == true);
  CHECK_THAT(run.out, Contains("All layouts together") && Contains("of patch"));
  CHECK_THAT(run.out, Contains("computed in one piece"));
}

TEST_CASE("cut with --json prints cutting.json, with --quiet nothing, and the same bytes again",
          "[cli]") {
  Folder folder;
  written(folder, cut_job(kSplit));
  const Outcome json = run_program(folder, {"cut", "job.toml", "-o", "out", "--json"});
  REQUIRE(json.status == 0);
  CHECK(json.out == folder.read("out/cutting.json"));
  std::set<std::string> first;
  for (const std::string& entry : folder.content())
    if (entry.rfind("out/", 0) == 0) first.insert(entry);
  const Outcome quiet = run_program(folder, {"cut", "job.toml", "-o", "out", "--quiet"});
  CHECK(quiet.status == 0);
  CHECK(quiet.out.empty());
  CHECK(quiet.err.empty());
  // Names, sizes and hashes of all files.
  std::set<std::string> second;
  for (const std::string& entry : folder.content())
    if (entry.rfind("out/", 0) == 0) second.insert(entry);
  CHECK(first.size() > 10);
  CHECK(first == second);
}

TEST_CASE("offcuts of the job are used before a sheet is bought", "[cli]") {
  Folder folder;
  written(folder, cut_job("\n[[offcut]]\nsheet = \"butyl\"\nsize_mm = [150, 210]\n"));
  const Outcome run = run_program(folder, {"cut", "job.toml", "-o", "out", "--layout", "patch"});
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  CHECK_THAT(run.out, Contains("buy nothing; use 1 offcut from the shelf"));
  CHECK_THAT(run.out, Contains("offcut 1 from the shelf, 150 x 210 mm"));
}

TEST_CASE("a layout whose pieces are to be found is placed, then cut", "[cli]") {
  Folder folder;
  written(folder,
          cut_job("\n[[layout]]\nname = \"found\"\n[layout.place]\nsheet = \"butyl\"\n"
                  "sizes_mm = [[150, 100]]\npieces = 2\n"));
  const Outcome run =
      run_program(folder, {"cut", "job.toml", "-o", "out", "--layout", "found", "--quiet"});
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  const Json json = Json::parse(folder.read("out/cutting.json"));
  CHECK(json["layouts"][0]["pieces"].size() == 2);
}

TEST_CASE("what cannot be cut is one line that says so, and nothing is written", "[cli]") {
  check_refused(cut_job(""), {}, "larger than the stock of \"butyl\", 300 x 400 mm");
  check_refused(cut_job(""), {}, "split = true under [cutting]");
  check_refused(small_job(), {"--layout", "patch"}, "has no stock size, and 200 x 150 mm");
  check_refused(cut_job(""),
                {"--layout", "pach"},
                "has no layout \"pach\"; did you mean \"patch\"?; allowed: \"patch\", \"full\"");
  check_refused(cut_job("\n[[offcut]]\nsheet = \"butil\"\nsize_mm = [150, 210]\n"), {}, "butil");
  const std::string layouts = small_job().substr(small_job().find("[[layout]]"));
  std::string none = cut_job("");
  none.erase(none.find("[[layout]]"), layouts.find("[drive]"));
  check_refused(none, {}, "layout: is missing");
}

}  // namespace calmplate::cli
