// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "study/door.hpp"
#include "study/study.hpp"

namespace calmplate::study {

/// What the layouts of one job share.
struct Common {
  const job::Job* job = nullptr;
  const panel::Panel* panel = nullptr;
  shell::Skin skin;
  reduced::Ports ports;
  Door door;
  Eigen::VectorXd freq_hz;  ///< of the curves
};

/// One layout on the model of record, (a).
/// @param layout      null: the bare panel
/// @param drawn       with modes, curve and working map; else levels, mass and cost alone
/// @param woofer      if not null and the job has one, receives how it plays in this door
/// @param reduction   if not null, receives the reduction (the bare one carries model (b))
LayoutResult study_layout(const Common& common,
                          const job::Layout* layout,
                          unsigned threads,
                          const base::Progress& progress,
                          reduced::FullReduction* reduction,
                          bool drawn = true,
                          WooferResult* woofer = nullptr);

/// The answer in plain words: what the layouts do and which gives most per kilogram.
std::string answer_of(const job::Job& job, const Results& results);

}  // namespace calmplate::study
