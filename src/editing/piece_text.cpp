// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/piece_text.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

namespace calmplate::editing {
namespace {

struct Value {
  std::string key, text;
  bool plain = false;  ///< what the job takes if the key is left out
};

bool has_key(const job::WrittenSection& section, const std::string& key) {
  return std::any_of(section.keys.begin(), section.keys.end(), [&](const job::WrittenKey& k) {
    return k.key == key;
  });
}

/// Every key that the piece may have, in the order of the document, with its value.
std::vector<Value> values_of(const job::WrittenPiece& piece, bool foil, bool as_list) {
  std::vector<Value> out;
  const auto plain = [&](const char* key, const char* text) {
    const bool there =
        std::any_of(out.begin(), out.end(), [&](const Value& v) { return v.key == key; });
    if (!there) out.push_back({key, text, true});
  };
  for (auto& [key, text] : job::keys_of(piece)) {
    if (key == "sheet" && as_list)
      out.push_back({"sheets", "[" + text + "]"});
    else
      out.push_back({key, text});
    if (key == "sheet" || key == "sheets") {
      if (piece.face == job::Face::inner) plain("face", "\"inner\"");
    }
  }
  if (piece.shape == job::Shape::rectangle) plain("angle_deg", "0");
  if (piece.shape == job::Shape::everywhere) {
    plain("margin_mm", "0");
    plain("hole_margin_mm", "0");
  }
  if (foil) plain("foil_edge", "\"free\"");
  return out;
}

const Value* find(const std::vector<Value>& values, const std::string& key) {
  for (const Value& v : values)
    if (v.key == key) return &v;
  return nullptr;
}

/// The numbers of a value's own text, in their order.
std::vector<std::string> numbers_in(const std::string& value) {
  std::vector<std::string> out;
  std::string number;
  for (const char c : value + " ") {
    if (c == '[' || c == ']' || c == ',' || c == ' ') {
      if (!number.empty()) out.push_back(std::exchange(number, ""));
    } else {
      number += c;
    }
  }
  return out;
}

void edit_value(const job::WrittenKey& key,
                const Value& before,
                const Value& after,
                TextEdits& edits) {
  const std::vector<std::string> old = numbers_in(before.text), now = numbers_in(after.text);
  if (!key.numbers.empty() && key.numbers.size() == now.size() && old.size() == now.size()) {
    for (std::size_t i = 0; i < now.size(); ++i)
      if (old[i] != now[i]) edits.replace(key.numbers[i], now[i]);
    return;
  }
  edits.replace(key.value, after.text);
}

}  // namespace

bool edit_piece(const std::string& text,
                const TextLines& lines,
                const PieceEdit& piece,
                TextEdits& edits) {
  const job::WrittenSection& section = *piece.section;
  const bool as_list = has_key(section, "sheets");
  const std::vector<Value> before = values_of(*piece.before, true, as_list);
  const std::vector<Value> after = values_of(*piece.after, piece.foil, as_list);
  for (const job::WrittenKey& key : section.keys) {
    const Value* now = find(after, key.key);
    if (now == nullptr) {
      if (section.in_line) return false;
      edits.replace({lines.begin(key.first_line), lines.begin(key.last_line + 1)}, "");
    } else if (const Value* old = find(before, key.key); old == nullptr || old->text != now->text) {
      edit_value(key, old == nullptr ? *now : *old, *now, edits);
    }
  }
  // Keys that come stand behind the one before them in the order of the document.
  int behind = section.line;
  for (const Value& value : after) {
    const auto there = std::find_if(section.keys.begin(),
                                    section.keys.end(),
                                    [&](const job::WrittenKey& k) { return k.key == value.key; });
    if (there != section.keys.end()) {
      behind = there->last_line;
    } else if (!value.plain) {
      if (section.in_line) return false;
      const bool last = behind == lines.count() && !text.empty() && text.back() != '\n';
      edits.insert(lines.begin(behind + 1),
                   (last ? lines.newline() : "") + style_of(lines, text, section).key(value.key) +
                       value.text + (last ? "" : lines.newline()));
    }
  }
  return true;
}

}  // namespace calmplate::editing
