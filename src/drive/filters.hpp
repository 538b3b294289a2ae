// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <complex>

#include "drive/woofer_input.hpp"

namespace calmplate::drive {

/// What a filter does to a steady voltage: output over input, 1 in its passband. With s = i
/// f/corner for a low-pass and its reciprocal for a high-pass,
///
///   Butterworth of order n:              B_n(s) = 1 / prod_k (1 - s/p_k),
///                                        p_k = exp(i pi (2k + n - 1) / (2n)), k = 1 to n
///   Linkwitz-Riley of order 2, 4 or 8:   B_n/2(s)^2;   of order 1: B_1(s)
///
/// A Butterworth is at -3.01 dB at its corner, a Linkwitz-Riley of order 2 to 8 at -6.02 dB; both
/// fall by 6.02 dB an octave and order. The same for one slope of its own and for all of `filter`.
///
/// @param freq_hz  Hz, at or above 0, finite
/// @throws std::invalid_argument if freq_hz is not, or if fault_of(filter) finds a fault
/// Source: [derived] poles evenly spread on the left half of the unit circle make
/// |B_n|^2 = 1/(1 + |s|^2n); docs/theory.md "The woofer". Names from memory.
std::complex<double> filter_response(const FilterInput& filter, double freq_hz);

}  // namespace calmplate::drive
