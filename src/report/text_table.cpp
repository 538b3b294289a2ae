// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/text_table.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <sstream>

namespace calmplate::report {
namespace {

/// Characters of UTF-8 text: bytes that do not continue one.
std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
  }));
}

}  // namespace

std::string text_table(const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> width;
  for (const auto& row : rows)
    for (std::size_t c = 0; c < row.size(); ++c) {
      if (c >= width.size()) width.push_back(0);
      width[c] = std::max(width[c], characters(row[c]));
    }
  std::string out;
  for (const auto& row : rows) {
    std::string line = "  ";
    for (std::size_t c = 0; c < row.size(); ++c) {
      const std::string pad(width[c] - characters(row[c]), ' ');
      line += c == 0 ? row[c] + pad : "  " + pad + row[c];
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

std::string wrapped(const std::string& text, std::size_t width, const std::string& indent) {
  std::istringstream words(text);
  std::string word, line, out;
  while (words >> word) {
    if (!line.empty() && characters(line) + 1 + characters(word) > width) {
      out += indent + line + "\n";
      line.clear();
    }
    line += line.empty() ? word : " " + word;
  }
  return line.empty() ? out : out + indent + line + "\n";
}

}  // namespace calmplate::report
