// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/condensed_piece.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "base/units.hpp"
#include "reduced/sparse_times.hpp"

namespace calmplate::reduced {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

/// The piece's own small numbering: skin dofs of its nodes first, foil dofs after.
struct PieceSystem {
  int n_skin = 0, n_foil = 0;
  Sparse elastic, lossy, mass;  ///< [n_skin + n_foil] square
  Eigen::MatrixXd motion;       ///< [n_skin + n_foil x r] skin moves, foil goes along in its plane
};

/// The skin gives way in its plane to what stretches on it; springs in line share the stretch.
double membrane_share(const shell::Skin& skin, const shell::LaidPiece& piece, double modulus_pa) {
  double stretch = 0.0;
  for (const sheet::Sheet* s : piece.plies)
    stretch += s->kind == sheet::Kind::free_layer ? modulus_pa * s->core_thickness_m
                                                  : s->foil.young_pa * s->foil_thickness_m;
  return 1.0 / (1.0 + stretch / (skin.plate.young_pa * skin.plate.thickness_m));
}

PieceSystem piece_system(const shell::Skin& skin,
                         const shell::LaidPiece& piece,
                         const Eigen::Ref<const Eigen::MatrixXd>& shapes,
                         double modulus_pa) {
  const std::vector<int> nodes = shell::covered_nodes(skin, piece);
  PieceSystem s;
  Eigen::MatrixXi local = Eigen::MatrixXi::Constant(skin.dof.rows(), 6, shell::kHeld);
  std::vector<int> global;
  for (const int node : nodes)
    for (int k = 0; k < 6; ++k)
      if (skin.dof(node, k) != shell::kHeld) {
        local(node, k) = s.n_skin++;
        global.push_back(skin.dof(node, k));
      }
  int next = s.n_skin;
  const std::vector<shell::FoilDofs> foils = shell::number_foils(skin, piece, next);
  s.n_foil = next - s.n_skin;
  shell::PieceMatrices m;
  shell::add_piece(skin, piece, local, foils, m, membrane_share(skin, piece, modulus_pa));
  shell::Assembler lossy;
  for (const shell::Assembler& part : m.lossy) lossy.append(part);
  s.elastic = m.elastic.build(next);
  s.lossy = lossy.build(next);
  s.mass = m.mass.build(next);

  s.motion.setZero(next, shapes.cols());
  for (int i = 0; i < s.n_skin; ++i)
    s.motion.row(i) = shapes.row(global[static_cast<std::size_t>(i)]);
  constexpr std::array<int, 3> kSame = {0, 1, 5};
  for (const shell::FoilDofs& foil : foils)
    for (std::size_t i = 0; i < nodes.size() && foil.dof.rows() > 0; ++i)
      for (std::size_t k = 0; k < 3; ++k) {
        const int f = foil.dof(static_cast<int>(i), static_cast<int>(k));
        const int d = local(nodes[i], kSame[k]);
        if (f != shell::kHeld && d != shell::kHeld) s.motion.row(f) = s.motion.row(d);
      }
  return s;
}

/// Orthonormal columns spanning the given ones, smallest directions left out.
Eigen::MatrixXd span_of(const Eigen::MatrixXd& columns, const Sparse& metric) {
  Eigen::MatrixXd scaled;
  Eigen::MatrixXd gram = columns.transpose() * sparse_times(metric, columns);
  const Eigen::VectorXd size = gram.diagonal().cwiseMax(0.0).cwiseSqrt();
  const Eigen::VectorXd scale =
      (size.array() > 0.0).select(size.cwiseInverse(), Eigen::VectorXd::Zero(size.size()));
  scaled = columns * scale.asDiagonal();
  gram = scale.asDiagonal() * gram * scale.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(gram);
  const double top = std::max(eig.eigenvalues().maxCoeff(), 1e-300);
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < gram.rows(); ++i) kept += eig.eigenvalues()(i) > 1e-7 * top ? 1 : 0;
  return scaled * eig.eigenvectors().rightCols(kept) *
         eig.eigenvalues().tail(kept).cwiseSqrt().cwiseInverse().asDiagonal();
}

/// Orthonormal combinations of the shapes that the piece feels, or empty if it feels most of them.
Eigen::MatrixXd span_felt(const Sparse& energy, const Eigen::MatrixXd& motion) {
  constexpr double kLeast = 1e-5;
  const Eigen::Index r = motion.cols();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(motion.transpose() *
                                                           sparse_times(energy, motion));
  const double least = kLeast * eig.eigenvalues().maxCoeff();
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < r; ++i) kept += eig.eigenvalues()(i) > least ? 1 : 0;
  if (3 * kept > 2 * r) return {};
  return eig.eigenvectors().rightCols(kept);
}

