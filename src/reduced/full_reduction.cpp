// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/full_reduction.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/units.hpp"
#include "reduced/air_mass.hpp"
#include "reduced/sparse_times.hpp"

namespace calmplate::reduced {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

/// Forces to whose static answers the basis must be open: loads, and what each lossy part adds to
/// the common loss, for every mode. Scaled so that a column's size tells how much it counts.
Eigen::MatrixXd enriching_forces(const shell::PanelModel& model,
                                 const modes::ModeSet& modes,
                                 const Ports& ports,
                                 const ReductionOptions& o) {
  double common = 0.0;  // the skin's own loss acts on all modes alike
  for (const shell::StiffnessTerm& t : model.terms)
    if (t.name == "skin") common = t.loss_factor;
  std::vector<std::pair<const shell::StiffnessTerm*, double>> lossy;
  for (const shell::StiffnessTerm& t : model.terms) {
    if (t.name == "skin") continue;
    const std::complex<double> c = t.coefficient(o.reference_hz, o.temp_k);
    // A modulus moves with frequency as well, so its whole size counts.
    const double weight = t.modulus ? std::abs(c) : std::abs(c.imag() - common * c.real());
    if (weight > 0.0) lossy.emplace_back(&t, weight);
  }
  const double top = std::pow(base::kTwoPi * o.enrich_hz, 2);
  Eigen::Index k = 0;
  while (k < modes.omega2.size() && modes.omega2(k) <= top) ++k;
  const Eigen::Index n = model.n_dof;
  const auto blocks = static_cast<Eigen::Index>(lossy.size());
  Eigen::MatrixXd forces(n, 1 + ports.listen.rows() + blocks * k);
  forces.setZero();
  forces.col(0).head(model.n_skin_dof) = ports.load;
  forces.middleCols(1, ports.listen.rows()).topRows(model.n_skin_dof) = ports.listen.transpose();
  for (Eigen::Index b = 0; b < blocks; ++b) {
    const auto& [term, weight] = lossy[static_cast<std::size_t>(b)];
    auto block = forces.middleCols(1 + ports.listen.rows() + b * k, k);
    block = weight * sparse_times(term->matrix, modes.shape.leftCols(k));
    for (Eigen::Index j = 0; j < k; ++j) block.col(j) /= std::sqrt(std::max(modes.omega2(j), 1.0));
  }
  return forces;
}

/// Static answers without their share of the modes, orthonormal in energy, small ones left out.
Eigen::MatrixXd enrichment(const Eigen::MatrixXd& answers,
                           const modes::ModeSet& modes,
                           const Sparse& mass,
                           const Sparse& stiffness,
                           Eigen::Index n_port) {
  Eigen::MatrixXd v = answers;
  const Eigen::MatrixXd mx = sparse_times(mass, modes.shape);
  for (int twice = 0; twice < 2; ++twice) v -= modes.shape * (mx.transpose() * v).eval();
  Eigen::MatrixXd kv = sparse_times(stiffness, v);
  // Ports: to unit energy, so that none is lost for its unit.
  for (Eigen::Index j = 0; j < n_port; ++j) {
    const double energy = v.col(j).dot(kv.col(j));
    const double scale = energy > 0.0 ? 1.0 / std::sqrt(energy) : 0.0;
    v.col(j) *= scale;
    kv.col(j) *= scale;
  }
  const Eigen::MatrixXd gram = v.transpose() * kv;
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(0.5 * (gram + gram.transpose()));
  constexpr double kEnergyThatCounts = 1e-6;
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < gram.rows(); ++i)
    kept += eig.eigenvalues()(i) > kEnergyThatCounts ? 1 : 0;
  return v * (eig.eigenvectors().rightCols(kept) *
              eig.eigenvalues().tail(kept).cwiseSqrt().cwiseInverse().asDiagonal());
}

Eigen::MatrixXd normal_of(const shell::Skin& skin, const Eigen::MatrixXd& basis) {
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(skin.dof.rows(), basis.cols());
  for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
    if (skin.dof(i, 2) != shell::kHeld) normal.row(i) = basis.row(skin.dof(i, 2));
  return normal;
}

Eigen::MatrixXd projected(const Sparse& matrix, const Eigen::MatrixXd& basis) {
  const Eigen::MatrixXd small = basis.transpose() * sparse_times(matrix, basis);
  return 0.5 * (small + small.transpose());
}

}  // namespace

FullReduction reduce_full(const shell::Skin& skin,
                          const shell::PanelModel& model,
                          const Ports& ports,
                          const ReductionOptions& o,
                          const base::Progress& progress) {
  modes::ModeOptions mode_options;
  mode_options.threads = o.threads;
  mode_options.count_check = o.count_check;
  mode_options.scale_hz = o.top_hz;
  const Sparse stiffness = model.real_stiffness(o.reference_hz, o.temp_k);
  modes::ModeSolver solver(stiffness, model.mass, mode_options, progress);
  FullReduction out;
  out.modes = solver.up_to(o.top_hz, progress);

  const Eigen::MatrixXd forces = enriching_forces(model, out.modes, ports, o);
  progress.check();
  const Eigen::MatrixXd extra = enrichment(solver.factor().solve(forces, o.threads),
                                           out.modes,
                                           model.mass,
                                           stiffness,
                                           1 + ports.listen.rows());
  const Eigen::Index k = out.modes.shape.cols();
  out.basis.resize(model.n_dof, k + extra.cols());
  out.basis << out.modes.shape, extra;
  out.normal = normal_of(skin, out.basis);
  progress.check();

  ReducedModel& m = out.model;
  m.temp_k = o.temp_k;
  // By their making the modes and the static answers are orthogonal in mass and in energy: the mass
  // is the identity but for the answers' own block, and the reference stiffness is diagonal. So the
  // skin, the largest term, is what the others leave of it.
  m.mass = Eigen::MatrixXd::Identity(k + extra.cols(), k + extra.cols());
  m.mass.bottomRightCorner(extra.cols(), extra.cols()) = projected(model.mass, extra);
  m.mass += air_mass(skin, out.normal, o.air_faces);
  Eigen::MatrixXd skin_share = Eigen::MatrixXd::Identity(k + extra.cols(), k + extra.cols());
  skin_share.diagonal().head(k) = out.modes.omega2;
  for (const shell::StiffnessTerm& t : model.terms) {
    m.terms.push_back({t.name, {}, t.modulus, t.loss_factor});
    if (t.name == "skin") continue;
    m.terms.back().matrix = projected(t.matrix, out.basis);
    skin_share -= t.coefficient(o.reference_hz, o.temp_k).real() * m.terms.back().matrix;
  }
  for (ReducedTerm& t : m.terms)
    if (t.name == "skin") t.matrix = skin_share;
  const auto on_skin = out.basis.topRows(model.n_skin_dof);
  m.load = on_skin.transpose() * ports.load;
  m.listen = ports.listen * on_skin;
  m.surface =
      out.normal.transpose() * skin.node_area.asDiagonal() * out.normal / skin.node_area.sum();
  return out;
}

ReducedModel reduce_by_pieces(const shell::Skin& skin,
                              const FullReduction& bare,
                              const std::vector<shell::LaidPiece>& pieces,
                              double reference_hz) {
  ReducedModel m = bare.model;
  const auto shapes = bare.basis.topRows(skin.n_dof);
  for (const shell::LaidPiece& piece : pieces) {
    m.pieces.push_back(condense(skin, piece, shapes, reference_hz, m.temp_k));
    m.pieces.back().add_mass(m.mass);
  }
  return m;
}

}  // namespace calmplate::reduced
