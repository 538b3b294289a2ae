// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "job/table_data.hpp"
#include "job/table_reader.hpp"

namespace calmplate::job {
namespace {

/// "two numbers [x, y] in mm, each from -10 to 10"
std::string allowed_point(const std::string& key, Range allowed) {
  const KeyUnit unit(key);
  return "two numbers [x, y]" + (unit.name().empty() ? "" : " in " + unit.name()) + ", each from " +
         plain_number(allowed.low) + " to " + plain_number(allowed.high);
}

Eigen::Vector2d checked_point(const toml::node& node,
                              const base::Where& where,
                              const std::string& key,
                              Range allowed) {
  const auto* list = node.as_array();
  if (list == nullptr || list->size() != 2)
    throw base::InputError(where, "is " + described(node), allowed_point(key, allowed));
  Eigen::Vector2d point;
  for (std::size_t i = 0; i < 2; ++i) {
    const toml::node& entry = *list->get(i);
    point[static_cast<Eigen::Index>(i)] =
        checked_number(entry, {where.file, line_of(entry), indexed(where.key, i)}, key, allowed);
  }
  return point;
}

}  // namespace

std::string indexed(const std::string& path, std::size_t index) {
  return path + "[" + std::to_string(index + 1) + "]";
}

std::unique_ptr<TableReader::Data> TableReader::Data::child(const toml::node& node,
                                                            const std::string& child_path,
                                                            const Section& child_section) const {
  auto data = std::make_unique<Data>();
  data->root = root;
  data->table = node.as_table();
  data->section = &child_section;
  data->file = file;
  data->path = child_path;
  data->line = line_of(node);
  return data;
}

base::Where TableReader::Data::where_entry(const std::string& key,
                                           std::size_t index,
                                           const toml::node& entry) const {
  return {file, line_of(entry), indexed(joined(path, key), index)};
}

Eigen::Vector2d TableReader::point(const std::string& key, Range allowed) {
  if (!asked_and_there(key)) fail_missing(key, allowed_point(key, allowed));
  return checked_point(*data_->table->get(key), where(key), key, allowed);
}

std::optional<Eigen::Vector2d> TableReader::point_or_none(const std::string& key, Range allowed) {
  if (!asked_and_there(key)) return std::nullopt;
  return point(key, allowed);
}

Eigen::Vector3d TableReader::direction_or(const std::string& key, const Eigen::Vector3d& fallback) {
  if (!asked_and_there(key)) return fallback;
  const std::string form = "three numbers [x, y, z], not all 0";
  const toml::node& node = *data_->table->get(key);
  const auto* list = node.as_array();
  if (list == nullptr || list->size() != 3) fail(key, "is " + described(node), form);
  constexpr double kLimit = 1e6;
  Eigen::Vector3d direction;
  for (std::size_t i = 0; i < 3; ++i) {
    const toml::node& entry = *list->get(i);
    direction[static_cast<Eigen::Index>(i)] =
        checked_number(entry, data_->where_entry(key, i, entry), key, {-kLimit, kLimit});
  }
  if (direction.norm() < 1e-9) fail(key, "has no length", form);
  return direction.normalized();
}

std::vector<std::size_t> TableReader::words(const std::string& key,
                                            const std::vector<std::string>& known,
                                            const std::string& what,
                                            std::size_t least,
                                            bool repeats) {
  const std::string form = "a list of at least " + std::to_string(least) + " " + what +
                           (least == 1 ? " name" : " names") + " in quotes";
  if (!asked_and_there(key)) fail_missing(key, form);
  const toml::node& node = *data_->table->get(key);
  const auto* list = node.as_array();
  if (list == nullptr || list->size() < least) fail(key, "is " + described(node), form);
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& entry = *list->get(i);
    const base::Where at = data_->where_entry(key, i, entry);
    if (!entry.is_string()) throw base::InputError(at, "is " + described(entry), form);
    const std::string value = entry.as_string()->get();
    const auto found = std::find(known.begin(), known.end(), value);
    if (found == known.end()) {
      const std::string near = base::nearest_word(value, known.data(), known.size());
      throw base::InputError(at,
                             "is " + in_quotes(value) + ", and no " + what + " has that name" +
                                 (near.empty() ? "" : " (did you mean " + in_quotes(near) + "?)"),
                             list_in_quotes(known));
    }
    const auto index = static_cast<std::size_t>(found - known.begin());
    if (!repeats && std::find(out.begin(), out.end(), index) != out.end())
      throw base::InputError(at, "names " + in_quotes(value) + " again", "each " + what + " once");
    out.push_back(index);
  }
  return out;
}

