// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/ply_reader.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <optional>
#include <sstream>
#include <vector>

namespace calmplate::mesh_io {
namespace {

enum class Type { kInt8, kUint8, kInt16, kUint16, kInt32, kUint32, kFloat, kDouble };
enum class Coding { kAscii, kLittle, kBig };

struct Property {
  std::string name;
  Type type = Type::kFloat;
  std::optional<Type> count;  ///< set for a list
};

struct Element {
  std::string name;
  std::size_t number = 0;
  std::vector<Property> properties;
};

struct Header {
  Coding coding = Coding::kAscii;
  std::vector<Element> elements;
  std::size_t size = 0;  ///< bytes up to the first one of the data
};

std::optional<Type> type_named(const std::string& name) {
  constexpr std::array<const char*, 16> kNames{"char",
                                               "int8",
                                               "uchar",
                                               "uint8",
                                               "short",
                                               "int16",
                                               "ushort",
                                               "uint16",
                                               "int",
                                               "int32",
                                               "uint",
                                               "uint32",
                                               "float",
                                               "float32",
                                               "double",
                                               "float64"};
  const auto found = std::find(kNames.begin(), kNames.end(), name);
  if (found == kNames.end()) return std::nullopt;
  return static_cast<Type>((found - kNames.begin()) / 2);
}

bool parse_property(std::istringstream& words, Element& element) {
  Property property;
  std::string type;
  if (!(words >> type)) return false;
  if (type == "list") {
    std::string count;
    if (!(words >> count >> type)) return false;
    property.count = type_named(count);
    if (!property.count || *property.count >= Type::kFloat) return false;
  }
  const std::optional<Type> known = type_named(type);
  if (!known || !(words >> property.name)) return false;
  property.type = *known;
  element.properties.push_back(property);
  return true;
}

/// One line of the header after "ply". @return false if it is wrong
bool parse_header_line(const std::string& line, Header& header, bool& format_seen) {
  std::istringstream words(line);
  std::string word;
  if (!(words >> word)) return false;
  if (word == "comment" || word == "obj_info") return true;
  if (word == "format") {
    std::string coding, version;
    if (format_seen || !(words >> coding >> version) || version != "1.0") return false;
    format_seen = true;
    header.coding = coding == "ascii"               ? Coding::kAscii
                    : coding == "binary_big_endian" ? Coding::kBig
                                                    : Coding::kLittle;
    return coding == "ascii" || coding == "binary_big_endian" || coding == "binary_little_endian";
  }
  if (word == "element") {
    Element element;
    if (!(words >> element.name >> element.number)) return false;
    header.elements.push_back(element);
    return true;
  }
  return word == "property" && !header.elements.empty() &&
         parse_property(words, header.elements.back());
}

std::optional<Header> parse_header(const std::string& text) {
  Header header;
  bool first = true;
  bool format_seen = false;
  std::size_t at = 0;
  while (true) {
    const std::size_t end = text.find('\n', at);
    if (end == std::string::npos) return std::nullopt;
    std::string line = text.substr(at, end - at);
    if (!line.empty() && line.back() == '\r') line.pop_back();
    at = end + 1;
    if (first ? line != "ply" : line == "end_header") break;
    if (!first && !parse_header_line(line, header, format_seen)) return std::nullopt;
    first = false;
  }
  if (first || !format_seen) return std::nullopt;
  header.size = at;
  return header;
}

/// Takes one value after the other from the data; every answer is empty once they are used up.
class Values {
 public:
  Values(const std::string& text, const Header& header)
      : at_(text.data() + header.size), end_(text.data() + text.size()), coding_(header.coding) {}

  std::size_t bytes_left() const { return static_cast<std::size_t>(end_ - at_); }

  std::optional<double> next(Type type) {
    if (coding_ == Coding::kAscii) return next_word();
    switch (type) {
      case Type::kInt8:
        return next_binary<std::int8_t>();
      case Type::kUint8:
        return next_binary<std::uint8_t>();
      case Type::kInt16:
        return next_binary<std::int16_t>();
      case Type::kUint16:
        return next_binary<std::uint16_t>();
      case Type::kInt32:
        return next_binary<std::int32_t>();
      case Type::kUint32:
        return next_binary<std::uint32_t>();
      case Type::kFloat:
        return next_binary<float>();
      case Type::kDouble:
        break;
    }
    return next_binary<double>();
  }

  /// A count or a number of a point: whole, not below 0.
  std::optional<PointNumber> next_whole(Type type) {
    const std::optional<double> value = next(type);
    if (!value || !(*value >= 0.0) || *value > 4294967295.0 || *value != std::floor(*value))
      return std::nullopt;
    return static_cast<PointNumber>(*value);
  }

