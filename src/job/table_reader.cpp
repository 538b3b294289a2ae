// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/table_reader.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "job/table_data.hpp"

namespace calmplate::job {
namespace {

constexpr std::size_t kTextLimit = 200;

bool on_one_line(const std::string& text) {
  return std::none_of(text.begin(), text.end(), [](char c) {
    const auto u = static_cast<unsigned char>(c);
    return u < 0x20 || u == 0x7f;
  });
}

/// Characters of UTF-8 text.
std::size_t length_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U;
  }));
}

}  // namespace

std::string in_quotes(const std::string& text) {
  constexpr std::size_t kShown = 60;
  if (text.size() <= kShown) return '"' + text + '"';
  std::size_t end = kShown;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0U) == 0x80U) --end;
  return '"' + text.substr(0, end) + "...\"";
}

std::string list_in_quotes(const std::vector<std::string>& words) {
  constexpr std::size_t kShown = 12;
  std::string list;
  for (std::size_t i = 0; i < words.size() && i < kShown; ++i)
    list += (i == 0 ? "" : ", ") + in_quotes(words[i]);
  if (words.size() > kShown) list += " and " + std::to_string(words.size() - kShown) + " more";
  return list;
}

int line_of(const toml::node& node) { return static_cast<int>(node.source().begin.line); }

std::string joined(const std::string& path, const std::string& key) {
  const bool bare = !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
  return (path.empty() ? "" : path + ".") + (bare ? key : in_quotes(key));
}

std::string described(const toml::node& node) {
  if (const auto* text = node.as_string()) return "a string, " + in_quotes(text->get());
  if (const auto* whole = node.as_integer()) return "a number, " + std::to_string(whole->get());
  if (const auto* real = node.as_floating_point()) return "a number, " + plain_number(real->get());
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (const auto* list = node.as_array())
    return list->is_homogeneous<toml::table>() ? "a list of sections"
                                               : "a list of length " + std::to_string(list->size());
  return node.is_table() ? "a section" : "a date or time";
}

double checked_number(const toml::node& node,
                      const base::Where& where,
                      const std::string& key,
                      Range allowed) {
  const KeyUnit unit(key);
  double value = 0.0;
  if (const auto* whole = node.as_integer())
    value = static_cast<double>(whole->get());
  else if (const auto* real = node.as_floating_point())
    value = real->get();
  else
    throw base::InputError(where, "is " + described(node), unit.allowed_number(allowed));
  if (!std::isfinite(value))
    throw base::InputError(where, "is not a finite number", unit.allowed_number(allowed));
  if (!allowed.holds(value))
    throw base::InputError(where,
                           "is " + unit.with_unit(plain_number(value)),
                           unit.allowed(allowed) + unit.mistaken_unit(value, allowed));
  return unit.to_si(value);
}

TableReader::TableReader(std::unique_ptr<Data> data) : data_(std::move(data)) {
  refuse_unknown_keys();
}
TableReader::TableReader(TableReader&&) noexcept = default;
TableReader::~TableReader() = default;

void TableReader::refuse_unknown_keys() const {
  const std::vector<std::string>& known = data_->section->keys;
  // The table is sorted by name; the person reads from the top.
  const toml::key* first = nullptr;
  for (const auto& entry : *data_->table) {
    const toml::key& key = entry.first;
    if (std::find(known.begin(), known.end(), key.str()) != known.end()) continue;
    if (first == nullptr || key.source().begin.line < first->source().begin.line) first = &key;
  }
  if (first == nullptr) return;
  const std::string name(first->str());
  const base::Where at{
      data_->file, static_cast<int>(first->source().begin.line), joined(data_->path, name)};
  const std::string wrong = data_->path.empty() ? "is not a section of " + data_->section->title
                                                : "is not a key of " + data_->section->title;
  const std::string near = base::nearest_word(name, known.data(), known.size());
  if (!near.empty()) throw base::InputError(at, wrong + "; did you mean " + near + "?");
  std::string list;
  for (const std::string& key : known) list += (list.empty() ? "" : ", ") + key;
  throw base::InputError(at, wrong, list);
}

