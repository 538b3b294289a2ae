// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

namespace calmplate::base {

/// Writes `text` to a temporary name beside `path`, flushes it to the disk and renames it, so that
/// `path` holds the old bytes or all of the new ones, never a part.
/// @throws std::runtime_error naming the file if it cannot be written (full disk, no permission);
///         the temporary file is removed then
void write_file_whole(const std::filesystem::path& path, const std::string& text);

/// A result folder that appears whole or not at all. Files are written into a temporary sibling
/// folder; commit() renames it to its final name and puts a former result out of the way. Without
/// commit() the destructor removes the temporary folder.
class OutputFolder {
 public:
  /// @param target  where the results shall be; must not exist, or be an empty folder, or be a
  ///                former result (it holds the file `marker`)
  /// @throws InputError if target exists and is something else, or its parent does not exist
  OutputFolder(const std::filesystem::path& target, const std::string& marker);
  ~OutputFolder();
  OutputFolder(const OutputFolder&) = delete;
  OutputFolder& operator=(const OutputFolder&) = delete;

  /// The temporary folder to write into.
  const std::filesystem::path& path() const noexcept { return temporary_; }
  const std::filesystem::path& target() const noexcept { return target_; }

  /// Puts the results in place. @throws std::runtime_error if renaming fails
  void commit();

 private:
  std::filesystem::path target_;
  std::filesystem::path temporary_;
  bool committed_ = false;
};

}  // namespace calmplate::base
