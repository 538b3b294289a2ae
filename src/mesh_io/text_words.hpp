// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <charconv>
#include <string_view>

namespace calmplate::mesh_io {

/// Takes one word after the other from text in memory: fast enough for meshes of hundreds of
/// megabytes, and the same in every language setting.
class TextWords {
 public:
  TextWords(const char* begin, const char* end) : at_(begin), end_(end) {}

  static bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f' || c == '\v';
  }

  /// True if only blanks are left.
  bool at_end() {
    skip_blanks();
    return at_ == end_;
  }

  /// The next word; empty at the end.
  std::string_view next() {
    skip_blanks();
    const char* from = at_;
    while (at_ != end_ && !is_blank(*at_)) ++at_;
    return {from, static_cast<std::size_t>(at_ - from)};
  }

  /// @return false if the next word is no number
  bool next_number(double& value) {
    std::string_view word = next();
    if (!word.empty() && word.front() == '+') word.remove_prefix(1);
    const auto [stop, fault] = std::from_chars(word.data(), word.data() + word.size(), value);
    return fault == std::errc() && stop == word.data() + word.size() && !word.empty();
  }

  /// Goes to the beginning of the next line.
  void skip_line() {
    while (at_ != end_ && *at_ != '\n') ++at_;
  }

 private:
  void skip_blanks() {
    while (at_ != end_ && is_blank(*at_)) ++at_;
  }
  const char* at_;
  const char* end_;
};

}  // namespace calmplate::mesh_io
