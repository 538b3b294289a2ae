// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

namespace calmplate::page {

/// A value of a result file with its place in it. Every getter checks the kind of value and throws
/// base::InputError naming file, key, what is wrong and what is allowed.
class JsonNode {
 public:
  JsonNode(const nlohmann::json& value, std::string file, std::string path);

  JsonNode at(const std::string& key) const;                   ///< must be there
  std::optional<JsonNode> find(const std::string& key) const;  ///< nothing if not there or null
  std::vector<JsonNode> list() const;

  double number() const;
  double level() const;  ///< a number, or NaN for null: a figure that does not exist
  std::string text() const;
  std::vector<double> levels() const;      ///< a list of them
  std::vector<std::string> texts() const;  ///< a list of them

  /// Text of a key that may be missing or null.
  std::string text_or_empty(const std::string& key) const;
  /// Number of a key that may be missing or null: NaN then.
  double level_or_nan(const std::string& key) const;

  [[noreturn]] void fail(const std::string& wrong, const std::string& allowed) const;

 private:
  const nlohmann::json* value_;
  std::string file_;
  std::string path_;
};

/// The value that a file holds.
/// @param what  what should be there: "results.json in a folder of calmplate run"
/// @throws base::InputError if it cannot be read or is not JSON
nlohmann::json parsed_file(const std::filesystem::path& file, const std::string& what);

}  // namespace calmplate::page
