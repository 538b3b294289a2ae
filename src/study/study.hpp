// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "base/progress.hpp"
#include "job/job.hpp"
#include "panel/panel.hpp"
#include "reduced/full_reduction.hpp"
#include "shell/panel_model.hpp"
#include "study/results.hpp"

namespace calmplate::study {

struct StudyOptions {
  unsigned threads = 1;  ///< results do not depend on it
  bool with_map = true;  ///< false leaves the benefit map out, whatever the job says
};

/// The main job on a checked panel: bare, every layout, benefit map, answer.
/// @throws base::InputError  if the skin is not held, or a beam or spring lies off it
/// @throws base::Cancelled
Results run_study(const job::Job& job,
                  const panel::Panel& panel,
                  const StudyOptions& options,
                  const base::Progress& progress);

/// The parts of the main job, for benchmarks and tests.
shell::Skin skin_of(const job::Job& job, const panel::Panel& panel);
shell::Attachments attachments_of(const job::Job& job);
std::vector<shell::LaidPiece> pieces_of(const job::Job& job,
                                        const panel::Panel& panel,
                                        const job::Layout& layout);
reduced::Ports ports_of(const job::Job& job, const shell::Skin& skin);
/// @param bare  the bare panel gets shapes far enough above the band to carry model (b)
reduced::ReductionOptions reduction_of(const job::Job& job, bool bare, unsigned threads);

}  // namespace calmplate::study
