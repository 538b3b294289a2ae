// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/written_layout.hpp"

#include <cstdio>
#include <cstdlib>
#include <regex>
#include <utility>

#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

std::string toml_pair(double x, double y) {
  return "[" + toml_number(x) + ", " + toml_number(y) + "]";
}

/// "layout[1].piece[2].size_mm" in the words of a person who sees one layout: "piece 2, size_mm".
std::string plain_place(const std::string& key) {
  static const std::regex kPiece("layout\\[1\\]\\.piece\\[([0-9]+)\\](\\.(.*))?");
  static const std::regex kLayout("layout\\[1\\](\\.(.*))?");
  std::smatch m;
  if (std::regex_match(key, m, kPiece))
    return "piece " + m[1].str() + (m[3].length() > 0 ? ", " + m[3].str() : "");
  if (std::regex_match(key, m, kLayout))
    return "layout" + (m[2].length() > 0 ? ", " + m[2].str() : std::string());
  return key;
}

}  // namespace

bool WrittenPiece::operator==(const WrittenPiece& o) const {
  return sheets == o.sheets && face == o.face && foil_held == o.foil_held && shape == o.shape &&
         centre_mm == o.centre_mm && size_mm == o.size_mm && angle_deg == o.angle_deg &&
         outline_mm.rows() == o.outline_mm.rows() &&
         (outline_mm.rows() == 0 || outline_mm == o.outline_mm) && margin_mm == o.margin_mm &&
         hole_margin_mm == o.hole_margin_mm;
}

std::string toml_text(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
      char code[8];
      std::snprintf(code, sizeof code, "\\u%04x", static_cast<unsigned>(c) & 0xffU);
      out += code;
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string toml_number(double value) {
  if (value == 0.0) return "0";  // not "-0"
  char text[32];
  for (const int digits : {10, 17}) {
    std::snprintf(text, sizeof text, "%.*g", digits, value);
    if (std::strtod(text, nullptr) == value) break;
  }
  return text;
}

std::vector<std::pair<std::string, std::string>> keys_of(const WrittenPiece& p) {
  std::vector<std::pair<std::string, std::string>> out;
  if (p.sheets.size() == 1) {
    out.emplace_back("sheet", toml_text(p.sheets.front()));
  } else {
    std::string list;
    for (const std::string& name : p.sheets) list += (list.empty() ? "" : ", ") + toml_text(name);
    out.emplace_back("sheets", "[" + list + "]");
  }
  if (p.face == Face::outer) out.emplace_back("face", "\"outer\"");
  if (p.shape == Shape::rectangle) {
    out.emplace_back("centre_mm", toml_pair(p.centre_mm.x(), p.centre_mm.y()));
    out.emplace_back("size_mm", toml_pair(p.size_mm.x(), p.size_mm.y()));
    if (p.angle_deg != 0.0) out.emplace_back("angle_deg", toml_number(p.angle_deg));
  } else if (p.shape == Shape::polygon) {
    std::string list;
    for (Eigen::Index i = 0; i < p.outline_mm.rows(); ++i)
      list += (i == 0 ? "" : ", ") + toml_pair(p.outline_mm(i, 0), p.outline_mm(i, 1));
    out.emplace_back("outline_mm", "[" + list + "]");
  } else {
    out.emplace_back("everywhere", "true");
    if (p.margin_mm != 0.0) out.emplace_back("margin_mm", toml_number(p.margin_mm));
    if (p.hole_margin_mm != 0.0) out.emplace_back("hole_margin_mm", toml_number(p.hole_margin_mm));
  }
  if (p.foil_held) out.emplace_back("foil_edge", "\"held\"");
  return out;
}

Layout read_written(const std::string& name,
                    const std::vector<WrittenPiece>& pieces,
                    const Job& job) {
  std::string text = "[[layout]]\nname = " + toml_text(name) + "\n";
  for (const WrittenPiece& piece : pieces) {
    text += "[[layout.piece]]\n";
    for (const auto& [key, value] : keys_of(piece)) text += key + " = " + value + "\n";
  }
  Job lean;
  lean.sheets = job.sheets;
  lean.keep_outs = job.keep_outs;
  try {
    TableReader reader = TableReader::parse(text, "");
    read_layouts(reader, lean);
  } catch (const base::InputError& e) {
    throw base::InputError({"", 0, plain_place(e.where().key)}, e.wrong(), e.allowed());
  }
  Layout out = std::move(lean.layouts.front());
  out.where = {"", 0, "layout"};
  for (std::size_t i = 0; i < out.pieces.size(); ++i)
    out.pieces[i].where = {"", 0, "piece " + std::to_string(i + 1)};
  return out;
}

}  // namespace calmplate::job
