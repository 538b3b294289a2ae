// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "reduced/full_reduction.hpp"
#include "response/band_response.hpp"
#include "shell/panel_model.hpp"

namespace calmplate::response {

/// Where a laid layout works: mean power turned into heat in the cores and free layers over the
/// band, per area of sheet
/// (several pieces on one triangle are taken together, per area of skin if they cover more than
/// it); 0 where there is none.
///
/// @param response  built from reduction.model, which must be the full reduction of `model`
/// @return          [n_tri] W/m2 of sheet for a steady drive (mean over a sweep of the band); J/m2
/// for a tap Source: [derived] dissipated power = w Im(G*) times twice the strain energy per
/// pascal, rms values.
Eigen::VectorXd working_map(const shell::Skin& skin,
                            const shell::PanelModel& model,
                            const std::vector<shell::LaidPiece>& pieces,
                            const reduced::FullReduction& reduction,
                            const BandResponse& response,
                            const drive::BandInput& band);

}  // namespace calmplate::response
