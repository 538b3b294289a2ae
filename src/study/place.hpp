// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "placement/search.hpp"
#include "study/layout_study.hpp"

namespace calmplate::study {

/// The bare panel and its door, made ready for trying pieces: one reduction for all searches, and
/// one for each draw of what is unknown if a layout is to be placed over that. In a draw the sheets
/// keep their modulus.
class PlaceBench {
 public:
  /// @param job, panel  must outlive this object
  PlaceBench(const job::Job& job,
             const panel::Panel& panel,
             unsigned threads,
             const base::Progress& progress);

  /// Finds the pieces of a layout.
  /// @throws base::InputError if keep-outs, margins or limits leave no room for any piece
  PlaceResult place(const job::Layout& layout, job::Layout& placed) const;

  /// Spots by the strain energy that the lowest modes of the bare panel would have in the piece's
  /// core, each as if the others were not there: the habit that a search has to beat. Laid from the
  /// best down as far as they fit. Source: common practice, no source.
  void place_by_energy(const job::Layout& layout, job::Layout& placed) const;

 private:
  struct Benches {
    std::vector<std::unique_ptr<placement::TrialBench>> owned;
    std::vector<const placement::TrialBench*> list;
    std::vector<std::vector<placement::PowerAt>> powers;
  };
  /// The bare panel as the job has it, or as one draw of what is unknown would have it.
  struct Site {
    std::unique_ptr<job::Job> job;        ///< of a draw; null: the job's own
    std::unique_ptr<panel::Panel> panel;  ///< likewise
    Common common;
    reduced::FullReduction bare;
  };
  std::unique_ptr<Site> make_site(std::unique_ptr<job::Job> job,
                                  std::unique_ptr<panel::Panel> panel) const;
  void add_benches(const job::PlaceInput& place, const Site& site, Benches& out) const;
  Benches benches_for(const job::PlaceInput& place) const;
  placement::SearchRequest request_for(const job::PlaceInput& place) const;
  job::Layout laid_out(const job::Layout& layout, const std::vector<placement::Spot>& spots) const;

  const job::Job* job_;
  const panel::Panel* panel_;
  std::vector<std::unique_ptr<Site>> sites_;  ///< the job's own first, then draws
  unsigned threads_;
  base::Progress progress_;
};

/// Finds the pieces of every layout of the job that asks for it and puts them there.
/// @return what each search found, in the order of the job
std::vector<PlaceResult> place_layouts(job::Job& job,
                                       const panel::Panel& panel,
                                       unsigned threads,
                                       const base::Progress& progress);

/// A block in the middle with the sides of the skin, grown until it covers its share of it. Clear
/// of rim, holes and keep-outs.
job::Layout centre_block(const job::Job& job,
                         const panel::Panel& panel,
                         const std::string& sheet,
                         double share);

/// Every other square of a board, those nearest the middle first, up to a share of the skin.
job::Layout chequer(const job::Job& job,
                    const panel::Panel& panel,
                    const std::string& sheet,
                    double share);

/// A job with the trade's habits and best placed layouts beside the user's own: "full cover",
/// "centre block" (a quarter of the skin), "chequer" (at the largest share), and "best placed N %"
/// for every share, all of one sheet. Names that the job has already are left out.
/// @param shares  of the skin, ascending, above 0
job::Job with_habits(const job::Job& job,
                     const panel::Panel& panel,
                     const std::string& sheet,
                     const std::vector<double>& shares);

/// Name of the first layout that is one piece of that sheet everywhere; empty if there is none.
std::string full_layout(const job::Job& job, const std::string& sheet);

/// Benefit against coverage: the pieces of a placed layout one after the other, at some of their
/// counts, and a full cover, each on the model of record.
CoverageCurve coverage_curve(const Common& common,
                             const job::Layout& placed,
                             const LayoutResult& bare,
                             const LayoutResult* full,
                             unsigned threads,
                             const base::Progress& progress);

}  // namespace calmplate::study
