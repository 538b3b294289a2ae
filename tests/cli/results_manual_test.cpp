// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

using Json = nlohmann::json;

/// All keys of a result file but those that are names of layouts.
void collect_keys(const Json& value, std::set<std::string>& keys) {
  if (value.is_object())
    for (const auto& [key, inner] : value.items()) {
      keys.insert(key);
      // Under the curves' level_db stand names of layouts.
      if (key == "level_db" && inner.is_object()) continue;
      collect_keys(inner, keys);
    }
  else if (value.is_array())
    for (const Json& inner : value) collect_keys(inner, keys);
}

/// @param further  options of the command
std::set<std::string> keys_of(const std::string& command,
                              const std::string& job,
                              const std::vector<std::string>& further) {
  const Folder folder;
  write_small_job(folder);
  folder.write("job.toml", job);
  std::vector<std::string> words{command, "job.toml", "-o", "out", "--no-pictures", "--quiet"};
  words.insert(words.end(), further.begin(), further.end());
  const Outcome run = run_program(folder, words);
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  std::set<std::string> keys;
  collect_keys(Json::parse(folder.read("out/results.json")), keys);
  return keys;
}

}  // namespace

TEST_CASE("every key of the results stands in the manual", "[cli]") {
  std::ifstream file(std::string(CALMPLATE_SOURCE_FOLDER) + "/docs/results-file.md");
  const std::string manual((std::istreambuf_iterator<char>(file)), {});
  const std::string more = R"toml(
[[sheet]]
name = "other"
shelf = "bitumen 2 mm"

[[layout]]
name = "placed"
[layout.place]
sheet = "butyl"
sizes_mm = [[150, 100]]
pieces = 2

[sheet_comparison]
layout = "patch"

[conditions]
temperatures_C = [10, 30]

[unknowns]
thickness_mm = [0.7, 0.9]
samples = 2
)toml";
  std::set<std::string> keys = keys_of("run", small_job() + more, {"--convergence"});
  keys.merge(keys_of("run", woofer_job(), {}));
  const std::string foil = "foil_thickness_mm = 0.1\n";
  keys.merge(
      keys_of("place",
              changed(small_job(), foil, foil + "stock_width_mm = 250\nstock_length_mm = 400\n"),
              {"--share=20"}));
  CHECK(keys.size() > 100);
  for (const std::string& key : keys) {
    CAPTURE(key);
    CHECK_THAT(manual, Catch::Contains("`" + key + "`"));
  }
}

}  // namespace calmplate::cli
