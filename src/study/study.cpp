// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/study.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>

#include "base/parallel.hpp"
#include "modes/cholesky_factor.hpp"
#include "study/layout_study.hpp"
#include "study/sheet_comparison.hpp"
#include "study/tap_sound.hpp"

namespace calmplate::study {
namespace {

Eigen::VectorXd curve_frequencies(const drive::BandInput& band) {
  const CurveRange range = curve_range(band);
  const auto n =
      static_cast<Eigen::Index>(std::floor((range.high_hz - range.low_hz) / band.step_hz)) + 1;
  Eigen::VectorXd f(n);
  for (Eigen::Index i = 0; i < n; ++i) f(i) = range.low_hz + static_cast<double>(i) * band.step_hz;
  return f;
}

const sheet::Sheet* map_sheet(const job::Job& job) {
  if (!job.benefit_map.sheet.empty()) return &job.sheet_named(job.benefit_map.sheet);
  for (const sheet::Sheet& s : job.sheets)
    if (s.kind != sheet::Kind::mass) return &s;
  return nullptr;
}

void add_map(const Common& c,
             const reduced::FullReduction& bare,
             unsigned threads,
             const base::Progress& progress,
             Results& out) {
  const job::Job& job = *c.job;
  const sheet::Sheet* sheet = map_sheet(job);
  if (sheet == nullptr) return;
  placement::MapRequest request = map_request(job, *sheet, threads);
  std::vector<shell::LaidPiece> below;
  for (const job::Layout& layout : job.layouts) {
    if (layout.name != job.benefit_map.layout) continue;
    below = pieces_of(job, *c.panel, layout);
    for (const job::Piece& p : layout.pieces)
      if (p.face == job::Face::inner) request.taken.push_back(p.region);
  }
  const reduced::ReducedModel laid =
      reduced::reduce_by_pieces(c.skin, bare, below, reduction_of(job, true, 1).reference_hz);
  const placement::TrialBench bench(
      c.skin, bare, couple_door(job, c.skin, c.door, bare, laid).model, job.drive, job.band);
  out.map = placement::benefit_map(*c.panel, bench, request, progress);
  out.map_sheet = request.sheet->name;
}

void add_notes(const Common& c, Results& out) {
  for (const std::string& warning : c.job->warnings) out.notes.push_back(warning);
  for (const LayoutResult& l : out.layouts)
    if (!l.modes_complete)
      out.notes.push_back(
          "Layout \"" + l.name +
          "\": the count of modes does not agree with the inertia check; a mode may "
          "be missed.");
  if (c.job->drive.kind == drive::Kind::tap)
    out.notes.push_back("Levels are those of one tap: energy in the band, not a steady sound.");
  out.notes.push_back(
      "Band levels fall with 10 lg of the loss factor, peaks with 20 lg: the two are not the "
      "same.");
}

}  // namespace

void throw_loose(const job::Job& job) {
  throw base::InputError({job.file.string(), 0, "panel.edge"},
                         "leaves part of the panel loose",
                         "rim parts, springs or pads that hold all of it");
}

Common common_of(const job::Job& job, const panel::Panel& panel, const base::Progress& progress) {
  Common c;
  c.job = &job;
  c.panel = &panel;
  c.skin = skin_of(job, panel);
  c.door = door_of(job, c.skin, progress);
  c.ports = ports_of(job, c.skin);
  c.ports.more = door_ports(c.door, c.skin);
  c.freq_hz = curve_frequencies(job.band);
  return c;
}

std::vector<LayoutResult> study_layouts(const Common& common,
                                        unsigned threads,
                                        const base::Progress& progress,
                                        Detail detail) {
  const job::Job& job = *common.job;
  std::vector<LayoutResult> out(job.layouts.size() + 1);
  try {
    base::parallel_for(out.size(), threads, [&](std::size_t i) {
      out[i] = study_layout(
          common, i == 0 ? nullptr : &job.layouts[i - 1], 1, progress, nullptr, detail);
    });
  } catch (const modes::NotPositiveDefinite&) {
    throw_loose(job);
  }
  return out;
}

Results run_study(const job::Job& job,
                  const panel::Panel& panel,
                  const StudyOptions& options,
                  const base::Progress& progress) {
  const Common c = common_of(job, panel, progress);
  Results out;
  out.freq_hz = c.freq_hz;
  out.layouts.resize(job.layouts.size() + 1);
  const std::vector<job::Layout> swapped = comparison_layouts(job);
  std::vector<LayoutResult> compared(swapped.size());
  reduced::FullReduction bare;
  const double steps = static_cast<double>(job.layouts.size() + swapped.size()) + 2.0;
  std::atomic<int> done{0};
  try {
    // Bare and layouts side by side: each thread works on one, alone and in a fixed order within
    // it.
    WooferResult woofer;
    base::parallel_for(out.layouts.size() + swapped.size(), options.threads, [&](std::size_t i) {
      if (i >= out.layouts.size()) {
        const std::size_t k = i - out.layouts.size();
        progress.step("sheet " + swapped[k].name, done / steps);
        compared[k] = study_layout(c, &swapped[k], 1, progress, nullptr, Detail::levels);
        ++done;
        return;
      }
      const job::Layout* layout = i == 0 ? nullptr : &job.layouts[i - 1];
      progress.step("layout " + (layout != nullptr ? layout->name : std::string("bare")),
                    done / steps);
      out.layouts[i] = study_layout(c,
                                    layout,
                                    1,
                                    progress,
                                    i == 0 ? &bare : nullptr,
                                    Detail::all,
                                    i == 0 ? &woofer : nullptr);
      ++done;
    });
    if (c.door.woofer) out.woofer = woofer;
    out.tap = tap_of(c);
  } catch (const modes::NotPositiveDefinite&) {
    throw_loose(job);
  }
  if (options.with_map && job.benefit_map.wanted) add_map(c, bare, options.threads, progress, out);
  if (!compared.empty()) out.comparison = compare_sheets(job, out.layouts.front(), compared);
  out.answer = answer_of(job, out);
  add_notes(c, out);
  progress.step("done", 1.0);
  return out;
}

}  // namespace calmplate::study
