// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <functional>
#include <memory>
#include <vector>

#include "base/progress.hpp"
#include "drive/drive_input.hpp"
#include "reduced/condensed_piece.hpp"
#include "reduced/pole_expansion.hpp"
#include "reduced/reduced_model.hpp"
#include "reduced/sub_bands.hpp"
#include "response/band_response.hpp"

namespace calmplate::editing {

/// A piece in the coordinates of one live model at one temperature. Its stiffness follows frequency
/// by a polynomial in log f through the model's knots.
struct LivePiece {
  Eigen::MatrixXd mass;                 ///< [n x n]
  Eigen::MatrixXcd middle;              ///< [n x n] stiffness at the middle of the band
  std::vector<Eigen::MatrixXcd> knots;  ///< [n x n] at each knot, less `middle`; empty: constant
};

/// The bare panel, with its door or without, made ready for pieces to be laid on.
///
/// In the bare panel's own modes those far above the band follow the others as their stiffness,
/// pieces included, tells them to at the middle of the band; their inertia is kept to first order.
/// What moduli do away from the middle is then projected on the shapes that move: as shapes are
/// stationary, it errs by the second order of what the followers change.
/// Source: [derived] docs/theory.md, "The live model".
class LiveModel {
 public:
  using Laid = std::vector<std::shared_ptr<const LivePiece>>;

  /// @param base     without pieces; the skin's coordinates come first
  /// @param brake    the resistance across the drive, taken at middle_hz, if there is one
  /// @param freq_hz  [n_point] of the curve, ascending
  LiveModel(const reduced::ReducedModel& base,
            const drive::DriveInput& drive,
            const drive::BandInput& band,
            const response::Brake& brake,
            const Eigen::VectorXd& freq_hz);

  /// @param piece   condensed on the skin's coordinates
  /// @param threads  the result does not depend on it
  LivePiece lift(const reduced::CondensedPiece& piece, double temp_k, unsigned threads) const;

  struct Answer {
    Eigen::VectorXd curve_db;
    double band_level_db = 0.0;
  };
  /// @param threads  the result does not depend on it
  Answer answer(const Laid& pieces, unsigned threads, const base::Progress& progress) const;

  struct Modes {
    Eigen::VectorXcd lambda;  ///< [n_mode] rad2/s2, ascending real part, each at its own modulus
    Eigen::MatrixXcd shape;   ///< [n x n_mode] in the coordinates of `base`
  };
  /// The lowest damped modes.
  Modes modes(const Laid& pieces, int most, const base::Progress& progress) const;

 private:
  /// The layout's pencil on the shapes that move.
  struct Pencil {
    reduced::FollowedPencil at_middle;
    std::vector<Eigen::MatrixXcd> knots;  ///< pieces' share at each knot, less the middle's
    bool constant = true;
  };
  Pencil pencil_of(const Laid& pieces, unsigned threads) const;
  Eigen::VectorXd weights(double freq_hz) const;  ///< [n_knot] of the polynomial
  void add_knots(const Pencil& pencil, double freq_hz, Eigen::MatrixXcd& k) const;
  std::complex<double> braked(double freq_hz, const std::complex<double>& at_load) const;
  Eigen::MatrixXcd moves_of(const Pencil& pencil,
                            unsigned threads,
                            const base::Progress& progress,
                            const std::function<void()>& beside) const;
  reduced::PoleExpansion poles_of(const Pencil& pencil) const;
  /// The band by the poles alone, weighted with the drive.
  struct NearBand {
    double integral = 0.0;   ///< in closed form
    double at_points = 0.0;  ///< sum over the curve's points inside the band
  };
  NearBand near_band(const Pencil& pencil, const Eigen::MatrixXcd& surface) const;
  Eigen::MatrixXcd surface_of(const Pencil& pencil) const;

  reduced::ReducedModel base_;   ///< in its own modes
  Eigen::MatrixXd coordinates_;  ///< [n_before x n]
  drive::DriveInput drive_;
  drive::BandInput band_;
  response::Brake brake_;
  Eigen::VectorXd freq_hz_;
  Eigen::VectorXd strength_;                      ///< [n_point] of the drive
  Eigen::Index first_inside_ = 0, n_inside_ = 0;  ///< points inside the band
  double middle_hz_ = 0.0;
  Eigen::Index n_moving_ = 0;
  Eigen::MatrixXcd stiffness_;  ///< [n x n] at the middle
  /// [n_point][m x m] of the base but for the brake, less the middle's
  std::vector<Eigen::MatrixXcd> change_;
  std::vector<double> knot_hz_, knot_weight_;
  /// The same at the knots.
  std::vector<Eigen::MatrixXcd> knot_change_;
};

}  // namespace calmplate::editing
