// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/full_reduction.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <memory>

#include "base/units.hpp"
#include "modes/cholesky_factor.hpp"
#include "reduced/air_mass.hpp"
#include "reduced/sparse_times.hpp"

namespace calmplate::reduced {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

/// A lossy part with how much it counts at one temperature.
struct Lossy {
  const shell::StiffnessTerm* term = nullptr;
  double weight = 0.0;
};

std::vector<Lossy> lossy_parts(const shell::PanelModel& model, double freq_hz, double temp_k) {
  double common = 0.0;  // the skin's own loss acts on all modes alike
  for (const shell::StiffnessTerm& t : model.terms)
    if (t.name == "skin") common = t.loss_factor;
  std::vector<Lossy> lossy;
  for (const shell::StiffnessTerm& t : model.terms) {
    if (t.name == "skin") continue;
    const std::complex<double> c = t.coefficient(freq_hz, temp_k);
    // A modulus moves with frequency as well, so its whole size counts.
    const double weight = t.modulus ? std::abs(c) : std::abs(c.imag() - common * c.real());
    if (weight > 0.0) lossy.push_back({&t, weight});
  }
  return lossy;
}

/// What each lossy part adds to the common loss, for every mode to be enriched. Scaled so that a
/// column's size tells how much it counts.
Eigen::MatrixXd lossy_forces(const std::vector<Lossy>& lossy,
                             const modes::ModeSet& modes,
                             Eigen::Index n_dof,
                             double enrich_hz) {
  const double top = std::pow(base::kTwoPi * enrich_hz, 2);
  Eigen::Index k = 0;
  while (k < modes.omega2.size() && modes.omega2(k) <= top) ++k;
  Eigen::MatrixXd forces(n_dof, static_cast<Eigen::Index>(lossy.size()) * k);
  for (std::size_t b = 0; b < lossy.size(); ++b) {
    auto block = forces.middleCols(static_cast<Eigen::Index>(b) * k, k);
    block = lossy[b].weight * sparse_times(lossy[b].term->matrix, modes.shape.leftCols(k));
    for (Eigen::Index j = 0; j < k; ++j) block.col(j) /= std::sqrt(std::max(modes.omega2(j), 1.0));
  }
  return forces;
}

/// Temperatures at which some modulus lies farther than a factor from all those chosen before.
std::vector<double> anchor_temperatures(const shell::PanelModel& model, const ReductionOptions& o) {
  constexpr double kFar = 10.0;
  std::vector<double> chosen = {o.temp_k};
  const auto far_from = [&](double temp_k, double other_k) {
    for (const shell::StiffnessTerm& t : model.terms) {
      if (!t.modulus) continue;
      const double ratio = std::abs(t.coefficient(o.reference_hz, temp_k)) /
                           std::abs(t.coefficient(o.reference_hz, other_k));
      if (ratio > kFar || ratio < 1.0 / kFar) return true;
    }
    return false;
  };
  // From the middle outwards, so that each end is reached in equal steps.
  std::vector<double> wanted = o.also_temp_k;
  std::sort(wanted.begin(), wanted.end(), [&](double a, double b) {
    return std::abs(a - o.temp_k) < std::abs(b - o.temp_k);
  });
  for (const double temp_k : wanted)
    if (std::all_of(chosen.begin(), chosen.end(), [&](double c) { return far_from(temp_k, c); }))
      chosen.push_back(temp_k);
  // The ends themselves count most: nothing lies beyond them to lean on.
  for (const double end : {*std::min_element(wanted.begin(), wanted.end()),
                           *std::max_element(wanted.begin(), wanted.end())})
    if (std::find(chosen.begin(), chosen.end(), end) == chosen.end()) chosen.push_back(end);
  chosen.erase(chosen.begin());
  return chosen;
}

/// Static answers of the loads, and of the lossy parts at every temperature that needs them.
Eigen::MatrixXd static_answers(const shell::PanelModel& model,
                               const modes::ModeSolver& solver,
                               const modes::ModeSet& modes,
                               const Ports& ports,
                               const ReductionOptions& o,
                               const base::Progress& progress) {
  const Eigen::Index n_listen = ports.listen.rows();
  const Eigen::Index n_port = 1 + n_listen + ports.more.rows();
  Eigen::MatrixXd at_ports = Eigen::MatrixXd::Zero(model.n_dof, n_port);
  at_ports.col(0).head(model.n_skin_dof) = ports.load;
  at_ports.middleCols(1, n_listen).topRows(model.n_skin_dof) = ports.listen.transpose();
  if (ports.more.rows() > 0)
    at_ports.rightCols(ports.more.rows()).topRows(model.n_skin_dof) = ports.more.transpose();
  std::vector<Eigen::MatrixXd> answers;
  answers.push_back(solver.factor().solve(at_ports, o.threads));
  answers.push_back(solver.factor().solve(
      lossy_forces(lossy_parts(model, o.reference_hz, o.temp_k), modes, model.n_dof, o.enrich_hz),
      o.threads));
  if (!o.also_temp_k.empty() && answers.back().cols() > 0) {
    std::unique_ptr<modes::CholeskyFactor> factor;
    for (const double temp_k : anchor_temperatures(model, o)) {
      progress.check();
      const Sparse k = model.real_stiffness(o.reference_hz, temp_k) - solver.shift() * model.mass;
      if (factor)
        factor->refactor(k);
      else
        factor = std::make_unique<modes::CholeskyFactor>(k);
      answers.push_back(factor->solve(
          lossy_forces(lossy_parts(model, o.reference_hz, temp_k), modes, model.n_dof, o.enrich_hz),
          o.threads));
    }
  }
  Eigen::Index columns = 0;
  for (const Eigen::MatrixXd& a : answers) columns += a.cols();
  Eigen::MatrixXd out(model.n_dof, columns);
  columns = 0;
  for (const Eigen::MatrixXd& a : answers) {
    out.middleCols(columns, a.cols()) = a;
    columns += a.cols();
  }
  return out;
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

  progress.check();
  const Eigen::MatrixXd extra =
      enrichment(static_answers(model, solver, out.modes, ports, o, progress),
                 out.modes,
                 model.mass,
                 stiffness,
                 1 + ports.listen.rows() + ports.more.rows());
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
  if (ports.more.rows() > 0) out.more = ports.more * on_skin;
  m.surface =
      out.normal.transpose() * skin.node_area.asDiagonal() * out.normal / skin.node_area.sum();
  return out;
}

ReducedModel reduce_by_pieces(const shell::Skin& skin,
                              const FullReduction& bare,
                              const std::vector<shell::LaidPiece>& pieces,
                              double reference_hz) {
  return reduce_by_pieces(skin, bare, pieces, reference_hz, bare.model.temp_k);
}

ReducedModel reduce_by_pieces(const shell::Skin& skin,
                              const FullReduction& bare,
                              const std::vector<shell::LaidPiece>& pieces,
                              double reference_hz,
                              double temp_k) {
  ReducedModel m = bare.model;
  m.temp_k = temp_k;
  const auto shapes = bare.basis.topRows(skin.n_dof);
  for (const shell::LaidPiece& piece : pieces) {
    m.pieces.push_back(condense(skin, piece, shapes, reference_hz, m.temp_k));
    m.pieces.back().add_mass(m.mass);
  }
  return m;
}

}  // namespace calmplate::reduced
