// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>

#include "job/job.hpp"

namespace calmplate::report {

/// What shakes the skin, with a line of words that every chart prints.
nlohmann::ordered_json drive_json(const job::Job& job);

}  // namespace calmplate::report
