// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include "picture/colour_scale.hpp"
#include "picture/result_folder.hpp"

namespace calmplate::picture {

/// One pale fill for each sheet of the results, in the order in which the layouts name them; each
/// darker than the one before, so that a grey print tells them apart. Black text stands on all.
class SheetColours {
 public:
  explicit SheetColours(const Results& results) {
    for (const Layout& layout : results.layouts) {
      for (const Piece& piece : layout.pieces) {
        if (std::find(names_.begin(), names_.end(), piece.sheet) == names_.end()) {
          names_.push_back(piece.sheet);
        }
      }
    }
  }

  Colour fill(const std::string& sheet) const {
    const auto place = std::find(names_.begin(), names_.end(), sheet) - names_.begin();
    const auto k = static_cast<double>(place % 5);
    return from_lch(88.0 - 7.5 * k, 30.0, 95.0 + 95.0 * k);
  }

  const std::vector<std::string>& names() const noexcept { return names_; }

 private:
  std::vector<std::string> names_;
};

}  // namespace calmplate::picture
