// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "job/keys.hpp"
#include "sheet/derive.hpp"

namespace calmplate::job {

/// A bar-test file, in SI units.
struct BarTestInput {
  sheet::BarTest test;
  std::vector<sheet::BarTestRow> rows;  ///< [n_row] in the order of the file, n_row >= 1
  sheet::FitOptions options;
  std::string note;
};

/// Sections and keys of a bar-test file, in the order of the document; materials are those of a
/// job.
std::vector<const Section*> bar_test_sections();

/// Reads and checks a bar-test file (TOML 1.0): [bar_test], [[row]] and, if wanted,
/// [material.NAME].
/// @throws base::InputError for the first fault found: file, line, key, what is wrong, what is
/// allowed
BarTestInput read_bar_test(const std::filesystem::path& file);

/// The same from text. @param file  its name, for messages
BarTestInput read_bar_test_text(const std::string& text, const std::string& file);

}  // namespace calmplate::job
