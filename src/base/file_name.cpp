// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/file_name.hpp"

#include <algorithm>

namespace calmplate::base {

std::string as_file_name(const std::string& words) {
  std::string name = words;
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  };
  std::replace_if(
      name.begin(), name.end(), [&](char c) { return !plain(c); }, '_');
  return name;
}

}  // namespace calmplate::base
