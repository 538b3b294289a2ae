// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>

#include "reduced/reduced_model.hpp"

namespace calmplate::reduced {

/// A reduced model of constant moduli, solved once for all frequencies:
///
///   q(w) = sum_j shape_j amplitude_j / (lambda_j - w^2) + still
///
/// lambda_j = w_j^2 (1 + i eta_j) are the complex eigenvalues, with the moduli taken at one
/// frequency; `still` holds the eigenvalues so high that inertia does not matter to them (above 1e4
/// times the square of the highest frequency of interest: an error below 1e-4 of their own small
/// share).
struct PoleExpansion {
  Eigen::VectorXcd lambda;                   ///< [n_pole] rad2/s2, ascending real part
  Eigen::MatrixXcd shape;                    ///< [r x n_pole] shape_j^T M shape_j = 1
  Eigen::VectorXcd amplitude;                ///< [n_pole] shape_j^T load
  Eigen::VectorXcd still;                    ///< [r]
  std::complex<double> still_at_load = 0.0;  ///< load^T still

  Eigen::VectorXcd response(double freq_hz) const;
};

/// @param freq_hz  where the moduli are taken
/// @param top_hz   highest frequency of interest
/// Source: [derived] complex symmetric pencils have vectors orthogonal without conjugation.
PoleExpansion expand(const ReducedModel& model, double freq_hz, double top_hz);

/// The same for any complex symmetric pencil (k - w^2 m) q = load. [r x r], [r x r], [r]
PoleExpansion expand_pencil(const Eigen::MatrixXcd& k,
                            const Eigen::MatrixXcd& m,
                            const Eigen::VectorXcd& load,
                            double top_hz);

/// Integral of the surface mean of |v|^2 over frequency for a unit load, m2/s2 Hz, in closed form:
///
///   int w^2 / ((a - w^2)(b - w^2)) dw = (J(a) - J(b)) / (b - a),  J(a) = sqrt(a) atanh(w /
///   sqrt(a))
///
/// so it resolves every peak, whatever the loss. Precomputes all pairs once.
class BandIntegral {
 public:
  /// @param surface  [r x r] Hermitian: q^H surface q is the surface mean of |w|^2
  BandIntegral(const PoleExpansion& poles, const Eigen::MatrixXcd& surface);

  /// The same shapes and amplitudes with other poles, as a small change moves them to first order.
  /// @param lambda  [n_pole]
  BandIntegral with_poles(const Eigen::VectorXcd& lambda) const;

  /// @param low_hz,high_hz  0 <= low < high. Loss of every pole must be above 0 for a finite
  /// answer.
  double mean_square_velocity(double low_hz, double high_hz) const;

  /// load^T q for a unit load: how far the drive's own place moves, m/N.
  std::complex<double> at_load(double freq_hz) const;

 private:
  BandIntegral() = default;
  void set_poles(const Eigen::VectorXcd& lambda);

  Eigen::VectorXcd lambda_, root_;
  Eigen::MatrixXcd product_;          ///< [n x n] shape_k^H S shape_j amplitude_j conj amplitude_k
  Eigen::VectorXcd over_k_, over_j_;  ///< [n] sums of product / (conj lambda_k - lambda_j)
  Eigen::VectorXcd with_still_;       ///< [n]
  double still_ = 0.0;
  Eigen::VectorXcd at_load_;  ///< [n] amplitude^2
  std::complex<double> still_at_load_ = 0.0;
};

}  // namespace calmplate::reduced
