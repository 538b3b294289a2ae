// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "job/job.hpp"
#include "study/results.hpp"

namespace calmplate::report {

/// What the job's [report] says, for the page that is handed over; the logo by its file's name.
nlohmann::ordered_json report_json(const job::Job& job);

/// Name of the logo's file in a result folder, empty without a logo.
std::string logo_file(const job::Job& job);

/// The job's sheets: kind, mass, stock and price.
nlohmann::ordered_json sheets_json(const job::Job& job);

/// Stock sheets of a layout by area, without offcuts; null if one of its sheets has no stock size.
nlohmann::ordered_json stock_sheets_json(const job::Job& job, const study::LayoutResult& layout);

}  // namespace calmplate::report
