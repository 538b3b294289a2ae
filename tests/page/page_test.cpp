// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/page.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>

#include "base/input_error.hpp"
#include "page/page_html.hpp"
#include "page/sample_folder.hpp"

namespace calmplate {
using nlohmann::json;
using page::Voice;
using testing::page_of;
using testing::table_with;
using testing::tags_of;
using testing::without_tags;

// Source: [derived] 3.1449 dB is a factor of 10^(-3.1449/20) = 0.696 in motion, 30 % less.
TEST_CASE("the customer's answer gives the proposal's figures", "[page][derived]") {
  const std::string text = without_tags(page_of(sample::page_results(), Voice::customer));
  CHECK(
      text.find("With “partial” the door skin shakes 3.1 dB less where the woofer plays (40 to 250 "
                "Hz): it moves 30 % less.") != std::string::npos);
  CHECK(text.find("It takes 0.57 kg of damping sheet on 27 % of the skin, about 3.75 EUR") !=
        std::string::npos);
  CHECK(text.find("gain of “partial” lies between 2.3 and 7.9 dB") != std::string::npos);
}

// Source: [practice] common practice, no source: a proposal is the fitter's choice, else the
// calmest.
TEST_CASE("without a proposal the page puts the calmest layout forward", "[page][practice]") {
  json results = sample::page_results();
  results["report"]["proposal"] = nullptr;
  const std::string text = without_tags(page_of(results, Voice::customer));
  CHECK(text.find("With “full” the door skin shakes 6.2 dB less") != std::string::npos);
  results["layouts"][2]["band_reduction_db"] = -1.26;
  results["layouts"][1]["band_reduction_db"] = -2.0;
  CHECK(without_tags(page_of(results, Voice::customer)).find("shakes 1.3 dB more") !=
        std::string::npos);
}

// Source: [practice] common practice, no source: words that a person without the trade's training
// does not know.
TEST_CASE("the customer's page has no jargon", "[page][practice]") {
  std::string text = without_tags(page_of(sample::page_results(), Voice::customer));
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  for (const char* word : {"modal",
                           "mode",
                           "loss factor",
                           "octave",
                           "eigen",
                           "degrees of freedom",
                           "nm/s",
                           "rms",
                           "mobility",
                           "impedance",
                           "element",
                           "mesh",
                           "third"}) {
    CAPTURE(word);
    CHECK(text.find(word) == std::string::npos);
  }
}

TEST_CASE("what people write stands as text, not as markup", "[page]") {
  json results = sample::page_results();
  const std::string bad = "<script>alert(1)</script>\" onload='x'";
  results["job"]["title"] = bad;
  for (auto& entry : results["report"].items())
    if (entry.key() != "proposal" && entry.key() != "logo") entry.value() = bad;
  results["answer"] = bad;
  results["notes"] = {bad};
  results["layouts"][1]["name"] = bad;
  results["curves"]["level_db"][bad] = results["curves"]["level_db"]["partial"];
  for (const Voice voice : {Voice::customer, Voice::fitter}) {
    const std::string html = page_of(results, voice);
    CHECK(html.find("<script") == std::string::npos);
    CHECK(html.find("onload='") == std::string::npos);
    CHECK(html.find("&lt;script&gt;") != std::string::npos);
  }
}

// Source: [practice] common practice, no source: a page that is handed over must not call anywhere.
TEST_CASE("the page asks for nothing from anywhere", "[page][practice]") {
  const sample::PageFolder folder(sample::page_results());
  folder.write("logo.png", sample::tiny_png());
  folder.write("pictures/velocity_bare.png", sample::tiny_png());
  folder.write("pictures/velocity_partial.png", sample::tiny_png());
  for (const Voice voice : {Voice::customer, Voice::fitter}) {
    const std::string html = page::report_page(folder.path(), voice);
    for (const char* word : {"http:", "https:", "//www", "@import", "url(", "<iframe", "<object"}) {
      CAPTURE(word);
      CHECK(html.find(word) == std::string::npos);
    }
    const std::regex source("(src|href|srcset)=\"([^\"]{0,30})");
    int pictures = 0;
    for (std::sregex_iterator i(html.begin(), html.end(), source), end; i != end; ++i) {
      const std::string to = (*i)[2];
      CAPTURE(to);
      CHECK((to.rfind("data:", 0) == 0 || to.rfind("#", 0) == 0));
      pictures += to.rfind("data:image/png;base64,", 0) == 0 ? 1 : 0;
    }
    CHECK(pictures == 3);
  }
}

TEST_CASE("one heading of level 1, none left out, every picture and sound has words", "[page]") {
  const sample::PageFolder folder(sample::page_results());
  folder.write("logo.png", sample::tiny_png());
  folder.write("pictures/velocity_bare.png", sample::tiny_png());
  for (const Voice voice : {Voice::customer, Voice::fitter}) {
    const std::string html = page::report_page(folder.path(), voice);
    int last = 0, ones = 0;
    const std::regex heading("<h([1-6])");
    for (std::sregex_iterator i(html.begin(), html.end(), heading), end; i != end; ++i) {
      const int level = std::stoi((*i)[1]);
      CHECK(level <= last + 1);
      ones += level == 1 ? 1 : 0;
      last = level;
    }
    CHECK(ones == 1);
    CHECK(html.find("<html lang=\"en\">") != std::string::npos);
    for (const std::string& tag : tags_of(html, "img")) {
      const std::size_t alt = tag.find(" alt=\"");
      REQUIRE(alt != std::string::npos);
      CHECK(tag.find('"', alt + 6) > alt + 10);
    }
    CHECK(tags_of(html, "img").size() == 2);
    for (const std::string& tag : tags_of(html, "audio"))
      CHECK(tag.find("aria-label=\"A knock: ") != std::string::npos);
    CHECK(tags_of(html, "audio").size() == 3);
  }
}

TEST_CASE("without pictures, tones and extras the page is whole all the same", "[page]") {
  json results = sample::page_results();
  for (const char* key : {"report",
                          "cautions",
                          "sheets",
                          "tap",
                          "woofer",
                          "coverage_curve",
                          "unknowns",
                          "convergence"})
    results.erase(key);
  for (json& l : results["layouts"])
    for (const char* key : {"tap", "sound", "rattles", "temperature", "listen_at", "stock_sheets"})
      l.erase(key);
  for (const Voice voice : {Voice::customer, Voice::fitter}) {
    const std::string html = page_of(results, voice);
    CHECK(html.find("<img") == std::string::npos);
    CHECK(html.find("<audio") == std::string::npos);
    CHECK(html.find("<h1>Estate door</h1>") != std::string::npos);
    CHECK(html.find("</html>") != std::string::npos);
    CHECK(html.find("nan") == std::string::npos);
  }
}

// Source: [derived] ten layouts beside the bare skin, of which the table has room for seven: the
// proposal, which is the weakest, and the six that calm most.
TEST_CASE("a long list of choices keeps the proposal and the calmest", "[page][derived]") {
  json results = sample::page_results();
  json layouts = json::array({results["layouts"][0]});
  for (int k = 1; k <= 10; ++k) {
    json l = results["layouts"][1];
    l["name"] = "choice " + std::to_string(k);
    l["band_reduction_db"] = 1.0 * k;
    results["curves"]["level_db"][l["name"].get<std::string>()] =
        results["curves"]["level_db"]["partial"];
    layouts.push_back(l);
  }
  results["layouts"] = layouts;
  results["report"]["proposal"] = "choice 1";
  const std::string html = page_of(results, Voice::customer);
  std::vector<std::string> names;
  for (const auto& row : table_with(html, "Ways of laying sheet")) names.push_back(row[0]);
  CHECK(names == std::vector<std::string>{"bare skin",
                                          "choice 1 ◀",
                                          "choice 5",
                                          "choice 6",
                                          "choice 7",
                                          "choice 8",
                                          "choice 9",
                                          "choice 10"});
  CHECK(html.find("3 more are on the fitter") != std::string::npos);
  CHECK(table_with(page_of(results, Voice::fitter), "Ways of laying sheet").size() == 11);
}

TEST_CASE("a bare panel alone makes a page", "[page]") {
  json results = sample::page_results();
  results["layouts"] = json::array({results["layouts"][0]});
  results["coverage_curve"] = nullptr;
  CHECK(page_of(results, Voice::customer).find("Only the bare skin") != std::string::npos);
  CHECK(page_of(results, Voice::fitter).find("</html>") != std::string::npos);
}

TEST_CASE("the same folder gives the same bytes", "[page]") {
  const json results = sample::page_results();
  CHECK(page_of(results, Voice::fitter) == page_of(results, Voice::fitter));
}

TEST_CASE("a damaged results.json is refused with file and key", "[page]") {
  const auto refusal = [](const std::string& bytes) -> std::string {
    const sample::PageFolder folder(sample::page_results());
    folder.write("results.json", bytes);
    try {
      page::report_page(folder.path(), Voice::fitter);
    } catch (const base::InputError& e) {
      return std::string(e.what()).substr(folder.path().string().size() + 1);
    }
    return "it was taken";
  };
  const std::string good = sample::page_results().dump(1);
  CHECK(refusal(good.substr(0, good.size() / 2)) ==
        "results.json: is not valid JSON; allowed: results.json in a folder of calmplate run");
  CHECK(refusal("[]") == "results.json: is not an object; allowed: an object with the key schema");
  CHECK(refusal("") ==
        "results.json: is not valid JSON; allowed: results.json in a folder of calmplate run");
  const auto changed = [](const char* pointer, const json& value) {
    json results = sample::page_results();
    results[json::json_pointer(pointer)] = value;
    return results.dump();
  };
  CHECK(refusal(changed("/schema", "other")) ==
        "results.json: schema: is \"other\"; allowed: \"calmplate-results\"");
  CHECK(refusal(changed("/schema_version", 2)) ==
        "results.json: schema_version: is another version; allowed: 1");
  CHECK(refusal(changed("/layouts/1/mass_kg", "heavy")) ==
        "results.json: layouts[2].mass_kg: is not a number; allowed: a number");
  CHECK(refusal(changed("/layouts/1/tap/0/decay_per_s", -1.0)) ==
        "results.json: layouts[2].tap[1]: does not die away; allowed: a frequency from 0 up and a "
        "decay above 0");
  CHECK(refusal(changed("/curves/level_db/full", json::array({1.0}))) ==
        "results.json: curves.level_db.full: has 1 levels; allowed: 200, one a frequency");
  CHECK(refusal(changed("/curves/freq_hz/0", -3.0)) ==
        "results.json: curves.freq_hz: does not rise; allowed: frequencies above 0, ascending");
}

TEST_CASE("a logo that is no picture is refused", "[page]") {
  const sample::PageFolder folder(sample::page_results());
  folder.write("logo.png", "<svg/>");
  CHECK_THROWS_AS(page::report_page(folder.path(), Voice::customer), base::InputError);
}

}  // namespace calmplate
