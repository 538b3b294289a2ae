// SPDX-License-Identifier: GPL-3.0-or-later
// The figures on the page are those of results.json.
#include <catch2/catch.hpp>

#include "page/page_html.hpp"

namespace calmplate {

using nlohmann::json;
using page::Voice;
using testing::page_of;
using testing::rounded;
using testing::table_with;

// Source: [derived] each figure of each table is the one in results.json after the rounding that
// stands beside it: dB 1 decimal, kg 2, shares of the skin whole percent, money 2, Hz 1, loss
// factors 3, ring times 2.
TEST_CASE("every figure of the tables is that of results.json, rounded", "[page][derived]") {
  const json results = sample::page_results();
  const std::string html = page_of(results, Voice::fitter);
  const json& layouts = results["layouts"];
  const auto options = table_with(html, "Ways of laying sheet");
  REQUIRE(options.size() == 3);
  for (std::size_t k = 0; k < 3; ++k) {
    const json& l = layouts[k];
    CHECK(options[k][1] == rounded(l["band_reduction_db"], 1));
    CHECK(options[k][2] == rounded(l["mass_kg"], 2));
    CHECK(options[k][3] == rounded(l["share"], 0, 100.0));
    CHECK(options[k][4] == (k == 0 ? "–" : rounded(l["stock_sheets"], 1)));
    CHECK(options[k][5] == (k == 0 ? "–" : rounded(l["cost"], 2)));
  }
  const auto levels = table_with(html, "Shaking around each frequency");
  const auto thirds = table_with(html, "dB less than bare in each");
  const auto woofer = table_with(html, "Skin against woofer");
  REQUIRE(levels.size() == 9);
  REQUIRE(thirds.size() == 9);
  REQUIRE(woofer.size() == 9);
  for (std::size_t b = 0; b < 9; ++b)
    for (std::size_t k = 0; k < 3; ++k) {
      const json& band = layouts[k]["third_octaves"][b];
      CHECK(levels[b][k + 1] == rounded(band["level_db"], 1));
      if (k > 0) CHECK(thirds[b][k] == rounded(band["reduction_db"], 1));
      CHECK(woofer[b][k + 1] == rounded(layouts[k]["sound"][b]["skin_under_woofer_dB"], 1));
    }
  const auto warm = table_with(html, "dB less than bare at each temperature");
  REQUIRE(warm.size() == 4);
  for (std::size_t t = 0; t < 4; ++t)
    for (std::size_t k = 1; k < 3; ++k)
      CHECK(warm[t][k] == rounded(layouts[k]["temperature"][t]["reduction_dB"], 1));
  const auto points = table_with(html, "dB less than bare at each point");
  REQUIRE(points.size() == 1);
  CHECK(points[0][2] == rounded(layouts[2]["listen_at"][0]["reduction_db"], 1));
}

// Source: [derived] as above.
TEST_CASE("modes, pieces, rattles and coverage are those of results.json", "[page][derived]") {
  const json results = sample::page_results();
  const std::string html = page_of(results, Voice::fitter);
  const auto modes = table_with(html, "Modes, partial");
  REQUIRE(modes.size() == 7);
  for (std::size_t m = 0; m < 7; ++m) {
    const json& mode = results["layouts"][1]["modes"][m];
    CHECK(modes[m][1] == rounded(mode["freq_hz"], 1));
    CHECK(modes[m][2] == rounded(mode["loss_factor"], 3));
    CHECK(modes[m][3] == rounded(mode["ring_time_s"], 2));
  }
  const auto pieces = table_with(html, "Pieces, partial");
  REQUIRE(pieces.size() == 4);
  for (std::size_t p = 0; p < 4; ++p) {
    const json& piece = results["layouts"][1]["pieces"][p];
    CHECK(pieces[p][1] == "butyl & foil");
    CHECK(pieces[p][2] == (p == 1 ? "outside" : "inside"));
    CHECK(pieces[p][3] ==
          rounded(piece["size_mm"][0], 0) + " × " + rounded(piece["size_mm"][1], 0));
    CHECK(pieces[p][4] == rounded(piece["area_m2"], 3));
    CHECK(pieces[p][5] == rounded(piece["mass_kg"], 2));
  }
  const auto rattles = table_with(html, "Margin to rattling");
  REQUIRE(rattles.size() == 3);
  for (std::size_t k = 0; k < 3; ++k) {
    const json& r = results["layouts"][k]["rattles"][0];
    CHECK(rattles[k][3] == rounded(r["sweep_peak_m_s2"], 1));
    CHECK(rattles[k][5] == rounded(r["sweep_margin_dB"], 1));
    CHECK(rattles[k][6] == rounded(r["pink_noise_margin_dB"], 1));
  }
  const auto coverage = table_with(html, "Pieces laid one after the other");
  REQUIRE(coverage.size() == 5);
  for (std::size_t k = 0; k < 5; ++k) {
    const json& point = results["coverage_curve"]["points"][k];
    CHECK(coverage[k][1] == rounded(point["share"], 0, 100.0));
    CHECK(coverage[k][4] == rounded(point["reduction_dB"], 1));
  }
  const auto unknowns = table_with(html, "Lowest and highest");
  REQUIRE(unknowns.size() == 2);
  CHECK(unknowns[0] ==
        std::vector<std::string>{"partial", "2.3 to 7.9", "51.3 to 66.6", "0.051 to 0.124"});
  CHECK(html.find("at most 0.24 % and the reductions by at most 0.07 dB") != std::string::npos);
}

// Source: [derived] as above, from cutting.json.
TEST_CASE("what to buy stands on the fitter's page once it was cut", "[page][derived]") {
  const sample::PageFolder folder(sample::page_results());
  CHECK(page::report_page(folder.path(), Voice::fitter).find("Stock to buy") == std::string::npos);
  std::filesystem::create_directories(folder.path() / "cutting");
  const json sheet = {{"sheet", "butyl & foil"},
                      {"form", "sheet"},
                      {"bought", 2},
                      {"cost", 18.126},
                      {"roll_used_mm", nullptr},
                      {"waste_share", 0.1269}};
  json roll = sheet;
  roll["form"] = "roll";
  roll["roll_used_mm"] = 1234.6;
  roll["cost"] = nullptr;
  const json layout = {
      {"name", "full"}, {"minutes", 29.8}, {"plan", {{"sheets", json::array({sheet, roll})}}}};
  folder.write("cutting/cutting.json",
               json({{"schema", "calmplate-cutting"},
                     {"currency", "EUR"},
                     {"layouts", json::array({layout})}})
                   .dump());
  const auto rows = table_with(page::report_page(folder.path(), Voice::fitter), "Stock to buy");
  REQUIRE(rows.size() == 2);
  CHECK(rows[0] ==
        std::vector<std::string>{"full", "butyl & foil", "2", rounded(18.126, 2), "13", "30"});
  CHECK(rows[1][2] == "1235 mm of roll");
  CHECK(rows[1][3] == "–");
  CHECK(page::report_page(folder.path(), Voice::customer).find("waste") == std::string::npos);
}

}  // namespace calmplate
