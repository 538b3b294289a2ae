// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "drive/drive_input.hpp"
#include "reduced/full_reduction.hpp"
#include "reduced/pole_expansion.hpp"
#include "reduced/reduced_model.hpp"
#include "response/band_response.hpp"

namespace calmplate::placement {

/// Answers "what if these pieces lay here?" quickly, for one panel, drive and band.
///
/// Model (b): pieces are condensed onto the bare panel's shapes. Shapes far above the band follow
/// it without inertia of their own (their first-order inertia is kept), so that the damped modes of
/// a matrix of the band's own modes give the band's mean square in closed form. With a modulus that
/// depends on frequency each pole is moved, to first order, to the modulus at its own frequency. A
/// woofer's coil brakes too much for that: its brake is followed exactly.
class TrialBench {
 public:
  using Pieces = std::vector<const reduced::CondensedPiece*>;

  /// @param skin  must outlive this object
  /// @param bare  reduction of the bare panel
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

  /// A piece in this bench's own coordinates.
  reduced::CondensedPiece condense(const shell::LaidPiece& piece) const;
  /// Poles of the layout with pieces of condense() on top, in this bench's coordinates.
  reduced::PoleExpansion poles(const Pieces& pieces) const;
  /// Where one more piece moves the poles, to first order. [n_pole]
  Eigen::VectorXcd moved_poles(const reduced::PoleExpansion& poles,
                               const reduced::CondensedPiece& piece) const;

  const reduced::ReducedModel& laid() const noexcept { return laid_; }
  const drive::DriveInput& drive() const noexcept { return drive_; }
  const drive::BandInput& band() const noexcept { return band_; }
  /// The resistance across the drive, which poles() takes at the band's middle.
  const response::Brake& brake() const noexcept { return brake_; }
  /// [r_before x r] what turns this bench's coordinates into those of the model it was made of.
  const Eigen::MatrixXd& coordinates() const noexcept { return coordinates_; }

 private:
  Eigen::VectorXd own_frequencies(const Eigen::VectorXcd& lambda) const;
  void own_moduli(const Pieces& pieces, reduced::PoleExpansion& poles) const;
  double mean_square(const reduced::PoleExpansion& poles) const;

  const shell::Skin* skin_;
  Eigen::MatrixXd coordinates_;
  Eigen::MatrixXd shapes_;  ///< [n_skin_dof x r] of the laid model's own modes
  reduced::ReducedModel laid_;
  drive::DriveInput drive_;
  drive::BandInput band_;
  Eigen::Index n_moving_ = 0;  ///< leading shapes with inertia of their own
  double middle_hz_ = 0.0;
  Eigen::MatrixXcd stiffness_;  ///< of the laid model at the band's middle
  response::Brake brake_;
  /// What the laid model's terms, but for the brake, differ from the middle at a few frequencies,
  /// on the shapes that move. Empty if they do not depend on frequency.
  std::vector<double> anchor_hz_;
  std::vector<Eigen::MatrixXcd> anchor_;
};

}  // namespace calmplate::placement
