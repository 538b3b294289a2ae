// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/html.hpp"

#include "page/format.hpp"
#include "page/words.hpp"

namespace calmplate::page {
namespace {

std::string class_of(const std::string& css_class) {
  return css_class.empty() ? "" : " class=\"" + css_class + "\"";
}

}  // namespace

std::string table_html(const Table& table) {
  std::string out = "<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"" +
                    escaped(table.caption) + "\"><table><caption>" + escaped(table.caption) +
                    "</caption><thead><tr>";
  for (const std::string& cell : table.head) out += "<th scope=\"col\">" + escaped(cell) + "</th>";
  out += "</tr></thead><tbody>";
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    out += r == table.marked_row ? "<tr class=\"marked\">" : "<tr>";
    for (std::size_t c = 0; c < table.rows[r].size(); ++c)
      out += c == 0 ? "<th scope=\"row\">" + escaped(table.rows[r][c]) + "</th>"
                    : "<td>" + escaped(table.rows[r][c]) + "</td>";
    out += "</tr>";
  }
  return out + "</tbody></table></div>\n";
}

std::string paragraph(const std::string& text, const std::string& css_class) {
  return text.empty() ? "" : "<p" + class_of(css_class) + ">" + escaped(text) + "</p>\n";
}

std::string list_html(const std::vector<std::string>& texts) {
  if (texts.empty()) return "";
  std::string out = "<ul>";
  for (const std::string& text : texts) out += "<li>" + escaped(text) + "</li>";
  return out + "</ul>\n";
}

std::string section_html(const std::string& id,
                         const std::string& heading,
                         const std::string& content_html,
                         const std::string& css_class) {
  return "<section id=\"" + id + "\" aria-labelledby=\"" + id + "-h\"" + class_of(css_class) +
         "><h2 id=\"" + id + "-h\">" + escaped(heading) + "</h2>\n" + content_html + "</section>\n";
}

std::string details_html(const std::string& summary, const std::string& content_html) {
  return "<details><summary>" + escaped(summary) + "</summary>" + content_html + "</details>\n";
}

std::string figure_html(const std::string& heading,
                        const std::string& drawing_html,
                        const std::string& note,
                        const Table* figures) {
  std::string out = "<figure><figcaption><strong>" + escaped(heading) + "</strong>";
  if (!note.empty()) out += " <span>" + escaped(note) + "</span>";
  out += "</figcaption>" + drawing_html;
  if (figures != nullptr) out += details_html(words::kAsTable, table_html(*figures));
  return out + "</figure>\n";
}

}  // namespace calmplate::page
