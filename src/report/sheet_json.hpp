// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "report/sheet_figures.hpp"

namespace calmplate::report {

/// sheet.json, schema "calmplate-sheet", version 1: docs/results-file.md. The same sheet gives the
/// same bytes.
/// @param currency  of the prices
std::string sheet_json(const ListedSheet& listed,
                       const SheetFigures& figures,
                       const std::string& currency);

/// What `sheet list --json` prints: schema "calmplate-sheet-list", version 1.
std::string sheet_list_json(const std::vector<ListedSheet>& sheets, const std::string& currency);

}  // namespace calmplate::report
