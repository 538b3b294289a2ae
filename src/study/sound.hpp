// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "reduced/complex_modes.hpp"
#include "response/band_response.hpp"
#include "study/layout_study.hpp"

namespace calmplate::study {

/// Damped modes of skin, air and cone together, up to the top of the band.
/// @param modes   of the door's model, ascending; those beyond the band are passed over
/// @param in_air  modes of the same skin in free air, to say which is like which
std::vector<DoorModeResult> door_modes(const Common& common,
                                       const reduced::FullReduction& reduction,
                                       const coupling::CoupledDoor& door,
                                       const reduced::ComplexModes& modes,
                                       const reduced::ComplexModes& in_air);

/// Sound of skin and woofer, for each one-third octave and over the curve's frequencies.
/// @param woofer  may be null
void sound_results(const Common& common,
                   const coupling::CoupledDoor& door,
                   const response::BandResponse& response,
                   WooferResult* woofer,
                   LayoutResult& out);

/// Accelerations at the points that have a limit. Steady drives only: empty for a tap. Peaks and
/// the ends of spans are searched for, so they do not depend on the curves' step.
std::vector<RattleResult> rattle_results(const job::Job& job,
                                         const response::BandResponse& response,
                                         double crest);

}  // namespace calmplate::study
