// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "editing/laid.hpp"
#include "editing/text_lines.hpp"
#include "job/written_layout.hpp"

namespace calmplate::editing {

/// Which layout and pieces of a document stand in a text, by their ids and in its order.
struct Held {
  int layout = 0;
  std::vector<int> pieces;
};

/// A job file's text with these layouts in place of its own, with as few bytes changed as may be.
/// @param held  one for each layout of the text
/// @param file  for messages
/// @throws base::InputError where the text's form does not allow it, in one line
std::string text_with(const std::string& text,
                      const std::string& file,
                      const std::vector<Held>& held,
                      const std::vector<Layout>& layouts,
                      const job::Job& job);

}  // namespace calmplate::editing
