// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "study/layout_study.hpp"

namespace calmplate::study {
namespace {

std::string number(double value, int digits) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", digits, value);
  return text;
}

/// How much the level changes, in words that a customer knows. A level difference of 10 dB is heard
/// as about half as loud. Source: common practice, no source.
std::string in_words(double db) {
  if (db < 1.0) return "hardly a difference";
  if (db < 3.0) return "a small difference";
  if (db < 6.0) return "a clear difference";
  if (db < 10.0) return "a strong difference";
  return "half as loud or less";
}

}  // namespace

std::string answer_of(const job::Job& job, const Results& results) {
  const LayoutResult& bare = results.layouts.front();
  const std::string band =
      number(job.band.low_hz, 0) + " to " + number(job.band.high_hz, 0) + " Hz";
  if (results.layouts.size() == 1)
    return "The bare skin has " + std::to_string(bare.modes.size()) + " modes up to " +
           number(job.band.high_hz, 0) + " Hz; no layout was given to compare it with.";
  const auto reduction = [&](const LayoutResult& l) {
    return bare.band_level_db - l.band_level_db;
  };
  const LayoutResult *most = nullptr, *lean = nullptr;
  for (std::size_t i = 1; i < results.layouts.size(); ++i) {
    const LayoutResult& l = results.layouts[i];
    if (most == nullptr || reduction(l) > reduction(*most)) most = &l;
    if (l.mass_kg > 0.0 &&
        (lean == nullptr || reduction(l) / l.mass_kg > reduction(*lean) / lean->mass_kg))
      lean = &l;
  }
  std::string text = "Over " + band + " the layout \"" + most->name +
                     "\" calms the skin most: " + number(reduction(*most), 1) +
                     " dB less vibration than bare (" + in_words(reduction(*most)) + ") for " +
                     number(most->mass_kg, 2) + " kg on " + number(100.0 * most->share, 0) +
                     " % of the skin.";
  if (lean != nullptr && lean != most)
    text += " Per kilogram \"" + lean->name + "\" does more: " + number(reduction(*lean), 1) +
            " dB for " + number(lean->mass_kg, 2) + " kg on " + number(100.0 * lean->share, 0) +
            " % of the skin.";
  return text;
}

}  // namespace calmplate::study
