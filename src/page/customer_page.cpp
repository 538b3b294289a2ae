// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "page/charts.hpp"
#include "page/format.hpp"
#include "page/html.hpp"
#include "page/voices.hpp"
#include "page/words.hpp"

namespace calmplate::page {
namespace {

constexpr std::size_t kMostOptions = 8;  ///< rows that one printed page has room for
constexpr double kHardly_db = 0.5;

/// How much less the skin shakes, in words.
std::string less_text(const Results& results, const Layout& layout) {
  const double db = layout.band_reduction_db;
  const Fills fills = {{"name", layout.name},
                       {"db", fixed(std::abs(db), 1)},
                       {"percent", fixed(100.0 * (1.0 - std::pow(10.0, -db / 20.0)), 0)},
                       {"where", where_text(results)}};
  if (db <= -kHardly_db) return fill(words::kMore, fills);
  return fill(db < kHardly_db ? words::kHardly : words::kLess, fills);
}

std::string answer_html(const Results& results) {
  const Layout* layout = results.proposal();
  if (layout == nullptr)
    return section_html("answer", words::kAnswer, paragraph(words::kOnlyBare, "lead"), "answer");
  const std::string takes = fill(layout->cost > 0.0 ? words::kTakesMoney : words::kTakes,
                                 {{"kg", fixed(layout->mass_kg, 2)},
                                  {"share", fixed(100.0 * layout->share, 0)},
                                  {"cost", money(layout->cost)},
                                  {"currency", results.currency}});
  return section_html("answer",
                      words::kAnswer,
                      paragraph(less_text(results, *layout), "lead") + paragraph(takes) +
                          paragraph(words::kTenDecibel, "small"),
                      "answer");
}

std::string sure_html(const Results& results) {
  const Layout* layout = results.proposal();
  std::string text =
      fill(words::kSureCalculated, {{"temperature", short_number(results.temperature_c)}});
  if (results.unknowns && layout != nullptr)
    for (const LayoutRange& range : results.unknowns->layouts)
      if (range.name == layout->name)
        text += " " + fill(words::kSureRange,
                           {{"name", layout->name},
                            {"low", fixed(range.reduction_db.low, 1)},
                            {"high", fixed(range.reduction_db.high, 1)}});
  return paragraph(text + " " + words::kSureSkin);
}

std::string good_to_know(const Results& results) {
  std::vector<std::string> texts;
  if (const Layout* layout = results.proposal())
    texts.push_back(fill(words::kGoodMass, {{"kg", fixed(layout->mass_kg, 2)}}));
  texts.push_back(words::kGoodWater);
  texts.push_back(words::kGoodSafety);
  return list_html(texts);
}

}  // namespace

std::string customer_body(const Source& source) {
  const Results& results = source.results;
  std::string out = answer_html(results);
  std::vector<const Layout*> after;
  if (const Layout* layout = results.proposal()) after.push_back(layout);
  const std::string maps = maps_html(source, after);
  if (!maps.empty()) out += section_html("maps", words::kMaps, maps);
  // One chart beside the response: the one that says most about money, else about the weather.
  std::string second = coverage_figure(results);
  if (second.empty()) second = temperature_figure(results);
  out += "<div class=\"pair\">" +
         section_html("options", words::kOptions, options_html(results, kMostOptions)) +
         response_figure(results, true) + "</div>\n";
  const std::string sounds = sounds_html(results);
  if (!sounds.empty()) out += section_html("sounds", words::kSounds, sounds, "sounds-part");
  return out + "<div class=\"pair\">" + second + "<div>" +
         section_html("sure", words::kSure, sure_html(results)) +
         section_html("good", words::kGoodToKnow, good_to_know(results)) + "</div></div>\n";
}

}  // namespace calmplate::page
