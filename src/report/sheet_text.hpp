// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "report/sheet_figures.hpp"

namespace calmplate::report {

/// What `sheet show` prints, 100 columns at most: every parameter with its source, modulus and loss
/// factor over frequency, the coated bars over temperature.
std::string sheet_text(const ListedSheet& listed,
                       const SheetFigures& figures,
                       const std::string& currency);

/// What `sheet list` prints: a line a sheet.
std::string sheet_list_text(const std::vector<ListedSheet>& sheets, const std::string& currency);

}  // namespace calmplate::report
