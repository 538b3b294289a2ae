// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <vector>

#include "shell/skin.hpp"

namespace calmplate::response {

/// The place that lies a distance outward of the middle of the skin's area, along its mean normal.
/// m
Eigen::Vector3d in_front(const shell::Skin& skin, double distance_m);

/// Pressure at a place in front of elementary radiators in a rigid wall, per velocity of each
/// shape:
///
///   p = i w rho / (2 pi) sum_i U_i exp(-i k R_i) / R_i
///
/// @param place   [n x 3] of the radiators, m
/// @param volume  [n x r] volume that each sends out per unit of each shape, m2
/// @param at      m, in space
/// @return        [r] Pa s/m
/// @throws std::invalid_argument if freq_hz is not above 0 and finite, or `at` lies on a radiator
/// Source: [published] Rayleigh's integral as in the theory, "Sound".
Eigen::RowVectorXcd pressure_row(const panel::Nodes& place,
                                 const Eigen::MatrixXd& volume,
                                 double freq_hz,
                                 const Eigen::Vector3d& at);

/// Sound that a skin sends out from one face, set in a rigid wall. Every node is an elementary
/// radiator of its share of the area (Rayleigh), at its true place in space:
///
///   W = v^H P v for rms velocities v,  P = w^2 rho / (2 pi c) sum_ij U_i U_j sin(k r_ij)/(k r_ij)
///
/// with U_i the volume that node i sends out per unit of each shape. For peak velocities W is half
/// of that. Holds for a skin that is nearly flat, with elements under a sixth of the wavelength.
class Radiator {
 public:
  /// Works once for all frequencies up to `top_hz`: some 20 matrices [r x r] are kept.
  /// @param skin     node areas and places
  /// @param normal   [n_node x r] outward normal displacement of each shape at the nodes
  /// @param top_hz   highest frequency that will be asked for, above 0, finite
  /// @param threads  1 or more; the result does not depend on it
  /// @throws std::invalid_argument if sizes differ or a number is out of range
  Radiator(const shell::Skin& skin,
           const Eigen::MatrixXd& normal,
           double top_hz,
           unsigned threads = 1);

  /// P, [r x r] W s2/m2, symmetric. Relative to its largest entry within 1e-11.
  /// @throws std::out_of_range unless 0 < freq_hz <= top_hz
  Eigen::MatrixXd power_matrix(double freq_hz) const;

  /// Sound power of rms velocities [r] m/s, W. Never below 0. Errors as power_matrix.
  double power(double freq_hz, const Eigen::VectorXcd& velocity) const;

  /// Power over that of a plane wave from the same area and mean square velocity, no unit; 0 for a
  /// skin at rest. Errors as power_matrix.
  double efficiency(double freq_hz, const Eigen::VectorXcd& velocity) const;

  /// response::pressure_row of the skin's nodes.
  Eigen::RowVectorXcd pressure_row(double freq_hz, const Eigen::Vector3d& at) const;

  /// response::in_front of the skin.
  Eigen::Vector3d in_front(double distance_m) const;

 private:
  /// sum_ij U_i U_j sin(k r_ij)/(k r_ij). [r x r]
  Eigen::MatrixXd kernel(double wave_number) const;

  panel::Nodes place_;       ///< [n_node x 3] m, from the middle
  Eigen::MatrixXd volume_;   ///< [n_node x r] U, m2
  Eigen::MatrixXd surface_;  ///< [r x r] int w w' dA, m2
  Eigen::Vector3d middle_, outward_;
  double area_m2_ = 0.0;
  double reach_m_ = 0.0;  ///< no two nodes are further apart
  double top_hz_ = 0.0;
  std::vector<double> knot_;             ///< (k / k_top)^2 at which the kernel is kept
  std::vector<double> knot_weight_;      ///< of barycentric interpolation
  std::vector<Eigen::MatrixXd> kernel_;  ///< [knot][r x r]
};

}  // namespace calmplate::response
