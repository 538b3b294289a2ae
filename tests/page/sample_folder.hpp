// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

namespace calmplate::sample {

/// An invented results.json with a woofer and all that a page can show: figures of many digits, so
/// that rounding is seen.
nlohmann::json page_results();

/// A folder of its own that is gone after the test.
class PageFolder {
 public:
  explicit PageFolder(const nlohmann::json& results);
  ~PageFolder();
  PageFolder(const PageFolder&) = delete;
  PageFolder& operator=(const PageFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  void write(const std::string& name, const std::string& bytes) const;

 private:
  std::filesystem::path path_;
};

/// The smallest PNG: one grey pixel.
std::string tiny_png();

}  // namespace calmplate::sample
