// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace calmplate::report {

/// A plain text table: first column left, the others right, two spaces between. Widths count
/// characters, not bytes.
std::string text_table(const std::vector<std::vector<std::string>>& rows);

/// A number with so many decimals, or a dash if it is not finite.
std::string fixed(double value, int decimals);

/// Text broken at spaces into lines of at most `width` characters, each after `indent`.
std::string wrapped(const std::string& text, std::size_t width, const std::string& indent);

}  // namespace calmplate::report
