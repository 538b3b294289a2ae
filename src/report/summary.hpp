// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "job/job.hpp"
#include "panel/panel.hpp"
#include "study/results.hpp"

namespace calmplate::report {

/// The results as text for a terminal, 100 columns at most: panel, table of layouts, one-third
/// octaves, lowest modes, best place, answer, cautions.
std::string summary(const job::Job& job, const panel::Panel& panel, const study::Results& results);

/// What `check` prints: what was understood and what would be computed.
std::string description(const job::Job& job,
                        const panel::Panel& panel,
                        const panel::PanelReport& mending);

/// One sentence each: what the fitter must not cover, block, or forget.
/// Source: common practice, no source.
const std::vector<std::string>& cautions();

}  // namespace calmplate::report
