// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "study/results.hpp"

namespace calmplate::report {

/// How sure the figures are: what the unknowns leave open, and what a finer mesh would change.
/// null where it was not asked for.
nlohmann::ordered_json unknowns_json(const study::Results& results);
nlohmann::ordered_json convergence_json(const study::Results& results);

/// The same in words and tables; empty if neither was asked for.
std::string sureness_text(const study::Results& results);

}  // namespace calmplate::report
