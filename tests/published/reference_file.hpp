// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace calmplate::published {

/// Numbers from tests/data, in the digits of their source. A file holds comments (#) with the
/// source and the derivation, and lines "key: value value ...". The key "rule" holds the largest
/// relative difference that passes.
class ReferenceFile {
 public:
  /// @param path  below tests/data
  explicit ReferenceFile(const std::string& path) : path_(path) {
    std::ifstream in(std::string(CALMPLATE_TEST_DATA) + "/" + path);
    if (!in) throw std::runtime_error(path + ": cannot be read");
    for (std::string line; std::getline(in, line);) {
      const std::size_t colon = line.find(':');
      if (line.empty() || line[0] == '#') continue;
      if (colon == std::string::npos) throw std::runtime_error(path + ": no colon in: " + line);
      std::vector<double> numbers;
      std::istringstream rest(line.substr(colon + 1));
      for (double x = 0.0; rest >> x;) numbers.push_back(x);
      if (!rest.eof() || numbers.empty())
        throw std::runtime_error(path + ": not a list of numbers: " + line);
      if (!values_.emplace(line.substr(0, colon), numbers).second)
        throw std::runtime_error(path + ": key twice: " + line);
    }
  }

  const std::vector<double>& operator[](const std::string& key) const {
    const auto found = values_.find(key);
    if (found == values_.end()) throw std::runtime_error(path_ + ": no key " + key);
    return found->second;
  }

  double rule() const { return (*this)["rule"].at(0); }

 private:
  std::string path_;
  std::map<std::string, std::vector<double>> values_;
};

}  // namespace calmplate::published
