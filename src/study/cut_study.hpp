// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "cutting/laid_part.hpp"
#include "cutting/plan.hpp"
#include "job/job.hpp"
#include "panel/panel.hpp"

namespace calmplate::study {

/// One layout ready to be cut and laid.
struct CutLayout {
  std::string name;
  std::vector<cutting::LaidPart> parts;  ///< as in plan.parts
  cutting::CutPlan plan;                 ///< of this layout alone
  double minutes = 0.0;                  ///< to clean, cut and lay, by order of size
};

struct CutStudy {
  std::vector<CutLayout> layouts;
  std::optional<cutting::CutPlan> together;  ///< all layouts on common stock; if there are several
  std::vector<cutting::NamedOutline> keep_out;
};

/// The layouts that names mean, in the order of the job; all of them if there is no name.
/// @throws base::InputError if a name is not that of a layout, or the job has no layout
std::vector<job::Layout> layouts_to_cut(const job::Job& job, const std::vector<std::string>& names);

/// Cuts layouts whose pieces are known.
/// @throws base::InputError as cutting::parts_of and cutting::make_plan
CutStudy cut_layouts(const job::Job& job,
                     const panel::Panel& panel,
                     const std::vector<job::Layout>& layouts,
                     const base::Progress& progress);

}  // namespace calmplate::study
