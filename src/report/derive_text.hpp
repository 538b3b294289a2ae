// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "job/read_bar_test.hpp"
#include "sheet/derive.hpp"

namespace calmplate::report {

/// The derivation of a sheet as tables: rows, fitted numbers with their confidence, residuals, what
/// is assumed, and the lines to paste into a job file.
std::string derive_text(const job::BarTestInput& input, const sheet::Derivation& derivation);

/// The same as JSON, SI units in the key names; what has no value is null.
std::string derive_json(const job::BarTestInput& input, const sheet::Derivation& derivation);

/// [[sheet]] and [sheet.modulus] of a job file. Empty without a fit.
std::string job_lines(const job::BarTestInput& input, const sheet::Derivation& derivation);

/// What the fit says and does not say, in plain sentences; the first tells which part is assumed.
std::vector<std::string> derive_sentences(const job::BarTestInput& input,
                                          const sheet::Derivation& derivation);

/// What was taken for granted, one sentence each.
std::vector<std::string> derive_assumptions(const job::BarTestInput& input,
                                            const sheet::Derivation& derivation);

std::string bar_sentence(const sheet::BarTest& test);  ///< what was tested, one line
std::string flag_word(sheet::RowFlag flag);            ///< for machines: "first-mode"
std::string flag_sentence(sheet::RowFlag flag);        ///< for people
std::string knowledge_word(sheet::Knowledge knowledge);

}  // namespace calmplate::report
