// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/json_reader.hpp"

#include <cmath>
#include <fstream>
#include <limits>

#include "base/input_error.hpp"

namespace calmplate::picture {

nlohmann::json JsonReader::parse(const std::filesystem::path& file) {
  std::error_code ignored;
  std::ifstream stream(file, std::ios::binary);
  if (!stream || !std::filesystem::is_regular_file(file, ignored)) {
    throw base::InputError({file.string(), 0, ""}, "cannot be read", "a file written by calmplate");
  }
  try {
    return nlohmann::json::parse(stream);
  } catch (const nlohmann::json::parse_error& error) {
    throw base::InputError({file.string(), 0, ""},
                           "is not JSON (fault at byte " + std::to_string(error.byte) + ")",
                           "a file written by calmplate");
  }
}

void JsonReader::fail(const std::string& wrong, const std::string& allowed) const {
  throw base::InputError({file_, 0, key_}, wrong, allowed);
}

JsonReader JsonReader::at(const std::string& name) const {
  if (!value_->is_object()) fail("is not an object", "an object");
  const std::string key = key_.empty() ? name : key_ + "." + name;
  const auto found = value_->find(name);
  if (found == value_->end()) {
    throw base::InputError({file_, 0, key}, "is missing", "");
  }
  return {*found, file_, key};
}

bool JsonReader::has(const std::string& name) const {
  return value_->is_object() && value_->contains(name) && !(*value_)[name].is_null();
}

std::vector<JsonReader> JsonReader::items() const {
  if (!value_->is_array()) fail("is not a list", "a list");
  std::vector<JsonReader> out;
  for (std::size_t k = 0; k < value_->size(); ++k) {
    out.emplace_back((*value_)[k], file_, key_ + "[" + std::to_string(k) + "]");
  }
  return out;
}

std::string JsonReader::text() const {
  if (!value_->is_string()) fail("is not text", "text");
  return value_->get<std::string>();
}

double JsonReader::number() const {
  if (!value_->is_number()) fail("is not a number", "a number");
  return value_->get<double>();
}

double JsonReader::number_at_least(double least) const {
  const double value = number();
  if (value < least) fail("is " + value_->dump(), "at least " + nlohmann::json(least).dump());
  return value;
}

double JsonReader::number_or_nan() const {
  return value_->is_null() ? std::numeric_limits<double>::quiet_NaN() : number();
}

bool JsonReader::truth() const {
  if (!value_->is_boolean()) fail("is neither true nor false", "true or false");
  return value_->get<bool>();
}

int JsonReader::whole_number() const {
  if (!value_->is_number_integer()) fail("is not a whole number", "a whole number");
  return value_->get<int>();
}

Point JsonReader::point() const {
  const std::vector<JsonReader> parts = items();
  if (parts.size() != 2) fail("has " + std::to_string(parts.size()) + " numbers", "two: x and y");
  return {parts[0].number(), parts[1].number()};
}

std::vector<Point> JsonReader::points(std::size_t least) const {
  std::vector<Point> out;
  for (const JsonReader& item : items()) out.push_back(item.point());
  if (out.size() < least) {
    fail("has " + std::to_string(out.size()) + " points", "at least " + std::to_string(least));
  }
  return out;
}

Outlines JsonReader::outlines() const {
  Outlines out;
  for (const JsonReader& item : items()) out.push_back(item.points(3));
  if (out.empty()) fail("is empty", "at least one outline");
  return out;
}

std::vector<double> JsonReader::numbers_or_nan() const {
  std::vector<double> out;
  for (const JsonReader& item : items()) out.push_back(item.number_or_nan());
  return out;
}

}  // namespace calmplate::picture
