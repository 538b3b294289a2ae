// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "reduced/reduced_model.hpp"

namespace calmplate::reduced {

/// Damped modes with each core's modulus at the mode's own frequency.
/// Convention: omega*^2 = (2 pi f)^2 (1 + i eta), so f = sqrt(Re omega*^2) / 2 pi.
struct ComplexModes {
  Eigen::VectorXd freq_hz;             ///< [n_mode] ascending
  Eigen::VectorXd loss_factor;         ///< [n_mode]
  Eigen::VectorXd loss_factor_energy;  ///< [n_mode] modal strain energy: a diagnostic, too high for
                                       ///< cores of high loss
  Eigen::MatrixXcd shape;              ///< [r x n_mode] shape^T M shape = 1
};

/// All damped modes up to a frequency.
/// Moduli that depend on frequency: each mode is iterated until its modulus is that of its own
/// frequency (relative change below 1e-10, at most 50 steps).
/// @param top_hz  above 0
/// @throws std::runtime_error if a mode does not settle
ComplexModes complex_modes(const ReducedModel& model, double top_hz);

/// Real picture of a complex shape: turned so that it is as real as can be, largest value 1.
Eigen::VectorXd real_picture(const Eigen::VectorXcd& shape);

/// Ring time: how long a knock takes to fall by 60 dB, s. T60 = 6 ln 10 / (2 pi f eta) = 2.199/(f
/// eta). Source: [derived] energy falls as exp(-2 pi f eta t).
double ring_time(double freq_hz, double loss_factor);

}  // namespace calmplate::reduced
