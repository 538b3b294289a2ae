// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cutting/laid_part.hpp"
#include "cutting/pen.hpp"
#include "cutting/templates.hpp"
#include "panel/panel.hpp"

namespace calmplate::cutting {

/// What a laying sheet says; worded elsewhere.
struct LayingWords {
  std::string title, job;
  std::vector<std::string> facts;  ///< one line each under the title
  std::vector<std::string> head;   ///< of the table
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> steps;     ///< numbered in the order of work
  std::vector<std::string> warnings;  ///< about single pieces; may be empty
  std::vector<std::string> cautions;
};

/// The order of work on as many pages as it takes: a map of each face that is covered, the table of
/// parts, steps, cautions.
std::vector<PageDrawing> laying_pages(const LayingWords& words,
                                      const panel::Panel& panel,
                                      const std::vector<LaidPart>& parts,
                                      const std::vector<NamedOutline>& keep_out,
                                      const Paper& paper);

}  // namespace calmplate::cutting
