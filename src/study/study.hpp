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
/// @param covered  what of the skin lies under the piece
shell::LaidPiece laid_piece(const job::Job& job,
                            const job::Piece& piece,
                            std::vector<panel::CoveredTriangle> covered);
/// A benefit map as the job wants it, on a skin where nothing is laid yet.
/// @param sheet  must outlive the request
placement::MapRequest map_request(const job::Job& job, const sheet::Sheet& sheet, unsigned threads);
/// The frequencies of the curves: a little beyond the band on both sides, so that a reader sees
/// what lies next to it.
struct CurveRange {
  double low_hz = 0.0, high_hz = 0.0;
};
CurveRange curve_range(const drive::BandInput& band);
reduced::Ports ports_of(const job::Job& job, const shell::Skin& skin);
/// @param bare  the bare panel gets shapes far enough above the band to carry model (b)
reduced::ReductionOptions reduction_of(const job::Job& job, bool bare, unsigned threads);

}  // namespace calmplate::study
