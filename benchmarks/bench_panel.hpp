// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "job/job.hpp"
#include "panel/panel.hpp"

namespace calmplate::bench {

/// A shallow cylinder of steel, 1.0 x 0.6 m, radius 3 m, about so many nodes.
panel::Panel bench_panel(int nodes);

/// A job on it: hem springs, force, band 40 to 250 Hz, butyl sheet, and three layouts (block, four
/// blocks, full).
job::Job bench_job();

}  // namespace calmplate::bench
