// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstddef>
#include <fstream>
#include <iterator>
#include <string>

namespace calmplate::testing {

/// tests/data/job/good_job.toml: an invented job that has every key of every section at least once,
/// and is without fault. Empty if the file is not there.
inline std::string good_job() {
  std::ifstream file(std::string(CALMPLATE_TEST_DATA) + "/job/good_job.toml", std::ios::binary);
  return std::string((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
}

/// `text` with the first `from` replaced by `to`; empty if `from` is not in it, so that a test
/// which misses its place cannot pass.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) return "";
  return text.replace(at, from.size(), to);
}

}  // namespace calmplate::testing
