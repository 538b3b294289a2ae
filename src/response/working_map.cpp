// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/working_map.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::response {
namespace {

/// Columns whose outer products sum to the band integral of weight(f) q q^H, with
/// weight = w Im(modulus): few, because only few shapes take part. [r x m]
Eigen::MatrixXcd working_shapes(const BandResponse& response,
                                const std::vector<Node>& nodes,
                                const sheet::ComplexModulus& modulus) {
  const Eigen::Index r = response.model().size();
  Eigen::MatrixXcd q(r, static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const double f = nodes[i].freq_hz;
    const double loss = modulus.modulus(f, response.model().temp_k).imag();
    q.col(static_cast<Eigen::Index>(i)) =
        std::sqrt(nodes[i].weight_hz * base::kTwoPi * f * loss) * response.coordinates(f);
  }
  // Coordinates have no common unit: weigh each with the stiffness it meets.
  const Eigen::VectorXd stiff = response.model()
                                    .stiffness(nodes.front().freq_hz)
                                    .diagonal()
                                    .real()
                                    .cwiseMax(1e-300)
                                    .cwiseSqrt();
  q = stiff.asDiagonal() * q;
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXcd> eig(q * q.adjoint());
  const double total = eig.eigenvalues().sum();
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < r; ++i) kept += eig.eigenvalues()(i) > 1e-7 * total ? 1 : 0;
  return stiff.cwiseInverse().asDiagonal() * eig.eigenvectors().rightCols(kept) *
         eig.eigenvalues().tail(kept).cwiseSqrt().asDiagonal();
}

}  // namespace

Eigen::VectorXd working_map(const shell::Skin& skin,
                            const shell::PanelModel& model,
                            const std::vector<shell::LaidPiece>& pieces,
                            const reduced::FullReduction& reduction,
                            const BandResponse& response,
                            const drive::BandInput& band) {
  const Eigen::VectorXd area = panel::triangle_areas(skin.panel->mesh);
  Eigen::VectorXd power = Eigen::VectorXd::Zero(area.size());
  Eigen::VectorXd covered = Eigen::VectorXd::Zero(area.size());
  for (const shell::LaidPiece& piece : pieces)
    for (const panel::CoveredTriangle& c : piece.covered) covered(c.triangle) += c.fraction;
  const std::vector<Node> nodes = quadrature(response.poles(), band.low_hz, band.high_hz);
  const double per_band = 1.0 / (band.high_hz - band.low_hz);
  for (std::size_t t = 0; t < model.terms.size(); ++t) {
    if (!model.terms[t].modulus) continue;
    const Eigen::MatrixXcd shapes =
        reduction.basis *
        working_shapes(response, nodes, *model.terms[t].modulus).topRows(reduction.basis.cols());
    for (std::size_t p = 0; p < pieces.size(); ++p)
      for (std::size_t ply = 0; ply < pieces[p].plies.size(); ++ply)
        if (model.core_term[p][ply] == static_cast<int>(t)) {
          const Eigen::VectorXd energy =
              shell::lossy_energy(skin, pieces[p], ply, model.foils[p], shapes);
          for (std::size_t c = 0; c < pieces[p].covered.size(); ++c)
            power(pieces[p].covered[c].triangle) += per_band * energy(static_cast<Eigen::Index>(c));
        }
  }
  for (Eigen::Index i = 0; i < area.size(); ++i)
    if (power(i) != 0.0) power(i) /= area(i) * std::min(1.0, covered(i));
  return power;
}

}  // namespace calmplate::response
