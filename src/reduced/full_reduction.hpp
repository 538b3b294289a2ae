// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <limits>
#include <vector>

#include "base/progress.hpp"
#include "modes/eigen_solve.hpp"
#include "reduced/reduced_model.hpp"
#include "shell/panel_model.hpp"

namespace calmplate::reduced {

/// What goes in and what is read out, on the skin's degrees of freedom.
struct Ports {
  Eigen::VectorXd load;    ///< [n_skin_dof] of a unit drive
  Eigen::MatrixXd listen;  ///< [n_point x n_skin_dof], may have no row
  Eigen::MatrixXd
      more{};  ///< [n_more x n_skin_dof] further forces to be open to, such as the air's
};

struct ReductionOptions {
  double top_hz = 400.0;  ///< all modes up to here are kept
  /// Modes up to here get the static answers of the lossy parts.
  double enrich_hz = std::numeric_limits<double>::infinity();
  double reference_hz = 100.0;  ///< the real stiffness takes the moduli here
  double temp_k = 293.15;
  /// Temperatures, K, at which the model shall hold as well: the static answers of the lossy parts
  /// are added for moduli that lie far from those at temp_k. Each costs one factorisation, no
  /// modes.
  std::vector<double> also_temp_k;
  int air_faces = 2;  ///< faces with air on them, 0 to 2
  unsigned threads = 1;
  bool count_check = true;  ///< prove by inertia that no mode is missed
};

/// Model (a): the treated panel's own modes and what they lack.
struct FullReduction {
  ReducedModel model;
  Eigen::MatrixXd basis;   ///< [n_dof x r] modes first
  modes::ModeSet modes;    ///< undamped, without air
  Eigen::MatrixXd normal;  ///< [n_node x r] normal displacement of each basis shape
  Eigen::MatrixXd more;    ///< [n_more x r] what the further ports make of each basis shape
};

/// Modes of the real stiffness up to top_hz, enriched with the static answers to the loads and to
/// the forces by which each lossy part departs from common loss, K^-1 K_core shape: without these
/// the loss of a stiff core is far off. The static answers are kept while their energy counts.
/// @throws modes::NotPositiveDefinite  if part of the panel is loose
/// @throws base::Cancelled
FullReduction reduce_full(const shell::Skin& skin,
                          const shell::PanelModel& model,
                          const Ports& ports,
                          const ReductionOptions& options,
                          const base::Progress& progress);

/// Model (b): the bare panel's basis with each piece condensed onto it.
/// @param bare  reduce_full of the model without pieces
/// @throws std::invalid_argument from condense
ReducedModel reduce_by_pieces(const shell::Skin& skin,
                              const FullReduction& bare,
                              const std::vector<shell::LaidPiece>& pieces,
                              double reference_hz);
/// The same at another temperature, K.
ReducedModel reduce_by_pieces(const shell::Skin& skin,
                              const FullReduction& bare,
                              const std::vector<shell::LaidPiece>& pieces,
                              double reference_hz,
                              double temp_k);

}  // namespace calmplate::reduced
