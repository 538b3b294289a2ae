// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "job/job.hpp"
#include "study/results.hpp"

namespace calmplate::report {

/// The placed layouts as they would stand in a job file, ready to be pasted into it.
std::string placed_toml(const job::Job& job, const study::Results& results);

/// How pieces were placed, and benefit against coverage; null where there is none.
nlohmann::ordered_json places_json(const study::Results& results);
nlohmann::ordered_json curve_json(const study::Results& results);

/// The same in words and a table; empty if there is none.
std::string places_text(const job::Job& job, const study::Results& results);

}  // namespace calmplate::report
