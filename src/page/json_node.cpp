// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/json_node.hpp"

#include <fstream>
#include <iterator>
#include <limits>
#include <utility>

#include "base/input_error.hpp"

namespace calmplate::page {

JsonNode::JsonNode(const nlohmann::json& value, std::string file, std::string path)
    : value_(&value), file_(std::move(file)), path_(std::move(path)) {}

void JsonNode::fail(const std::string& wrong, const std::string& allowed) const {
  throw base::InputError({file_, 0, path_}, wrong, allowed);
}

JsonNode JsonNode::at(const std::string& key) const {
  if (!value_->is_object()) fail("is not an object", "an object with the key " + key);
  const std::string path = path_.empty() ? key : path_ + "." + key;
  const auto found = value_->find(key);
  if (found == value_->end())
    throw base::InputError({file_, 0, path}, "is missing", "a result file written by calmplate");
  return {*found, file_, path};
}

std::optional<JsonNode> JsonNode::find(const std::string& key) const {
  if (!value_->is_object()) fail("is not an object", "an object");
  const auto found = value_->find(key);
  if (found == value_->end() || found->is_null()) return std::nullopt;
  return JsonNode(*found, file_, path_.empty() ? key : path_ + "." + key);
}

std::vector<JsonNode> JsonNode::list() const {
  if (!value_->is_array()) fail("is not a list", "a list");
  std::vector<JsonNode> out;
  for (std::size_t i = 0; i < value_->size(); ++i)
    out.emplace_back((*value_)[i], file_, path_ + "[" + std::to_string(i + 1) + "]");
  return out;
}

double JsonNode::number() const {
  if (!value_->is_number()) fail("is not a number", "a number");
  return value_->get<double>();
}

double JsonNode::level() const {
  return value_->is_null() ? std::numeric_limits<double>::quiet_NaN() : number();
}

std::string JsonNode::text() const {
  if (!value_->is_string()) fail("is not a text", "a text");
  return value_->get<std::string>();
}

std::vector<double> JsonNode::levels() const {
  std::vector<double> out;
  for (const JsonNode& entry : list()) out.push_back(entry.level());
  return out;
}

std::vector<std::string> JsonNode::texts() const {
  std::vector<std::string> out;
  for (const JsonNode& entry : list()) out.push_back(entry.text());
  return out;
}

std::string JsonNode::text_or_empty(const std::string& key) const {
  const auto found = find(key);
  return found ? found->text() : "";
}

double JsonNode::level_or_nan(const std::string& key) const {
  const auto found = find(key);
  return found ? found->number() : std::numeric_limits<double>::quiet_NaN();
}

nlohmann::json parsed_file(const std::filesystem::path& file, const std::string& what) {
  std::ifstream stream(file, std::ios::binary);
  std::error_code ignored;
  if (!stream || !std::filesystem::is_regular_file(file, ignored))
    throw base::InputError({file.string(), 0, ""}, "cannot be read", what);
  const std::string text((std::istreambuf_iterator<char>(stream)),
                         std::istreambuf_iterator<char>());
  nlohmann::json root = nlohmann::json::parse(text, nullptr, false);
  if (root.is_discarded())
    throw base::InputError({file.string(), 0, ""}, "is not valid JSON", what);
  return root;
}

}  // namespace calmplate::page
