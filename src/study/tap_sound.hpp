// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "reduced/complex_modes.hpp"
#include "study/layout_study.hpp"

namespace calmplate::study {

/// The tap by which layouts are heard: the job's own if it taps, else a knuckle's knock, where the
/// job's force shakes the skin, else a little off the skin's middle.
TapInput tap_of(const Common& common);

/// What a tap sounds like 1 m in front of the skin: a ringing tone for every damped mode of the
/// door, air and woofer's cone included, up to TapInput::up_to_hz.
///
/// Each pole w_p = w_d + i s of (K(w) - w^2 M) q = load gives exp(i w_p t) with the residue at its
/// own frequency, K's change with frequency included:
///
///   p(t) = Re sum -i F(w_d) P(w_d) i w_p x (x^T load) / (w_p x^T (M - dK/d(w^2)) x) exp(i w_p t)
///
/// with P the pressure per velocity of the skin and F the pulse. Time counts from the sound's
/// arrival; it holds once the pulse is over.
///
/// @param door   the coupled model of the layout
/// @param modes  its damped modes, up to TapInput::up_to_hz
/// Source: [derived] contour integral of the response over frequency.
std::vector<TapTone> tap_tones(const Common& common,
                               const reduced::FullReduction& reduction,
                               const coupling::CoupledDoor& door,
                               const reduced::ComplexModes& modes,
                               const TapInput& tap);

}  // namespace calmplate::study
