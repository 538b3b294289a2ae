// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <toml++/toml.h>

#include <memory>
#include <set>
#include <string>

#include "job/table_reader.hpp"

/// The only header that knows TOML; for the sources of TableReader alone.
namespace calmplate::job {

struct TableReader::Data {
  std::shared_ptr<const toml::table> root;  ///< keeps `table` alive
  const toml::table* table = nullptr;
  const Section* section = nullptr;
  std::string file;
  std::string path;  ///< dotted key of the section, empty for the file
  int line = 0;
  std::set<std::string> asked = {};

  /// The section `node`, a table, inside this one.
  std::unique_ptr<Data> child(const toml::node& node,
                              const std::string& child_path,
                              const Section& child_section) const;
  /// Where the entry at `index` (from 0) of the list `key` stands.
  base::Where where_entry(const std::string& key, std::size_t index, const toml::node& entry) const;
};

int line_of(const toml::node& node);

/// "layout[1]" and "name" give "layout[1].name"; a key with odd characters is put in quotes.
std::string joined(const std::string& path, const std::string& key);
/// "layout" and 0 give "layout[1]".
std::string indexed(const std::string& path, std::size_t index);

/// What a value is, for messages: a string, "12"
std::string described(const toml::node& node);

/// A finite number in the allowed range, in SI.
/// @param where  of the number  @param key  decides the unit
/// @throws base::InputError
double checked_number(const toml::node& node,
                      const base::Where& where,
                      const std::string& key,
                      Range allowed);

}  // namespace calmplate::job