void TableReader::finish(const std::string& condition) {
  for (const std::string& key : data_->section->keys) {
    if (!has(key) || data_->asked.count(key) != 0) continue;
    if (condition.empty())
      throw std::invalid_argument("TableReader: " + key + " of " + data_->section->title +
                                  " is listed but never read");
    std::string list;
    for (const std::string& other : data_->section->keys)
      if (data_->asked.count(other) != 0) list += (list.empty() ? "" : ", ") + other;
    fail(key, "does not go with " + condition, list);
  }
}

base::Where TableReader::where() const { return {data_->file, data_->line, data_->path}; }

base::Where TableReader::where(const std::string& key) const {
  const toml::node* node = data_->table->get(key);
  return {data_->file, node == nullptr ? data_->line : line_of(*node), joined(data_->path, key)};
}

void TableReader::fail(const std::string& key,
                       const std::string& wrong,
                       const std::string& allowed) const {
  throw base::InputError(where(key), wrong, allowed);
}

void TableReader::fail_missing(const std::string& key, const std::string& allowed) const {
  fail(key, "is missing", allowed);
}

bool TableReader::has(const std::string& key) const { return data_->table->contains(key); }

bool TableReader::asked_and_there(const std::string& key) {
  const std::vector<std::string>& known = data_->section->keys;
  if (std::find(known.begin(), known.end(), key) == known.end())
    throw std::invalid_argument("TableReader: " + key + " is not listed in " +
                                data_->section->title);
  data_->asked.insert(key);
  return has(key);
}

double TableReader::number(const std::string& key, Range allowed) {
  if (!asked_and_there(key)) fail_missing(key, KeyUnit(key).allowed_number(allowed));
  return checked_number(*data_->table->get(key), where(key), key, allowed);
}

double TableReader::number_or(const std::string& key, Range allowed, double fallback) {
  return asked_and_there(key) ? number(key, allowed) : KeyUnit(key).to_si(fallback);
}

std::string TableReader::text(const std::string& key) {
  const std::string allowed = "a text of 1 to " + std::to_string(kTextLimit) + " characters";
  if (!asked_and_there(key)) fail_missing(key, allowed);
  const std::string value = long_text_or(key, "");
  if (value.empty()) fail(key, "is empty", allowed);
  if (length_of(value) > kTextLimit)
    fail(key, "is " + std::to_string(length_of(value)) + " characters long", allowed);
  if (!on_one_line(value))
    fail(key, "holds a line break or another control character", allowed + " on one line");
  return value;
}

std::string TableReader::text_or(const std::string& key, const std::string& fallback) {
  return asked_and_there(key) ? text(key) : fallback;
}

std::string TableReader::long_text_or(const std::string& key, const std::string& fallback) {
  if (!asked_and_there(key)) return fallback;
  const toml::node* node = data_->table->get(key);
  const auto* value = node->as_string();
  if (value == nullptr) fail(key, "is " + described(*node), "a text in quotes");
  return value->get();
}

bool TableReader::flag_or(const std::string& key, bool fallback) {
  if (!asked_and_there(key)) return fallback;
  const toml::node* node = data_->table->get(key);
  const auto* value = node->as_boolean();
  if (value == nullptr) fail(key, "is " + described(*node), "true or false, without quotes");
  return value->get();
}

std::size_t TableReader::word(const std::string& key,
                              const std::vector<std::string>& known,
                              const std::string& what) {
  const std::string allowed = known.empty() ? "" : list_in_quotes(known);
  if (!asked_and_there(key)) fail_missing(key, allowed);
  const std::string value = text(key);
  const auto found = std::find(known.begin(), known.end(), value);
  if (found != known.end()) return static_cast<std::size_t>(found - known.begin());
  std::string wrong = "is " + in_quotes(value);
  if (!what.empty())
    wrong += known.empty() ? ", and the job has no " + what : ", and no " + what + " has that name";
  const std::string near = base::nearest_word(value, known.data(), known.size());
  if (!near.empty()) wrong += " (did you mean " + in_quotes(near) + "?)";
  fail(key, wrong, allowed);
}

std::string Names::read(TableReader& reader) {
  std::string name = reader.text("name");
  const auto [other, is_new] = seen_.emplace(name, reader.where());
  if (!is_new)
    reader.fail("name",
                "is " + in_quotes(name) + ", which " + other->second.key + " on line " +
                    std::to_string(other->second.line) + " is called already");
  return name;
}

}  // namespace calmplate::job