/// The slips that the foil makes when the skin moves, at moduli around the wanted one.
Eigen::MatrixXd slip_basis(const Sparse& foil_elastic,
                           const Sparse& foil_core,
                           const Eigen::MatrixXd& b0,
                           const Eigen::MatrixXd& b1,
                           double modulus_pa) {
  constexpr std::array<double, 2> kAround = {0.6, 1.8};
  Eigen::MatrixXd slips(b0.cols(), b0.rows() * static_cast<Eigen::Index>(kAround.size()));
  Eigen::SimplicialLDLT<Sparse> factor;
  factor.analyzePattern(foil_elastic + foil_core);
  for (std::size_t i = 0; i < kAround.size(); ++i) {
    const double g = kAround[i] * modulus_pa;
    factor.factorize(foil_elastic + g * foil_core);
    slips.middleCols(static_cast<Eigen::Index>(i) * b0.rows(), b0.rows()) =
        factor.solve((b0 + g * b1).transpose());
  }
  return span_of(slips, foil_elastic + modulus_pa * foil_core);
}

}  // namespace

void CondensedPiece::add_stiffness(std::complex<double> g, Eigen::MatrixXcd& k) const {
  Eigen::MatrixXcd own(a0.rows(), a0.cols());
  own.real() = a0 + g.real() * a1;
  own.imag() = g.imag() * a1;
  if (lambda.size() > 0) {
    Eigen::MatrixXcd b(b0.rows(), b0.cols());
    b.real() = b0 + g.real() * b1;
    b.imag() = g.imag() * b1;
    const Eigen::VectorXcd weight = (lambda.array().cast<std::complex<double>>() + g).inverse();
    own.noalias() -= b * weight.asDiagonal() * b.transpose();
  }
  if (span.size() == 0) {
    k += own;
    return;
  }
  const Eigen::MatrixXd re = own.real(), im = own.imag();
  k.real() += span * re * span.transpose();
  k.imag() += span * im * span.transpose();
}

void CondensedPiece::add_stiffness(double freq_hz, double temp_k, Eigen::MatrixXcd& k) const {
  add_stiffness(modulus ? modulus->modulus(freq_hz, temp_k) : std::complex<double>(0.0, 0.0), k);
}

void CondensedPiece::add_mass(Eigen::MatrixXd& m) const {
  if (span.size() == 0)
    m += mass;
  else
    m += span * mass * span.transpose();
}

CondensedPiece condense(const shell::Skin& skin,
                        const shell::LaidPiece& piece,
                        const Eigen::Ref<const Eigen::MatrixXd>& shapes,
                        double freq_hz,
                        double temp_k) {
  CondensedPiece out;
  for (const sheet::Sheet* s : piece.plies) {
    if (s->kind == sheet::Kind::mass) continue;
    if (out.modulus && out.modulus != s->core_modulus)
      throw std::invalid_argument("condense: plies of different moduli in one piece");
    out.modulus = s->core_modulus;
  }
  const double g = out.modulus ? std::abs(out.modulus->modulus(freq_hz, temp_k)) : 0.0;
  PieceSystem s = piece_system(skin, piece, shapes, g);
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  out.span = span_felt(s.elastic + g * s.lossy + w2 * s.mass, s.motion);
  if (out.span.size() > 0) s.motion = (s.motion * out.span).eval();

  const Eigen::MatrixXd ke = sparse_times(s.elastic, s.motion);
  const Eigen::MatrixXd kl = sparse_times(s.lossy, s.motion);
  out.a0 = s.motion.transpose() * ke;
  out.a1 = s.motion.transpose() * kl;
  out.mass = s.motion.transpose() * sparse_times(s.mass, s.motion);
  if (s.n_foil == 0) return out;

  const Eigen::MatrixXd b0 = ke.bottomRows(s.n_foil).transpose();
  const Eigen::MatrixXd b1 = kl.bottomRows(s.n_foil).transpose();
  const Sparse elastic = s.elastic.bottomRightCorner(s.n_foil, s.n_foil);
  const Sparse core = s.lossy.bottomRightCorner(s.n_foil, s.n_foil);
  const Eigen::MatrixXd slip = slip_basis(elastic, core, b0, b1, g);
  // In the slip basis: elastic + g core = identity, so one small symmetric problem gives both.
  const Eigen::MatrixXd small = slip.transpose() * sparse_times(core, slip);
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig(small);
  const Eigen::VectorXd core_share = eig.eigenvalues().cwiseMax(1e-12 / g);
  const Eigen::MatrixXd psi =
      slip * eig.eigenvectors() * core_share.cwiseSqrt().cwiseInverse().asDiagonal();
  out.lambda = (core_share.cwiseInverse().array() - g).cwiseMax(0.0);
  out.b0 = b0 * psi;
  out.b1 = b1 * psi;
  return out;
}

}  // namespace calmplate::reduced
