// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/format.hpp"

#include <cmath>
#include <cstdint>
#include <cstdio>
#include <stdexcept>

namespace calmplate::page {
namespace {

bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

}  // namespace

std::string escaped(const std::string& text) {
  std::string out;
  out.reserve(text.size());
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else if (c == '\'')
      out += "&#39;";
    else if (c == '\n' || c == '\t' || static_cast<unsigned char>(c) >= 0x20U)
      out += c;
  }
  return out;
}

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "–";
  char digits[400];
  std::snprintf(digits, sizeof digits, "%.*f", decimals, value);
  std::string out = digits;
  if (out[0] == '-' && out.find_first_not_of("-0.") == std::string::npos) out.erase(0, 1);
  return out;
}

std::string short_number(double value) {
  if (!std::isfinite(value)) return "–";
  char digits[40];
  std::snprintf(digits, sizeof digits, "%.4g", value);
  return digits;
}

std::string fill(const std::string& text, const Fills& fills) {
  std::string out;
  std::size_t from = 0;
  while (true) {
    const std::size_t open = text.find('{', from);
    if (open == std::string::npos) return out + text.substr(from);
    const std::size_t close = text.find('}', open);
    if (close == std::string::npos) throw std::invalid_argument("fill: open brace in " + text);
    const std::string name = text.substr(open + 1, close - open - 1);
    const std::string* value = nullptr;
    for (const auto& f : fills)
      if (f.first == name) value = &f.second;
    if (value == nullptr) throw std::invalid_argument("fill: no value for " + name);
    out += text.substr(from, open - from) + *value;
    from = close + 1;
  }
}

std::string base64(const std::string& bytes) {
  static const char kLetters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve(4 * ((bytes.size() + 2) / 3));
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t word = 0;
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
    for (std::size_t k = 0; k < 3; ++k)
      word = (word << 8U) | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k)
      out += k <= count ? kLetters[(word >> (18U - 6U * k)) & 63U] : '=';
  }
  return out;
}

std::string shortened(const std::string& text, std::size_t characters) {
  std::size_t count = 0;
  for (const char c : text) count += starts_character(c) ? 1U : 0U;
  if (count <= characters) return text;
  std::string out;
  std::size_t kept = 0;
  for (const char c : text) {
    if (starts_character(c) && ++kept == characters) break;
    out += c;
  }
  return out + "…";
}

}  // namespace calmplate::page
