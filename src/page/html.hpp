// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

/// Small parts of HTML. Texts are plain and are escaped here, unless the name says html.
namespace calmplate::page {

struct Table {
  std::string caption;
  std::vector<std::string> head;               ///< column heads
  std::vector<std::vector<std::string>> rows;  ///< the first cell of each is its head
  std::size_t marked_row = static_cast<std::size_t>(-1);
};

std::string table_html(const Table& table);
std::string paragraph(const std::string& text, const std::string& css_class = "");
std::string list_html(const std::vector<std::string>& texts);
/// A section under a heading of level 2. @param css_class  may be empty
std::string section_html(const std::string& id,
                         const std::string& heading,
                         const std::string& content_html,
                         const std::string& css_class = "");
/// What is shown when asked for.
std::string details_html(const std::string& summary, const std::string& content_html);
/// A drawing with a caption and its figures as a table to open.
std::string figure_html(const std::string& heading,
                        const std::string& drawing_html,
                        const std::string& note,
                        const Table* figures);

}  // namespace calmplate::page
