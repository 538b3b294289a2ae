// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "drive/drive_input.hpp"
#include "reduced/full_reduction.hpp"
#include "reduced/pole_expansion.hpp"
#include "reduced/reduced_model.hpp"

namespace calmplate::placement {

/// Answers "what if one more piece lay here?" quickly, for one panel, drive and band.
///
/// Model (b): the piece is condensed onto the bare panel's shapes. Shapes far above the band follow
/// it without inertia of their own (their first-order inertia is kept), so that the damped modes of
/// a matrix of the band's own modes give the band's mean square in closed form. With a modulus that
/// depends on frequency each pole is moved, to first order, to the modulus at its own frequency.
class TrialBench {
 public:
  /// @param skin  must outlive this object
  /// @param bare  reduction of the bare panel; must outlive this object
  /// @param laid  model (b) of the layout that the trial pieces come on top of; what follows the
  ///              skin's coordinates, such as the air of the door, stays as it is
  TrialBench(const shell::Skin& skin,
             const reduced::FullReduction& bare,
             const reduced::ReducedModel& laid,
             const drive::DriveInput& drive,
             const drive::BandInput& band);

  /// Mean square velocity over the band (see response::BandResponse) with the trial piece added.
  double band_mean_square(const shell::LaidPiece& trial) const;
  /// The same without a trial piece.
  double band_mean_square() const;

 private:
  double solve(const reduced::CondensedPiece* trial) const;
  void own_moduli(const reduced::CondensedPiece* trial,
                  double middle_hz,
                  reduced::PoleExpansion& poles) const;

  const shell::Skin* skin_;
  Eigen::MatrixXd shapes_;  ///< [n_skin_dof x r] of the laid model's own modes
  reduced::ReducedModel laid_;
  drive::DriveInput drive_;
  drive::BandInput band_;
  Eigen::Index n_moving_ = 0;  ///< leading shapes with inertia of their own
};

}  // namespace calmplate::placement
