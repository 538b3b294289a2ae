// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace calmplate::page {

/// Text of anybody's as HTML or SVG text or attribute value: & < > " ' are written as entities, and
/// control characters are left out.
std::string escaped(const std::string& text);

/// A number with so many decimals, half away from an even binary value as printf rounds; "–" if it
/// is not finite; no negative zero.
std::string fixed(double value, int decimals);

/// A frequency or temperature as short as it can be with at most four digits: "40", "62.5".
std::string short_number(double value);

using Fills = std::vector<std::pair<std::string, std::string>>;

/// The text with every {name} replaced. @throws std::invalid_argument if a name is left over, so
/// that a translation cannot lose a figure unnoticed
std::string fill(const std::string& text, const Fills& fills);

/// RFC 4648 base 64, with padding, without line breaks.
std::string base64(const std::string& bytes);

/// At most so many characters (not bytes) of UTF-8 text; the last is "…" if more was there.
std::string shortened(const std::string& text, std::size_t characters);

}  // namespace calmplate::page