 private:
  std::optional<double> next_word() {
    while (at_ != end_ && std::strchr(" \t\r\n", *at_) != nullptr && *at_ != '\0') ++at_;
    if (at_ != end_ && *at_ == '+') ++at_;
    double value = 0.0;
    const auto [stop, fault] = std::from_chars(at_, end_, value);
    const bool whole = stop == end_ || (*stop != '\0' && std::strchr(" \t\r\n", *stop) != nullptr);
    if (fault != std::errc() || !whole) return std::nullopt;
    at_ = stop;
    return value;
  }

  template <typename Number>
  std::optional<double> next_binary() {
    if (bytes_left() < sizeof(Number)) return std::nullopt;
    std::array<char, sizeof(Number)> bytes;
    std::copy(at_, at_ + sizeof(Number), bytes.begin());
    // The machine is little-endian like every one that Debian 12 builds this program for.
    if (coding_ == Coding::kBig) std::reverse(bytes.begin(), bytes.end());
    Number number;
    std::memcpy(&number, bytes.data(), sizeof(Number));
    at_ += sizeof(Number);
    return static_cast<double>(number);
  }

  const char* at_;
  const char* end_;
  Coding coding_;
};

/// One list. @param into  where its entries go; null: passed over
bool read_list(Values& values, const Property& property, std::vector<PointNumber>* into) {
  const std::optional<PointNumber> count = values.next_whole(*property.count);
  if (!count || *count > values.bytes_left()) return false;
  for (PointNumber k = 0; k < *count; ++k) {
    if (into == nullptr) {
      if (!values.next(property.type)) return false;
      continue;
    }
    const std::optional<PointNumber> entry = values.next_whole(property.type);
    if (!entry) return false;
    into->push_back(*entry);
  }
  return true;
}

/// What the properties of an element are good for.
struct Roles {
  std::vector<int> axis;          ///< of each property: 0 to 2 for x, y, z; -1 for others
  std::vector<bool> corner_list;  ///< of each property: a face's list of points
};

Roles roles_of(const Element& element) {
  Roles roles;
  for (const Property& property : element.properties) {
    int axis = -1;
    for (int k = 0; k < 3; ++k)
      if (element.name == "vertex" && property.name == std::string(1, "xyz"[k])) axis = k;
    roles.axis.push_back(axis);
    roles.corner_list.push_back(element.name == "face" && (property.name == "vertex_indices" ||
                                                           property.name == "vertex_index"));
  }
  return roles;
}

/// One vertex, face or other element. @return false if the data end or make no sense
bool read_element(Values& values, const Element& element, const Roles& roles, PolygonSoup& soup) {
  std::array<double, 3> xyz{};
  for (std::size_t p = 0; p < element.properties.size(); ++p) {
    const Property& property = element.properties[p];
    if (property.count) {
      if (!read_list(values, property, roles.corner_list[p] ? &soup.corners : nullptr))
        return false;
      continue;
    }
    const std::optional<double> value = values.next(property.type);
    if (!value) return false;
    if (roles.axis[p] >= 0) xyz[static_cast<std::size_t>(roles.axis[p])] = *value;
  }
  if (element.name == "vertex") soup.points.push_back(xyz);
  if (element.name == "face") soup.close_polygon();
  return true;
}

bool has(const Element& element, const std::string& name, bool list) {
  return std::any_of(
      element.properties.begin(), element.properties.end(), [&](const Property& property) {
        return property.name == name && property.count.has_value() == list;
      });
}

}  // namespace

bool read_ply(const std::string& text, PolygonSoup& soup) {
  const std::optional<Header> header = parse_header(text);
  if (!header) return false;
  bool vertices = false;
  Values values(text, *header);
  for (const Element& element : header->elements) {
    const bool vertex = element.name == "vertex";
    const bool face = element.name == "face";
    if (vertex && (vertices || !has(element, "x", false) || !has(element, "y", false) ||
                   !has(element, "z", false)))
      return false;
    if (face && !has(element, "vertex_indices", true) && !has(element, "vertex_index", true))
      return false;
    vertices = vertices || vertex;
    // An element has at least one byte, or it cannot be counted off.
    if (element.properties.empty() ? element.number > 0 : element.number > values.bytes_left())
      return false;
    const Roles roles = roles_of(element);
    for (std::size_t i = 0; i < element.number; ++i)
      if (!read_element(values, element, roles, soup)) return false;
  }
  return vertices;
}

}  // namespace calmplate::mesh_io
