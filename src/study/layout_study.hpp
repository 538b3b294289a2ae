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

/// @throws base::Cancelled, base::InputError from the parts
Common common_of(const job::Job& job, const panel::Panel& panel, const base::Progress& progress);

/// How much of a layout's study is wanted.
enum class Detail {
  levels,  ///< levels, mass and cost
  modes,   ///< and the damped modes
  all      ///< and curve, sound, rattles, door modes and working map
};

/// One layout on the model of record, (a).
/// @param layout      null: the bare panel
/// @param woofer      if not null and the job has one, receives how it plays in this door
/// @param reduction   if not null, receives the reduction (the bare one carries model (b))
LayoutResult study_layout(const Common& common,
                          const job::Layout* layout,
                          unsigned threads,
                          const base::Progress& progress,
                          reduced::FullReduction* reduction,
                          Detail detail = Detail::all,
                          WooferResult* woofer = nullptr);

/// Bare and every layout of a job on a panel, side by side. Bare first, then as in the job.
/// @throws base::InputError if part of the panel is loose
std::vector<LayoutResult> study_layouts(const Common& common,
                                        unsigned threads,
                                        const base::Progress& progress,
                                        Detail detail);

/// Says that part of the panel is loose. @throws base::InputError always
[[noreturn]] void throw_loose(const job::Job& job);

/// The answer in plain words: what the layouts do and which gives most per kilogram.
std::string answer_of(const job::Job& job, const Results& results);

}  // namespace calmplate::study
