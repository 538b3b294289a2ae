// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "editing/text_lines.hpp"
#include "job/written_layout.hpp"

namespace calmplate::editing {

/// One piece that is in the text, about to be changed.
struct PieceEdit {
  const job::WrittenPiece* before = nullptr;
  const job::WrittenPiece* after = nullptr;
  bool foil = false;  ///< one of the sheets afterwards has a foil
  const job::WrittenSection* section = nullptr;
};

/// Adds the changes that make the one piece the other: numbers in place, keys that come or go as
/// whole lines.
/// @return false if a key would have to come or go in an inline table
bool edit_piece(const std::string& text,
                const TextLines& lines,
                const PieceEdit& piece,
                TextEdits& edits);

}  // namespace calmplate::editing
