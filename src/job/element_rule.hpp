// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "job/job.hpp"

/// How large the elements of a job's mesh may be.
namespace calmplate::job {

/// Length of a bending wave in a plate, m: sqrt(2 pi / f) (D / m)^(1/4).
/// Source: [derived] D k^4 = m omega^2, D = E h^3 / 12 (1 - nu^2), m = rho h.
/// @param thickness_m, freq_hz  above 0
double bending_wave_m(double thickness_m, const sheet::Material& material, double freq_hz);

/// Length over which a foil takes up the skin's strain from its edge, m:
/// sqrt(t_core / |G|  /  (1/K_foil + 1/K_skin)), K = E h / (1 - nu^2). Infinite without a foil.
/// Source: [derived] core shear |G| s / t_core against the two membranes: s'' = s / L^2.
double shear_lag_m(const sheet::Sheet& sheet,
                   double thickness_m,
                   const sheet::Material& material,
                   double freq_hz,
                   double temp_k);

/// Fewest elements along a bending wave, and as many as the program takes by itself.
constexpr double kFewestPerWave = 10.0;
constexpr double kElementsPerWave = 14.0;

/// The size that the program takes by itself: as many elements a wave as kElementsPerWave, and
/// three within a shear lag, but 4 to 25 mm, in whole half millimetres.
/// @param shear_lag_m  infinite: none
double element_size_m(double wave_m, double shear_lag_m);

/// Settles the elements of a drawn skin once the band is known: its size where the job leaves it
/// open, and smaller elements along the edges of pieces whose shear lag asks for them.
void settle_elements(Job& job);

/// Adds a warning to the job if elements of this size are fewer than kFewestPerWave a wave at the
/// band's upper end.
void warn_if_coarse(Job& job, double element_m);

}  // namespace calmplate::job
