// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace calmplate::base {

/// A text of the user's as part of a file name: every byte but letters, digits, '-' and '_' gives
/// way to '_'. Who writes a picture and who looks for it name it by this.
std::string as_file_name(const std::string& words);

}  // namespace calmplate::base
