// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>

#include "job/table_data.hpp"
#include "job/written_layout.hpp"

namespace calmplate::job {
namespace {

/// Turns the parser's lines and columns, which count characters, into bytes.
class Places {
 public:
  explicit Places(const std::string& text) : text_(&text) {
    begin_.push_back(0);
    for (std::size_t i = 0; i < text.size(); ++i)
      if (text[i] == '\n') begin_.push_back(i + 1);
  }

  std::size_t at(const toml::source_position& p) const {
    std::size_t byte = begin_.at(p.line - 1);
    for (toml::source_index column = 1; column < p.column && byte < text_->size(); ++column) {
      ++byte;
      while (byte < text_->size() && (static_cast<unsigned char>((*text_)[byte]) & 0xc0U) == 0x80U)
        ++byte;
    }
    return byte;
  }
  Span of(const toml::source_region& region) const { return {at(region.begin), at(region.end)}; }

  /// True if the first thing on a line is a bracket: the header of a section, if one stands there.
  bool opens_section(int line) const {
    const std::size_t first =
        text_->find_first_not_of(" \t", begin_.at(static_cast<std::size_t>(line - 1)));
    return first != std::string::npos && (*text_)[first] == '[';
  }

 private:
  const std::string* text_;
  std::vector<std::size_t> begin_;
};

void add_numbers(const toml::node& node, const Places& places, std::vector<Span>& out) {
  if (node.is_number()) out.push_back(places.of(node.source()));
  if (const toml::array* list = node.as_array())
    for (const toml::node& item : *list) add_numbers(item, places, out);
}

WrittenSection section_of(const toml::table& table, const Places& places) {
  WrittenSection out;
  out.line = line_of(table);
  out.in_line = table.is_inline();
  for (const auto& [key, node] : table) {
    // Sections below this one have places of their own.
    if (key.str() == "piece" || key.str() == "place") continue;
    WrittenKey k;
    k.key = std::string(key.str());
    k.value = places.of(node.source());
    add_numbers(node, places, k.numbers);
    k.first_line = static_cast<int>(key.source().begin.line);
    k.last_line = static_cast<int>(node.source().end.line);
    out.keys.push_back(std::move(k));
  }
  std::sort(out.keys.begin(), out.keys.end(), [](const WrittenKey& a, const WrittenKey& b) {
    return a.value.begin < b.value.begin;
  });
  return out;
}

double number_in(const toml::table& table, const char* key) {
  return table[key].value<double>().value_or(0.0);
}

Eigen::Vector2d pair_of(const toml::node* node) {
  const toml::array* list = node != nullptr ? node->as_array() : nullptr;
  if (list == nullptr || list->size() < 2) return Eigen::Vector2d::Zero();
  return {list->get(0)->value<double>().value_or(0.0), list->get(1)->value<double>().value_or(0.0)};
}

Points outline_in(const toml::table& table) {
  const toml::array* list = table["outline_mm"].as_array();
  if (list == nullptr) return Points(0, 2);
  Points out(static_cast<Eigen::Index>(list->size()), 2);
  for (std::size_t i = 0; i < list->size(); ++i)
    out.row(static_cast<Eigen::Index>(i)) = pair_of(list->get(i)).transpose();
  const Eigen::Index last = out.rows() - 1;  // as read_outline
  if (last >= 3 && out.row(0) == out.row(last)) out.conservativeResize(last, 2);
  return out;
}

WrittenPiece piece_of(const toml::table& table) {
  WrittenPiece p;
  if (const auto one = table["sheet"].value<std::string>()) p.sheets.push_back(*one);
  if (const toml::array* list = table["sheets"].as_array())
    for (const toml::node& name : *list) p.sheets.push_back(name.value<std::string>().value_or(""));
  if (table["face"].value<std::string>() == "outer") p.face = Face::outer;
  p.foil_held = table["foil_edge"].value<std::string>() == "held";
  if (table.contains("size_mm")) {
    p.shape = Shape::rectangle;
    p.centre_mm = pair_of(table.get("centre_mm"));
    p.size_mm = pair_of(table.get("size_mm"));
    p.angle_deg = number_in(table, "angle_deg");
  } else if (table.contains("outline_mm")) {
    p.shape = Shape::polygon;
    p.outline_mm = outline_in(table);
  } else {
    p.shape = Shape::everywhere;
    p.margin_mm = number_in(table, "margin_mm");
    p.hole_margin_mm = number_in(table, "hole_margin_mm");
  }
  return p;
}

void add_headers(const toml::node& node, const Places& places, std::set<int>& lines) {
  if (const toml::table* table = node.as_table()) {
    if (!table->is_inline() && line_of(*table) > 0 && places.opens_section(line_of(*table)))
      lines.insert(line_of(*table));
    for (const auto& [key, inner] : *table) add_headers(inner, places, lines);
  } else if (const toml::array* list = node.as_array()) {
    for (const toml::node& item : *list) add_headers(item, places, lines);
  }
}

}  // namespace

WrittenLayouts written_layouts(const std::string& text, const std::filesystem::path& file) {
  TableReader::parse(text, file.string());  // for its messages
  const toml::table root = toml::parse(std::string_view(text));
  const Places places(text);
  WrittenLayouts out;
  if (const toml::array* layouts = root["layout"].as_array())
    for (const toml::node& node : *layouts) {
      const toml::table* table = node.as_table();
      if (table == nullptr) continue;
      WrittenLayout layout;
      layout.name = (*table)["name"].value<std::string>().value_or("");
      layout.to_place = table->contains("place");
      layout.section = section_of(*table, places);
      if (const toml::table* place = (*table)["place"].as_table())
        if (!place->is_inline()) layout.place_line = line_of(*place);
      if (const toml::array* pieces = (*table)["piece"].as_array())
        for (const toml::node& piece : *pieces)
          if (const toml::table* t = piece.as_table()) {
            layout.pieces.push_back(piece_of(*t));
            layout.piece_sections.push_back(section_of(*t, places));
          }
      out.layouts.push_back(std::move(layout));
    }
  std::set<int> lines;
  for (const auto& [key, node] : root) add_headers(node, places, lines);
  out.header_lines.assign(lines.begin(), lines.end());
  return out;
}

}  // namespace calmplate::job
