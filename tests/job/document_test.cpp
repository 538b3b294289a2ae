// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>

#include "job/good_job.hpp"
#include "job/job.hpp"
#include "job/key_unit.hpp"
#include "job/keys.hpp"
#include "job/read_sections.hpp"

namespace calmplate {
namespace {

std::string document() {
  std::ifstream file(std::string(CALMPLATE_DOCS) + "/job-file.md");
  return std::string((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
}

/// The first block of the document that is marked as TOML.
std::string example() {
  const std::string text = document(), mark = "```toml\n";
  const std::size_t begin = text.find(mark);
  if (begin == std::string::npos) return "";
  const std::size_t from = begin + mark.size();
  return text.substr(from, text.find("```", from) - from);
}

/// The rows of the table under each heading: section title to key to row.
std::map<std::string, std::map<std::string, std::string>> rows() {
  std::map<std::string, std::map<std::string, std::string>> found;
  std::istringstream text(document());
  std::string section;
  const std::regex heading("^## `([^`]+)`$"), key("`([A-Za-z0-9_]+)`");
  for (std::string line; std::getline(text, line);) {
    std::smatch match;
    if (std::regex_match(line, match, heading)) section = match[1];
    if (line.rfind("| `", 0) != 0) continue;
    // The first cell may name several keys.
    const std::string cell = line.substr(0, line.find(" | "));
    for (std::sregex_iterator k(cell.begin(), cell.end(), key), end; k != end; ++k)
      found[section][(*k)[1]] = line;
  }
  return found;
}

/// Keys whose value is a point, or points and distances on the skin.
const std::set<std::string> kPlaces = {"from_mm",
                                       "to_mm",
                                       "at_mm",
                                       "pads_mm",
                                       "centre_mm",
                                       "size_mm",
                                       "outline_mm",
                                       "line_mm",
                                       "crown_centre_mm",
                                       "ring_centre_mm",
                                       "leak_centre_mm",
                                       "sizes_mm",
                                       "cone_centre_mm"};

/// Every key whose value is one number or a list of them, with its section before it.
std::set<std::string> number_keys() {
  const std::regex no_unit(
      "(.*_)?loss_factor|poisson|price_per_sheet|Q[emt]s|count|(high|low)_pass_order|"
      "exponent|wlf_c1|cost|pieces|weights|samples|sheet_count|(edge|pad|crown|modulus)_factor");
  std::set<std::string> found;
  for (const job::Section* section : job::all_sections())
    for (const std::string& key : section->keys)
      if ((!job::KeyUnit(key).name().empty() && kPlaces.count(key) == 0) ||
          std::regex_match(key, no_unit))
        found.insert(section->title + " " + key);
  return found;
}

}  // namespace

// Source: [practice] common practice, no source: what a document shows must work as shown.
TEST_CASE("the example of the job-file document is read as it stands", "[job][practice]") {
  REQUIRE(example().size() > 500);
  const job::Job j = job::read_job_text(example(), "door.toml");
  CHECK(j.title.find("(invented)") != std::string::npos);
  CHECK(j.layouts.size() == 2);
  CHECK(j.sheets.size() == 2);
}

// Source: [practice] as above.
TEST_CASE("the document lists the keys the reader knows, and no others", "[job][practice]") {
  const auto written = rows();
  std::set<std::string> titles;
  for (const job::Section* section : job::all_sections()) {
    CAPTURE(section->title);
    titles.insert(section->title);
    REQUIRE(written.count(section->title) == 1);
    const auto& keys = written.at(section->title);
    for (const std::string& key : section->keys) {
      CAPTURE(key);
      CHECK(keys.count(key) == 1);
    }
    CHECK(keys.size() == section->keys.size());
  }
  CHECK(written.size() == titles.size());
}

// Source: [practice] as above: each number of the job that has every key is made far too large, and
// what the reader then allows must stand in the key's row.
TEST_CASE("the document gives each number the range the reader holds it to", "[job][practice]") {
  const auto written = rows();
  std::string job = testing::good_job();
  // Keys of the other kinds of drive, amplifier and cavity, in jobs of their own.
  const std::string tap = "kind = \"tap\"\nat_mm = [250, 250]\nimpulse_Ns = 0.03\ncontact_ms = 5\n";
  const std::string jobs[] = {
      job,
      testing::with(job, tap, "kind = \"force\"\nat_mm = [250, 250]\nforce_N = 2\n"),
      testing::with(job, tap, "kind = \"pressure\"\npressure_Pa = 2\n"),
      testing::with(job, "voltage_V = 8", "power_W = 20"),
      testing::with(job, "volume_l = 30", "depth_bottom_mm = 90\ndepth_top_mm = 70"),
      testing::with(job, "volume_l = 30", "depth_mm = 90"),
      testing::with(job, "element_mm = 15", "scan_noise_mm = 0.3\nsmallest_hole_mm = 25"),
      testing::drawn_job(false),
      testing::drawn_job(true)};
  std::set<std::string> checked;
  const std::regex number_line("^([A-Za-z0-9_]+) = (\\[?)-?[0-9.]+(e-?[0-9]+)?(, -?[0-9.]+)*\\]?$");
  for (const std::string& good : jobs) {
    std::istringstream text(good);
    std::string section;
    std::size_t begin = 0;
    for (std::string line; std::getline(text, line); begin += line.size() + 1) {
      std::smatch match;
      if (line.rfind('[', 0) == 0)
        section = line.rfind("[material", 0) == 0 ? "[material.NAME]" : line;
      if (!std::regex_match(line, match, number_line)) continue;
      const std::string key = match[1], list = match[2];
      if (!list.empty() && (kPlaces.count(key) > 0 || key == "along" || key == "outward")) continue;
      CAPTURE(section, key);
      std::string bad = good;
      bad.replace(begin, line.size(), key + " = " + list + "1e12" + (list.empty() ? "" : "]"));
      std::string allowed;
      try {
        job::read_job_text(bad, "door.toml");
      } catch (const base::InputError& e) {
        allowed = e.allowed();
      }
      REQUIRE_FALSE(allowed.empty());
      std::smatch range;
      REQUIRE(std::regex_search(allowed, range, std::regex("^(0, or )?[-0-9.e]+ to [-0-9.]+")));
      CHECK(written.at(section).at(key).find("| " + range.str() + " |") != std::string::npos);
      checked.insert(section + " " + key);
    }
  }
  CHECK(checked == number_keys());
}

}  // namespace calmplate
