// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cctype>
#include <cstddef>
#include <string>
#include <string_view>

#include "job/table_data.hpp"

namespace calmplate::job {
namespace {

constexpr int kDottedKeyLimit = 100;  ///< no job needs a key of more than four parts

std::string line_of_text(const std::string& text, int line) {
  std::size_t begin = 0;
  for (int i = 1; i < line && begin != std::string::npos; ++i) {
    begin = text.find('\n', begin);
    if (begin != std::string::npos) ++begin;
  }
  if (begin == std::string::npos || begin >= text.size()) return "";
  return text.substr(begin, text.find('\n', begin) - begin);
}

/// Bytes of the character that starts with `lead`; 0: none does.
std::size_t bytes_of_character(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xc2 && lead <= 0xdf) return 2;
  if (lead >= 0xe0 && lead <= 0xef) return 3;
  return lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
}

/// Refuses text in another encoding. The parser does so too, but not in words a fitter knows; what
/// is well formed and still no character (a lone surrogate) is left to it.
void refuse_other_encodings(const std::string& text,
                            const std::string& file,
                            const std::string& kind) {
  int line = 1;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t n = bytes_of_character(static_cast<unsigned char>(text[i]));
    bool good = n > 0 && i + n <= text.size();
    for (std::size_t k = 1; good && k < n; ++k)
      good = (static_cast<unsigned char>(text[i + k]) & 0xc0U) == 0x80U;
    if (!good)
      throw base::InputError({file, line, ""}, "is not UTF-8 text", kind + " saved as UTF-8");
    if (text[i] == '\n') ++line;
    i += n;
  }
}

/// True if a line looks like "thickness_mm = 0,8".
bool has_decimal_comma(const std::string& line) {
  if (line.find('[') != std::string::npos || line.find('"') != std::string::npos) return false;
  for (std::size_t i = 1; i + 1 < line.size(); ++i)
    if (line[i] == ',' && std::isdigit(static_cast<unsigned char>(line[i - 1])) != 0 &&
        std::isdigit(static_cast<unsigned char>(line[i + 1])) != 0)
      return true;
  return false;
}

/// True if a quote is opened on the line and not closed.
bool has_open_quote(const std::string& line) {
  return line.find("\"\"\"") == std::string::npos &&
         std::count(line.begin(), line.end(), '"') % 2 == 1;
}

/// The parser's own words on one line: it speaks of "\n" in its quotes already.
[[noreturn]] void fail_syntax(const toml::parse_error& error,
                              const std::string& text,
                              const std::string& file) {
  const int line = static_cast<int>(error.source().begin.line);
  const std::string written = line_of_text(text, line);
  std::string allowed;
  if (has_decimal_comma(written)) allowed = "decimals with a point, such as 0.8";
  if (has_open_quote(written)) allowed = "a closing \" on the same line";
  throw base::InputError(
      {file, line, ""}, "is not valid TOML: " + std::string(error.description()), allowed);
}

/// Refuses a file nested so deeply that taking it apart again would run out of stack.
void refuse_deep_keys(const std::string& text, const std::string& file) {
  int line = 1, dots = 0;
  char before = ' ';
  for (const char c : text) {
    if (c == '\n') {
      ++line;
      dots = 0;
    } else if (c == ',' || c == '=' || c == '#' || (c == '.' && before == '.')) {
      dots = 0;
    } else if (c == '.' && ++dots > kDottedKeyLimit) {
      throw base::InputError({file, line, ""},
                             "has more than " + std::to_string(kDottedKeyLimit) +
                                 " points in one dotted key or sentence",
                             "keys of up to four parts");
    }
    before = c;
  }
}

}  // namespace

TableReader TableReader::parse(const std::string& text,
                               const std::string& file,
                               const Section& root_section) {
  // Titles of whole files are "the job file" and the like.
  refuse_other_encodings(text, file, "a " + root_section.title.substr(4));
  refuse_deep_keys(text, file);
  std::shared_ptr<const toml::table> root;
  try {
    root = std::make_shared<const toml::table>(toml::parse(std::string_view(text)));
  } catch (const toml::parse_error& error) {
    fail_syntax(error, text, file);
  }
  auto data = std::make_unique<Data>();
  data->root = root;
  data->table = root.get();
  data->section = &root_section;
  data->file = file;
  return TableReader(std::move(data));
}

}  // namespace calmplate::job
