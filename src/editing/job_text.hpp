// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "editing/document.hpp"
#include "editing/layout_text.hpp"

namespace calmplate::editing {

/// The text of a job file, and its edits: whatever a person has not changed keeps every byte.
///
/// A changed piece changes the numbers of its own keys in place. A new piece stands behind the one
/// before it in the layout, written as its neighbours are; a removed one goes with the comment
/// lines right above it and right below it, and everything between blank lines stays. Sections
/// other than layouts are never touched. A layout that [layout.place] fills stays as it is.
class JobText {
 public:
  /// @throws base::InputError as job::read_job for the file itself
  static JobText open(const std::filesystem::path& file);
  /// @param file  its name, for messages
  JobText(std::string text, std::filesystem::path file);

  const std::string& text() const noexcept { return text_; }
  const std::filesystem::path& file() const noexcept { return file_; }

  /// The text with the document's layouts in it. Byte for byte the same if nothing was edited.
  /// @throws base::InputError in one line if it cannot be written: a layout without a piece;
  /// layouts
  ///         written as an inline list that gain or lose pieces
  std::string with(const Document& document) const;

  /// Writes it, whole or not at all, and takes it as the text from now on. The document is marked
  /// as saved.
  /// @throws base::InputError as with(), and if the file on disk is no longer the one that was read
  /// @throws std::runtime_error if it cannot be written
  void save(Document& document);
  /// The same under another name in the same folder, which may exist; the new file is the one from
  /// now on. Another folder is refused: the job's paths start from its own.
  void save_as(Document& document, const std::filesystem::path& file);

 private:
  void write(Document& document, const std::filesystem::path& file);

  std::string text_;
  std::filesystem::path file_;
  std::vector<Held> held_;  ///< what of the document stands in the text
};

}  // namespace calmplate::editing
