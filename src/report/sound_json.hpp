// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>

#include "job/job.hpp"
#include "study/results.hpp"

namespace calmplate::report {

/// Adds what woofer, shut-in air and named points gave to a layout's object.
void add_sound(const study::LayoutResult& layout, nlohmann::ordered_json& out);

/// The knock that the layouts' taps are.
nlohmann::ordered_json tap_json(const study::TapInput& tap);

/// The woofer as `check --json` gives it, see woofer_text; null without one.
nlohmann::ordered_json woofer_set_json(const job::Job& job, const panel::Panel& panel);

/// The woofer in the bare door, or null.
nlohmann::ordered_json woofer_json(const study::Results& results);

}  // namespace calmplate::report
