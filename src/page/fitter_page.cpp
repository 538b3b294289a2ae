// SPDX-License-Identifier: GPL-3.0-or-later
#include <utility>

#include "page/charts.hpp"
#include "page/cutting.hpp"
#include "page/fitter_tables.hpp"
#include "page/format.hpp"
#include "page/html.hpp"
#include "page/voices.hpp"
#include "page/words_fitter.hpp"

namespace calmplate::page {
namespace {

constexpr std::size_t kAll = 1000000;

struct Part {
  std::string id, heading, content;
};

std::string pair(const std::string& content) {
  return content.empty() ? "" : "<div class=\"pair\">" + content + "</div>\n";
}

std::vector<Part> parts_of(const Source& source) {
  const Results& results = source.results;
  std::vector<const Layout*> treated;
  for (const Layout& l : results.layouts)
    if (!l.pieces.empty()) treated.push_back(&l);
  std::string response = response_figure(results, false);
  const std::string third = coverage_figure(results);
  std::vector<Part> parts = {{"options", words::kOptions, options_html(results, kAll)},
                             {"maps", words::kMaps, maps_html(source, treated)},
                             {"response-part", words::kResponse, pair(response + third)},
                             {"thirds", words::kThirds, thirds_html(results)},
                             {"points", words::kPoints, points_html(results)},
                             {"temperature-part",
                              words::kTemperature,
                              pair(temperature_figure(results) + comparison_figure(results))},
                             {"sounds", words::kSounds, sounds_html(results)},
                             {"woofer", words::kWoofer, woofer_html(results)},
                             {"rattles", words::kRattles, rattles_html(results)},
                             {"pieces", words::kPieces, pieces_html(results)},
                             {"cutting", words::kCutting, cutting_html(source)},
                             {"shelf", words::kShelf, shelf_html(results)},
                             {"modes", words::kModes, modes_html(results)},
                             {"assumed", words::kAssumed, assumed_html(results)},
                             {"unknowns", words::kUnknowns, unknowns_html(results)},
                             {"cautions", words::kCautions, list_html(results.cautions)},
                             {"notes", words::kNotes, list_html(results.notes)}};
  return parts;
}

}  // namespace

std::string fitter_body(const Source& source) {
  std::string contents, sections;
  for (const Part& part : parts_of(source)) {
    if (part.content.empty()) continue;
    contents += "<li><a href=\"#" + part.id + "\">" + escaped(part.heading) + "</a></li>";
    sections += section_html(part.id, part.heading, part.content);
  }
  return section_html(
             "answer", words::kAnswer, paragraph(source.results.answer, "lead"), "answer") +
         "<nav aria-label=\"" + escaped(words::kContents) + "\"><ul>" + contents + "</ul></nav>\n" +
         sections;
}

}  // namespace calmplate::page
