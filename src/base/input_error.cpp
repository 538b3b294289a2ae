// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/input_error.hpp"

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <utility>
#include <vector>

namespace calmplate::base {
namespace {

std::string message(const Where& where, const std::string& wrong, const std::string& allowed) {
  std::string text;
  if (!where.file.empty()) text += where.file + (where.line > 0 ? ":" : ": ");
  if (where.line > 0) text += std::to_string(where.line) + ": ";
  if (!where.key.empty()) text += where.key + ": ";
  text += wrong;
  if (!allowed.empty()) text += "; allowed: " + allowed;
  // One line, whatever a file name or a value held.
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return std::iscntrl(c) != 0; }, ' ');
  return text;
}

/// Optimal string alignment distance (insert, delete, replace, swap neighbours).
std::size_t distance(const std::string& a, const std::string& b) {
  const std::size_t n = a.size(), m = b.size();
  std::vector<std::vector<std::size_t>> d(n + 1, std::vector<std::size_t>(m + 1));
  for (std::size_t i = 0; i <= n; ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= m; ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= n; ++i)
    for (std::size_t j = 1; j <= m; ++j) {
      const std::size_t cost = a[i - 1] == b[j - 1] ? 0 : 1;
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + cost});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  return d[n][m];
}

}  // namespace

InputError::InputError(Where where, const std::string& wrong, const std::string& allowed)
    : std::runtime_error(message(where, wrong, allowed)),
      where_(std::move(where)),
      wrong_(wrong),
      allowed_(allowed) {}

std::string nearest_word(const std::string& word, const std::string* known, std::size_t count) {
  std::size_t best = std::max<std::size_t>(1, word.size() / 3) + 1;
  std::string nearest;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t d = distance(word, known[i]);
    if (d < best) {
      best = d;
      nearest = known[i];
    }
  }
  return nearest;
}

}  // namespace calmplate::base
