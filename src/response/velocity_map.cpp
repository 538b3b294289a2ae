// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/velocity_map.hpp"

#include <Eigen/Eigenvalues>
#include <stdexcept>

#include "base/units.hpp"

namespace calmplate::response {

Eigen::VectorXd velocity_map_db(const BandResponse& response,
                                const Eigen::MatrixXd& normal,
                                const drive::DriveInput& drive,
                                const drive::BandInput& band) {
  const Eigen::Index r = normal.cols();
  if (r > response.model().size())
    throw std::invalid_argument("velocity_map_db: more shapes than the model has coordinates");
  const std::vector<Node> nodes = quadrature(response.poles(), band.low_hz, band.high_hz);
  Eigen::MatrixXcd v(r, static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t i = 0; i < nodes.size(); ++i)
    v.col(static_cast<Eigen::Index>(i)) = std::sqrt(nodes[i].weight_hz) * base::kTwoPi *
                                          nodes[i].freq_hz *
                                          response.coordinates(nodes[i].freq_hz).head(r);
  // Only the real part of v v^H counts, for the shapes are real; few of its vectors do.
  const Eigen::MatrixXd re = v.real(), im = v.imag();
  const Eigen::VectorXd size =
      normal.colwise().norm().transpose().cwiseMax(1e-300);  // coordinates have no common unit
  const Eigen::MatrixXd sum =
      size.asDiagonal() * (re * re.transpose() + im * im.transpose()) * size.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(sum);
  const double total = eig.eigenvalues().sum();
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < r; ++i) kept += eig.eigenvalues()(i) > 1e-9 * total ? 1 : 0;
  const Eigen::MatrixXd rows =
      normal * (size.cwiseInverse().asDiagonal() * eig.eigenvectors().rightCols(kept) *
                eig.eigenvalues().tail(kept).cwiseSqrt().asDiagonal());
  const Eigen::VectorXd square = rows.rowwise().squaredNorm();
  constexpr double kReference = base::kVelocityReference * base::kVelocityReference;
  return square.unaryExpr([&](double sum_hz) {
    return base::to_db(
        std::max(1e-12, band_mean(sum_hz, drive, band.low_hz, band.high_hz) / kReference));
  });
}

}  // namespace calmplate::response
