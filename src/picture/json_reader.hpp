// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "picture/area_image.hpp"

namespace calmplate::picture {

/// A value of a JSON file that knows its file and key, so that a fault can be told in one line.
/// Each reading function throws base::InputError if the value is missing or not what was asked for.
class JsonReader {
 public:
  /// Reads and parses a file.
  static nlohmann::json parse(const std::filesystem::path& file);

  JsonReader(const nlohmann::json& value, std::string file, std::string key = "")
      : value_(&value), file_(std::move(file)), key_(std::move(key)) {}

  JsonReader at(const std::string& name) const;
  std::vector<JsonReader> items() const;
  /// False if the member is missing or null.
  bool has(const std::string& name) const;

  std::string text() const;
  double number() const;
  double number_at_least(double least) const;
  double number_or_nan() const;  ///< null is NaN
  bool truth() const;
  int whole_number() const;
  Point point() const;
  std::vector<Point> points(std::size_t least) const;
  Outlines outlines() const;
  std::vector<double> numbers_or_nan() const;

  [[noreturn]] void fail(const std::string& wrong, const std::string& allowed) const;

 private:
  const nlohmann::json* value_;
  std::string file_;
  std::string key_;
};

}  // namespace calmplate::picture
