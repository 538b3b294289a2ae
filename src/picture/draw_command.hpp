// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <iosfwd>
#include <string>
#include <vector>

namespace calmplate::picture {

/// What `calmplate-draw` does: reads a result folder, writes FOLDER/pictures/NAME.png and names
/// each file on `out` as it is written.
/// @param arguments  without the program's name
/// @return exit status: 0 done; 2 bad arguments or a bad result folder (one line on `err`);
///         1 failed for another cause, such as no way to draw or a full disk (one line on `err`)
int run_draw(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

}  // namespace calmplate::picture