std::vector<Eigen::Vector2d> TableReader::pairs(const std::string& key, Range allowed) {
  const std::string form = "a list, each entry " + allowed_point(key, allowed);
  if (!asked_and_there(key)) fail_missing(key, form);
  const toml::node& node = *data_->table->get(key);
  const auto* list = node.as_array();
  if (list == nullptr || list->empty()) fail(key, "is " + described(node), form);
  std::vector<Eigen::Vector2d> out;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& entry = *list->get(i);
    out.push_back(checked_point(entry, data_->where_entry(key, i, entry), key, allowed));
  }
  return out;
}

std::vector<double> TableReader::numbers(const std::string& key, Range allowed) {
  const std::string form = "a list of numbers, each " + KeyUnit(key).allowed(allowed);
  if (!asked_and_there(key)) fail_missing(key, form);
  const toml::node& node = *data_->table->get(key);
  const auto* list = node.as_array();
  if (list == nullptr || list->empty()) fail(key, "is " + described(node), form);
  std::vector<double> values;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& entry = *list->get(i);
    values.push_back(checked_number(entry, data_->where_entry(key, i, entry), key, allowed));
  }
  return values;
}

Points TableReader::points(const std::string& key, Range allowed, std::size_t least) {
  const std::string form = std::string("a list of at least ") + (least == 2 ? "two" : "three") +
                           " points [x, y] in " + KeyUnit(key).name();
  if (!asked_and_there(key)) fail_missing(key, form);
  const toml::node& node = *data_->table->get(key);
  const auto* list = node.as_array();
  if (list == nullptr || list->size() < least) fail(key, "is " + described(node), form);
  Points points(static_cast<Eigen::Index>(list->size()), 2);
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& entry = *list->get(i);
    points.row(static_cast<Eigen::Index>(i)) =
        checked_point(entry, data_->where_entry(key, i, entry), key, allowed);
  }
  return points;
}

std::optional<TableReader> TableReader::section(const std::string& key, const Section& section) {
  if (!asked_and_there(key)) return std::nullopt;
  const toml::node& node = *data_->table->get(key);
  if (!node.is_table()) fail(key, "is " + described(node), "one section " + section.title);
  return TableReader(data_->child(node, joined(data_->path, key), section));
}

TableReader TableReader::required_section(const std::string& key, const Section& section) {
  std::optional<TableReader> reader = this->section(key, section);
  if (!reader) fail_missing(key, "one section " + section.title);
  return std::move(*reader);
}

std::vector<TableReader> TableReader::sections(const std::string& key, const Section& section) {
  std::vector<TableReader> readers;
  if (!asked_and_there(key)) return readers;
  const toml::node& node = *data_->table->get(key);
  const std::string form = "a list of sections, each under " + section.title;
  const auto* list = node.as_array();
  if (list == nullptr) fail(key, "is " + described(node), form);
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& entry = *list->get(i);
    const base::Where at = data_->where_entry(key, i, entry);
    if (!entry.is_table()) throw base::InputError(at, "is " + described(entry), form);
    readers.push_back(TableReader(data_->child(entry, at.key, section)));
  }
  return readers;
}

std::vector<std::pair<std::string, TableReader>> TableReader::named_sections(
    const std::string& key, const Section& section) {
  std::vector<std::pair<std::string, TableReader>> readers;
  if (!asked_and_there(key)) return readers;
  const toml::node& node = *data_->table->get(key);
  const std::string form = "sections " + section.title;
  if (!node.is_table()) fail(key, "is " + described(node), form);
  for (const auto& [name, entry] : *node.as_table()) {
    const std::string path = joined(joined(data_->path, key), std::string(name.str()));
    if (!entry.is_table())
      throw base::InputError({data_->file, line_of(entry), path}, "is " + described(entry), form);
    readers.emplace_back(std::string(name.str()), TableReader(data_->child(entry, path, section)));
  }
  return readers;
}

}  // namespace calmplate::job
