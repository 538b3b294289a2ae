// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "job/job.hpp"
#include "study/results.hpp"

namespace calmplate::report {

/// What woofer, shut-in air and named points gave, in words and tables; empty if there is nothing.
std::string sound_text(const job::Job& job, const study::Results& results);

/// The woofer as `check` prints it: the whole set, its resonance in the shut box, its band, how it
/// reaches the skin; empty without a woofer.
std::string woofer_text(const job::Job& job, const panel::Panel& panel);

/// How loud the skin is against the woofer where it is worst; empty without a woofer.
std::string sound_sentence(const study::Results& results);

}  // namespace calmplate::report
