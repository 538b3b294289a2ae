// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "base/progress.hpp"
#include "cavity/slab.hpp"

namespace calmplate::cavity {

/// Modes of the closed cavity with every wall at rest, H p = w2 Q p.
struct CavityModes {
  Eigen::VectorXd omega2;    ///< [m] rad2/s2, ascending; the first is 0: pressure even everywhere
  Eigen::MatrixXd pressure;  ///< [n x m] pressure^T Q pressure = I, Pa; the skin's nodes come first
  bool complete = true;      ///< every mode was found, proven by a count
};

/// The even mode alone, in closed form: the cavity as a lumped spring.
CavityModes even_mode(const Slab& slab);

/// The even mode and all others up to a frequency.
/// @param top_hz   above 0, finite
/// @param threads  1 or more; the result does not depend on it
/// @throws std::invalid_argument if top_hz or threads is out of range
/// @throws base::InputError      if there are more than 2000
/// @throws base::Cancelled       if `progress` says so
CavityModes cavity_modes(const Slab& slab,
                         double top_hz,
                         unsigned threads = 1,
                         const base::Progress& progress = {});

}  // namespace calmplate::cavity
