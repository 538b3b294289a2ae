// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdio>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

#include "page/page.hpp"
#include "page/sample_folder.hpp"

/// What stands in a page, as a test wants to read it.
namespace calmplate::testing {

using nlohmann::json;
using page::Voice;

inline std::string page_of(const json& results, Voice voice) {
  const sample::PageFolder folder(results);
  return page::report_page(folder.path(), voice);
}

/// The texts of a table's cells, row by row without its head; entities come back.
inline std::vector<std::vector<std::string>> table_with(const std::string& html,
                                                        const std::string& caption) {
  const std::size_t at = html.find("<caption>" + caption);
  if (at == std::string::npos) return {};
  const std::string table = html.substr(at, html.find("</table>", at) - at);
  std::vector<std::vector<std::string>> rows;
  const std::regex row("<tr[^>]*>(.*?)</tr>"), cell("<t[hd][^>]*>(.*?)</t[hd]>");
  for (std::sregex_iterator r(table.begin(), table.end(), row), end; r != end; ++r) {
    const std::string inside = (*r)[1];
    rows.emplace_back();
    for (std::sregex_iterator c(inside.begin(), inside.end(), cell); c != end; ++c)
      rows.back().push_back(std::regex_replace((*c)[1].str(), std::regex("&amp;"), "&"));
  }
  if (!rows.empty()) rows.erase(rows.begin());
  return rows;
}

/// As the page rounds, by the C library alone.
inline std::string rounded(const json& value, int decimals, double factor = 1.0) {
  if (value.is_null()) return "–";
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, factor * value.get<double>());
  return text;
}

/// The opening tags of one kind. Not by a regular expression: a tag with a sound in it is long.
inline std::vector<std::string> tags_of(const std::string& html, const std::string& name) {
  std::vector<std::string> out;
  const std::string open = "<" + name + " ";
  for (std::size_t at = html.find(open); at != std::string::npos; at = html.find(open, at + 1))
    out.push_back(html.substr(at, html.find('>', at) - at));
  return out;
}

inline std::string without_tags(const std::string& html) {
  const std::string body = html.substr(html.find("<body>"));
  std::string out;
  bool inside = true;
  for (const char c : body) {
    if (c == '<') inside = false;
    if (inside) out += c;
    if (c == '>') inside = true, out += ' ';
  }
  return out;
}

}  // namespace calmplate::testing
