// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/text_lines.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace calmplate::editing {

TextLines::TextLines(const std::string& text, std::vector<int> header_lines)
    : text_(text), headers_(std::move(header_lines)) {
  begin_.push_back(0);
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n' && i + 1 < text.size()) begin_.push_back(i + 1);
  begin_.push_back(text.size());
  const std::size_t first = text.find('\n');
  if (first != std::string::npos && first > 0 && text[first - 1] == '\r') newline_ = "\r\n";
}

std::string TextLines::line(int number) const {
  std::string out = text_.substr(begin(number), begin(number + 1) - begin(number));
  while (!out.empty() && (out.back() == '\n' || out.back() == '\r')) out.pop_back();
  return out;
}

bool TextLines::blank(int number) const {
  return line(number).find_first_not_of(" \t") == std::string::npos;
}

bool TextLines::comment(int number) const {
  const std::string own = line(number);
  const std::size_t first = own.find_first_not_of(" \t");
  return first != std::string::npos && own[first] == '#';
}

int TextLines::lead(int header) const {
  int out = header;
  while (out > 1 && comment(out - 1)) --out;
  return out;
}

int TextLines::end(int header) const {
  const auto next = std::upper_bound(headers_.begin(), headers_.end(), header);
  const int limit = next == headers_.end() ? count() + 1 : lead(*next);
  int last = limit - 1;
  while (last > header && (blank(last) || comment(last))) --last;
  int out = last + 1;
  while (out < limit && comment(out)) ++out;
  return out;
}

int TextLines::blanks_above(int header) const {
  const int top = lead(header);
  int out = 0;
  while (top - out > 1 && blank(top - out - 1)) ++out;
  return out;
}

std::string KeyStyle::key(const std::string& name) const {
  std::string out = indent + name;
  if (column > out.size())
    out.append(column - out.size(), ' ');
  else
    out += before.empty() ? "" : " ";
  return out + "=" + after;
}

KeyStyle style_of(const TextLines& lines,
                  const std::string& text,
                  const job::WrittenSection& section) {
  KeyStyle out;
  if (section.in_line || section.keys.empty()) return out;
  for (const job::WrittenKey& key : section.keys) {
    const std::size_t from = lines.begin(key.first_line);
    const std::string left = text.substr(from, key.value.begin - from);
    const std::size_t sign = left.rfind('='), start = left.find_first_not_of(" \t");
    if (sign == std::string::npos || start == std::string::npos) continue;
    std::size_t name_end = sign;
    while (name_end > start && (left[name_end - 1] == ' ' || left[name_end - 1] == '\t'))
      --name_end;
    out.indent = left.substr(0, start);
    out.before = left.substr(name_end, sign - name_end);
    out.after = left.substr(sign + 1);
    if (out.before.size() > 1) out.column = sign;
  }
  return out;
}

void TextEdits::replace(const job::Span& span, const std::string& with) {
  edits_.push_back({span, with});
}

std::string TextEdits::applied(const std::string& text) const {
  std::vector<Edit> edits = edits_;
  // What is put between two bytes comes before what takes the place of the bytes behind.
  std::stable_sort(edits.begin(), edits.end(), [](const Edit& a, const Edit& b) {
    if (a.span.begin != b.span.begin) return a.span.begin < b.span.begin;
    return a.span.begin == a.span.end && b.span.begin != b.span.end;
  });
  std::string out;
  std::size_t done = 0;
  for (const Edit& edit : edits) {
    if (edit.span.begin < done || edit.span.end > text.size())
      throw std::logic_error("TextEdits: two changes of one place");
    out += text.substr(done, edit.span.begin - done) + edit.with;
    done = edit.span.end;
  }
  return out + text.substr(done);
}

}  // namespace calmplate::editing
