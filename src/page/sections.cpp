// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/sections.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>

#include "base/file_name.hpp"
#include "base/input_error.hpp"
#include "page/charts.hpp"
#include "page/format.hpp"
#include "page/html.hpp"
#include "page/tap_sound.hpp"
#include "page/wav.hpp"
#include "page/words.hpp"

namespace calmplate::page {
namespace {

constexpr std::uintmax_t kLargestPicture = 16U << 20U;  // bytes

std::string type_of(const std::string& bytes) {
  if (bytes.compare(0, 8, std::string("\x89PNG\r\n\x1a\n", 8)) == 0) return "image/png";
  if (bytes.compare(0, 3, "\xff\xd8\xff") == 0) return "image/jpeg";
  return "";
}

std::string map_figure(const Source& source, const Layout& layout, const std::string& caption) {
  const std::string data = picture_data(source.folder / "pictures" /
                                        ("velocity_" + base::as_file_name(layout.name) + ".png"));
  if (data.empty()) return "";
  const std::string alt = fill(
      words::kMapAlt, {{"name", shown_name(layout)}, {"level", fixed(layout.band_level_db, 1)}});
  return "<figure><figcaption><strong>" + escaped(caption) + "</strong></figcaption><img src=\"" +
         data + "\" alt=\"" + escaped(alt) + "\"></figure>\n";
}

}  // namespace

std::string picture_data(const std::filesystem::path& file) {
  std::error_code fault;
  if (!std::filesystem::is_regular_file(file, fault)) return "";
  const std::string allowed = "a PNG or JPEG file of up to 16 MB";
  if (std::filesystem::file_size(file, fault) > kLargestPicture || fault)
    throw base::InputError({file.string(), 0, ""}, "is too large", allowed);
  std::ifstream stream(file, std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(stream)),
                          std::istreambuf_iterator<char>());
  const std::string type = type_of(bytes);
  if (type.empty()) throw base::InputError({file.string(), 0, ""}, "is no picture", allowed);
  return "data:" + type + ";base64," + base64(bytes);
}

std::string car_of(const Results& results) {
  return results.hand_over.car.empty() ? results.title : results.hand_over.car;
}

std::string question_text(const Results& results) {
  return results.hand_over.question.empty() ? words::kDefaultQuestion : results.hand_over.question;
}

std::string head_html(const Source& source) {
  const HandOver& by = source.results.hand_over;
  std::string out = "<header class=\"top\">\n";
  if (!by.fitter.empty() || !by.contact.empty() || !by.logo.empty()) {
    out += "<div class=\"fitter\">";
    const std::string logo =
        by.logo.empty() ? ""
                        : picture_data(source.folder / std::filesystem::path(by.logo).filename());
    if (!logo.empty())
      out += "<img class=\"logo\" src=\"" + logo + "\" alt=\"" +
             escaped(fill(words::kLogoAlt,
                          {{"fitter", by.fitter.empty() ? words::kSomeFitter : by.fitter}})) +
             "\">";
    out += "<div>" + paragraph(by.fitter, "name") + paragraph(by.contact) + "</div></div>\n";
  }
  out += "<h1>" + escaped(car_of(source.results)) + "</h1>\n";
  if (!by.customer.empty())
    out += paragraph(fill(words::kFor, {{"customer", by.customer}}), "customer");
  return out + paragraph(question_text(source.results), "question") + "</header>\n";
}

std::string options_html(const Results& results, std::size_t most_rows) {
  const Layout* proposal = results.proposal();
  Table table{words::kOptionsCaption,
              {words::kOption,
               words::kDecibelLess,
               words::kMassColumn,
               words::kOfSkin,
               words::kSheetsColumn,
               results.currency},
              {}};
  // Where there is no room for all: bare skin and proposal, then those that calm the skin most.
  std::vector<const Layout*> wanted;
  for (const Layout& l : results.layouts) wanted.push_back(&l);
  const auto rank = [&](const Layout* l) {
    return l->pieces.empty() || l == proposal ? HUGE_VAL : l->band_reduction_db;
  };
  std::stable_sort(wanted.begin(), wanted.end(), [&](const Layout* a, const Layout* b) {
    return rank(a) > rank(b);
  });
  const std::size_t left_out = wanted.size() - std::min(most_rows, wanted.size());
  wanted.resize(wanted.size() - left_out);
  for (const Layout& l : results.layouts) {
    if (std::find(wanted.begin(), wanted.end(), &l) == wanted.end()) continue;
    if (&l == proposal) table.marked_row = table.rows.size();
    table.rows.push_back(
        {&l == proposal ? fill(words::kPutForward, {{"name", shown_name(l)}}) : shown_name(l),
         fixed(l.band_reduction_db, 1),
         fixed(l.mass_kg, 2),
         fixed(100.0 * l.share, 0),
         l.pieces.empty() ? words::kNoFigure : fixed(l.stock_sheets, 1),
         money(l.cost)});
  }
  std::string out = table_html(table);
  out += paragraph(fill(words::kOptionsNote, {{"where", where_text(results)}}), "small");
  if (left_out > 0)
    out += paragraph(fill(words::kMoreOptions, {{"count", std::to_string(left_out)}}), "small");
  return out;
}

std::string maps_html(const Source& source, const std::vector<const Layout*>& after) {
  std::string maps = map_figure(source, source.results.layouts.front(), words::kBefore);
  if (maps.empty()) return "";
  for (const Layout* layout : after)
    maps += map_figure(source, *layout, fill(words::kAfter, {{"name", shown_name(*layout)}}));
  return "<div class=\"pair maps\">" + maps + "</div>\n" + paragraph(words::kMapsNote, "small");
}

std::string sounds_html(const Results& results) {
  std::vector<std::vector<double>> pressures;
  bool any = false;
  for (const Layout& l : results.layouts) {
    pressures.push_back(tap_pressure(l.tap));
    any = any || !l.tap.empty();
  }
  const double gain = common_gain(pressures);
  if (!any || gain == 0.0) return "";
  std::string out = "<ul class=\"sounds\">";
  for (std::size_t k = 0; k < pressures.size(); ++k) {
    for (double& p : pressures[k]) p *= gain;
    const std::string name = shown_name(results.layouts[k]);
    out += "<li><span>" + escaped(name) +
           "</span><audio controls preload=\"metadata\" aria-label=\"" +
           escaped(fill(words::kSoundLabel, {{"name", name}})) + "\" src=\"data:audio/wav;base64," +
           base64(wav_bytes(pressures[k], kSampleRate_hz)) + "\"></audio></li>\n";
  }
  const double distance = results.tap ? results.tap->distance_m : 1.0;
  return out + "</ul>" +
         paragraph(fill(words::kSoundsNote, {{"distance", short_number(distance)}}),
                   "small screen") +
         paragraph(words::kSoundsPrinted, "small printed");
}

std::string foot_html(const Results& results) {
  return "<footer>" +
         paragraph(fill(words::kFoot,
                        {{"version", results.program_version}, {"file", results.job_file}})) +
         paragraph(results.note) + "</footer>\n";
}

}  // namespace calmplate::page
