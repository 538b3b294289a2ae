// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "study/layout_study.hpp"

namespace calmplate::study {

/// Closer than this two sheets cannot be told apart. Source: common practice, no source: moduli of
/// sheets of one kind differ by a factor of 1.5 and more between datasheets and batches.
constexpr double kTellApart_db = 1.0;

/// The job's wanted comparison as layouts to be studied: its layout with each sheet in turn in
/// place of all sheets of all pieces. Named after the sheets; none if no comparison is wanted.
std::vector<job::Layout> comparison_layouts(const job::Job& job);

/// @param studied  the studies of comparison_layouts(), in their order
SheetComparison compare_sheets(const job::Job& job,
                               const LayoutResult& bare,
                               const std::vector<LayoutResult>& studied);

/// Which sheet wins at which temperature and where two or more cannot be told apart.
/// @param comparison  complete but for the sentence
std::string comparison_sentence(const SheetComparison& comparison);

}  // namespace calmplate::study
