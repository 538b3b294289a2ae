// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

#include "response/band_response.hpp"

namespace calmplate::response {

/// How much each place of the skin moves over the band: mean square normal velocity at the nodes,
/// in dB on the scale of BandResponse::band_level_db, whose value is that of the surface mean.
///
/// @param normal  [n_node x r] normal displacement of the model's first r coordinates
/// @return        [n_node] dB
/// @throws std::invalid_argument if `normal` has more columns than the model has coordinates
/// Source: [derived] the band integral with one node in place of the surface.
Eigen::VectorXd velocity_map_db(const BandResponse& response,
                                const Eigen::MatrixXd& normal,
                                const drive::DriveInput& drive,
                                const drive::BandInput& band);

}  // namespace calmplate::response
