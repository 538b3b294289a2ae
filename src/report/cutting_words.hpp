// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "cutting/laying_sheet.hpp"
#include "job/job.hpp"
#include "panel/panel.hpp"
#include "study/cut_study.hpp"

namespace calmplate::report {

/// The cutting plan and the laying sheets as text, 100 columns at most: for each layout what to
/// buy, every cut, every part with its place, the steps; then the plan of all layouts together, and
/// the cautions.
std::string cutting_text(const job::Job& job, const study::CutStudy& study);

/// cutting.json, see docs/results-file.md.
std::string cutting_json(const job::Job& job,
                         const study::CutStudy& study,
                         const std::string& paper);

/// What the laying sheet of one layout says. Source of the steps: common practice, no source.
cutting::LayingWords laying_words(const job::Job& job, const study::CutLayout& layout);

/// "buy 2 sheets of 500 x 750 mm" and what is known of the plan, one sentence each.
std::vector<std::string> sheet_sentences(const cutting::SheetPlan& plan,
                                         const std::string& currency);

/// One cut in words: where, how long, and what it parts.
std::string cut_sentence(const cutting::Cut& cut, const cutting::CutPlan& plan);

/// "butyl: sheet 1 of 2, 500 x 750 mm"
std::string stock_name(const cutting::SheetPlan& sheet, const cutting::StockPlan& stock);

/// Every file of the result folder as its name from there and its bytes. With several layouts each
/// has a folder of its own with the files that it would have alone.
std::vector<std::pair<std::string, std::string>> cutting_files(const job::Job& job,
                                                               const panel::Panel& panel,
                                                               const study::CutStudy& study,
                                                               const cutting::Paper& paper);

}  // namespace calmplate::report
