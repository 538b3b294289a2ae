// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "job/written_layout.hpp"

namespace calmplate::editing {

/// The lines of a job file and which of them belong to a section. Lines count from 1.
class TextLines {
 public:
  /// @param header_lines  of all sections, ascending
  TextLines(const std::string& text, std::vector<int> header_lines);

  int count() const { return static_cast<int>(begin_.size()) - 1; }
  /// First byte of a line; of count() + 1: the end of the text.
  std::size_t begin(int line) const { return begin_.at(static_cast<std::size_t>(line - 1)); }
  std::string line(int number) const;  ///< without its end
  bool blank(int line) const;
  bool comment(int line) const;

  /// First of the comment lines right above a header, or the header's own line.
  int lead(int header) const;
  /// The line behind a section's last key and the comment lines right below it that are not the
  /// next section's.
  int end(int header) const;
  /// Blank lines above a section's lead.
  int blanks_above(int header) const;

  const std::string& newline() const { return newline_; }

 private:
  std::string text_;
  std::vector<std::size_t> begin_;
  std::vector<int> headers_;
  std::string newline_ = "\n";
};

/// How keys are written in a section: "  sheet = ".
struct KeyStyle {
  std::string indent;
  std::string before = " ", after = " ";  ///< around the equals sign
  std::size_t column = 0;                 ///< of the equals sign if the keys are lined up; else 0

  std::string key(const std::string& name) const;
};

/// The style of a section's last key; the plain one if it has none.
KeyStyle style_of(const TextLines& lines,
                  const std::string& text,
                  const job::WrittenSection& section);

/// Changes to a text, gathered in any order and made at once.
class TextEdits {
 public:
  /// Puts `with` in the place of bytes [span.begin, span.end). What is put at one place stands in
  /// the order of the calls.
  void replace(const job::Span& span, const std::string& with);
  void insert(std::size_t at, const std::string& text) { replace({at, at}, text); }
  /// @throws std::logic_error if two changes overlap
  std::string applied(const std::string& text) const;
  bool empty() const { return edits_.empty(); }

 private:
  struct Edit {
    job::Span span;
    std::string with;
  };
  std::vector<Edit> edits_;
};

}  // namespace calmplate::editing
