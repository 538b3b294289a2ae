// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "job/job.hpp"

namespace calmplate::job {

/// The pieces of every layout against the panel, each other and the keep-outs.
/// @throws base::InputError
void check_pieces(const Job& job, const panel::Panel& panel);

/// The place of a key inside an entry of the job: the entry's own line, its key made longer.
base::Where where_in(const base::Where& entry, const std::string& key);

/// "[0, 0] to [1020, 590] mm"
std::string map_extent(const panel::Panel& panel);

}  // namespace calmplate::job
