// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/condensed_piece.hpp"

#include <Eigen/LU>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "base/units.hpp"
#include "modes/dense_algebra.hpp"
#include "reduced/sparse_times.hpp"

namespace calmplate::reduced {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

/// The piece's own small numbering: skin dofs of its nodes first, foil dofs after.
struct PieceSystem {
  int n_skin = 0, n_foil = 0;
  Sparse elastic, mass;       ///< [n_skin + n_foil] square
  std::vector<Sparse> lossy;  ///< one for each modulus, per pascal
  Eigen::MatrixXd motion;     ///< [n_skin + n_foil x r] skin moves, foil goes along in its plane
};

/// The moduli of a piece, each once, with their sizes where the slip basis is chosen.
struct Moduli {
  std::vector<sheet::ModulusPtr> models;
  std::vector<double> size_pa;

  std::size_t of(const sheet::ModulusPtr& model) const {
    return static_cast<std::size_t>(std::find(models.begin(), models.end(), model) -
                                    models.begin());
  }
};

Moduli moduli_of(const shell::LaidPiece& piece, double freq_hz, double temp_k) {
  Moduli out;
  for (const sheet::Sheet* s : piece.plies)
    if (s->kind != sheet::Kind::mass && out.of(s->core_modulus) == out.models.size()) {
      out.models.push_back(s->core_modulus);
      out.size_pa.push_back(std::abs(s->core_modulus->modulus(freq_hz, temp_k)));
    }
  return out;
}

/// The skin gives way in its plane to what stretches on it; springs in line share the stretch.
double membrane_share(const shell::Skin& skin, const shell::LaidPiece& piece, const Moduli& g) {
  double stretch = 0.0;
  for (const sheet::Sheet* s : piece.plies)
    stretch += s->kind == sheet::Kind::free_layer
                   ? g.size_pa[g.of(s->core_modulus)] * s->core_thickness_m
                   : s->foil.young_pa * s->foil_thickness_m;
  return 1.0 / (1.0 + stretch / (skin.plate.young_pa * skin.plate.thickness_m));
}

PieceSystem piece_system(const shell::Skin& skin,
                         const shell::LaidPiece& piece,
                         const Eigen::Ref<const Eigen::MatrixXd>& shapes,
                         const Moduli& g) {
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
  shell::add_piece(skin, piece, local, foils, m, membrane_share(skin, piece, g));
  std::vector<shell::Assembler> lossy(g.models.size());
  for (std::size_t p = 0; p < piece.plies.size(); ++p)
    if (piece.plies[p]->kind != sheet::Kind::mass)
      lossy[g.of(piece.plies[p]->core_modulus)].append(m.lossy[p]);
  s.elastic = m.elastic.build(next);
  for (const shell::Assembler& part : lossy) s.lossy.push_back(part.build(next));
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
  const modes::DenseEigen eig = modes::symmetric_eigen(gram);
  const double top = std::max(eig.value.maxCoeff(), 1e-300);
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < gram.rows(); ++i) kept += eig.value(i) > 1e-7 * top ? 1 : 0;
  return scaled * eig.vector.rightCols(kept) *
         eig.value.tail(kept).cwiseSqrt().cwiseInverse().asDiagonal();
}

/// Orthonormal combinations of the shapes that the piece feels, or empty if it feels most of them.
Eigen::MatrixXd span_felt(const Sparse& energy, const Eigen::MatrixXd& motion) {
  constexpr double kLeast = 1e-5;
  const Eigen::Index r = motion.cols();
  const modes::DenseEigen eig =
      modes::symmetric_eigen(motion.transpose() * sparse_times(energy, motion));
  const double least = kLeast * eig.value.maxCoeff();
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < r; ++i) kept += eig.value(i) > least ? 1 : 0;
  if (3 * kept > 2 * r) return {};
  return eig.vector.rightCols(kept);
}

/// A piece's matrices on shapes and foil slips, before the slips get a basis.
struct Parts {
  Eigen::MatrixXd b0;              ///< [s x n_foil]
  std::vector<Eigen::MatrixXd> b;  ///< [s x n_foil] one for each modulus
  Sparse elastic;                  ///< [n_foil] square
  std::vector<Sparse> core;        ///< [n_foil] square
  std::vector<double> size_pa;

  /// @param factor  on each modulus
  Sparse stiffness(const std::vector<double>& factor) const {
    Sparse k = elastic;
    for (std::size_t i = 0; i < core.size(); ++i) k += factor[i] * size_pa[i] * core[i];
    return k;
  }
  Eigen::MatrixXd coupling(const std::vector<double>& factor) const {
    Eigen::MatrixXd out = b0;
    for (std::size_t i = 0; i < b.size(); ++i) out += factor[i] * size_pa[i] * b[i];
    return out;
  }
};

/// The slips that the foils make when the skin moves, at moduli around the wanted ones: all of them
/// lower, all higher, and in a stack those below against those above.
Eigen::MatrixXd slip_basis(const Parts& parts) {
  constexpr double kLower = 0.6, kHigher = 1.8;
  const std::size_t n = parts.core.size();
  std::vector<std::vector<double>> around = {std::vector<double>(n, kLower),
                                             std::vector<double>(n, kHigher)};
  for (std::size_t i = 0; i + 1 < n; ++i) {
    around.emplace_back(n, kLower);
    std::fill(around.back().begin(), around.back().begin() + static_cast<int>(i) + 1, kHigher);
    around.emplace_back(n, kHigher);
    std::fill(around.back().begin(), around.back().begin() + static_cast<int>(i) + 1, kLower);
  }
  const std::vector<double> same(n, 1.0);
  const Eigen::Index s = parts.b0.rows();
  Eigen::MatrixXd slips(parts.b0.cols(), s * static_cast<Eigen::Index>(around.size()));
  Eigen::SimplicialLDLT<Sparse> factor;
  factor.analyzePattern(parts.stiffness(same));
  for (std::size_t i = 0; i < around.size(); ++i) {
    factor.factorize(parts.stiffness(around[i]));
    slips.middleCols(static_cast<Eigen::Index>(i) * s, s) =
        factor.solve(parts.coupling(around[i]).transpose());
  }
  return span_of(slips, parts.stiffness(same));
}

/// One modulus: in the slip basis elastic + g core = identity, so one small symmetric problem makes
/// both diagonal.
void finish_single(const Parts& parts, const Eigen::MatrixXd& slip, CondensedPiece& out) {
  const double g = parts.size_pa.front();
  const Eigen::MatrixXd small = slip.transpose() * sparse_times(parts.core.front(), slip);
  const modes::DenseEigen eig = modes::symmetric_eigen(small);
  const Eigen::VectorXd core_share = eig.value.cwiseMax(1e-12 / g);
  const Eigen::MatrixXd psi =
      slip * eig.vector * core_share.cwiseSqrt().cwiseInverse().asDiagonal();
  out.lambda = (core_share.cwiseInverse().array() - g).cwiseMax(0.0);
  out.b0 = parts.b0 * psi;
  out.b1 = parts.b.front() * psi;
}

void finish_stack(const Parts& parts, const Eigen::MatrixXd& slip, CondensedPiece& out) {
  out.b0 = parts.b0 * slip;
  out.elastic = slip.transpose() * sparse_times(parts.elastic, slip);
  for (std::size_t i = 0; i < parts.core.size(); ++i) {
    out.stack[i].b = parts.b[i] * slip;
    out.stack[i].c = slip.transpose() * sparse_times(parts.core[i], slip);
  }
}

}  // namespace

bool CondensedPiece::constant() const {
  for (const StackPart& part : stack)
    if (!part.modulus->constant()) return false;
  return !modulus || modulus->constant();
}

namespace {

/// A0 + G A1 - (B0 + G B1) diag(1 / (lambda + G)) (B0 + G B1)^T
Eigen::MatrixXcd single_stiffness(const CondensedPiece& piece, std::complex<double> g) {
  Eigen::MatrixXcd own(piece.a0.rows(), piece.a0.cols());
  own.real() = piece.a0 + g.real() * piece.a1;
  own.imag() = g.imag() * piece.a1;
  if (piece.lambda.size() > 0) {
    Eigen::MatrixXcd b(piece.b0.rows(), piece.b0.cols());
    b.real() = piece.b0 + g.real() * piece.b1;
    b.imag() = g.imag() * piece.b1;
    const Eigen::VectorXcd weight =
        (piece.lambda.array().cast<std::complex<double>>() + g).inverse();
    own.noalias() -= b * weight.asDiagonal() * b.transpose();
  }
  return own;
}

void add_spanned(const Eigen::MatrixXd& span, const Eigen::MatrixXcd& own, Eigen::MatrixXcd& k) {
  if (span.size() == 0) {
    k += own;
    return;
  }
  const Eigen::MatrixXd re = own.real(), im = own.imag();
  k.real() += span * re * span.transpose();
  k.imag() += span * im * span.transpose();
}

}  // namespace

Eigen::MatrixXcd CondensedPiece::own_stiffness(double freq_hz, double temp_k) const {
  if (stack.empty())
    return single_stiffness(
        *this, modulus ? modulus->modulus(freq_hz, temp_k) : std::complex<double>(0.0, 0.0));
  Eigen::MatrixXcd own = a0.cast<std::complex<double>>();
  Eigen::MatrixXcd b = b0.cast<std::complex<double>>();
  Eigen::MatrixXcd slip = elastic.cast<std::complex<double>>();
  for (const StackPart& part : stack) {
    const std::complex<double> g = part.modulus->modulus(freq_hz, temp_k);
    own += g * part.a.cast<std::complex<double>>();
    if (b.size() == 0) continue;
    b += g * part.b.cast<std::complex<double>>();
    slip += g * part.c.cast<std::complex<double>>();
  }
  if (b.size() > 0)
    own.noalias() -= b * Eigen::PartialPivLU<Eigen::MatrixXcd>(slip).solve(b.transpose());
  return own;
}

void CondensedPiece::add_stiffness(std::complex<double> g, Eigen::MatrixXcd& k) const {
  if (!stack.empty())
    throw std::invalid_argument("CondensedPiece: a stack has more moduli than one");
  add_spanned(span, single_stiffness(*this, g), k);
}

void CondensedPiece::add_stiffness(double freq_hz, double temp_k, Eigen::MatrixXcd& k) const {
  add_spanned(span, own_stiffness(freq_hz, temp_k), k);
}

Eigen::VectorXcd CondensedPiece::quadratic(const Eigen::MatrixXcd& x,
                                           const Eigen::VectorXd& freq_hz,
                                           double temp_k) const {
  const Eigen::MatrixXcd y = span.size() == 0 ? x : Eigen::MatrixXcd(span.transpose() * x);
  Eigen::VectorXcd out(x.cols());
  if (!stack.empty()) {
    for (Eigen::Index j = 0; j < x.cols(); ++j)
      out(j) = (y.col(j).transpose() * (own_stiffness(freq_hz(j), temp_k) * y.col(j))).value();
    return out;
  }
  const auto squares = [&](const Eigen::MatrixXd& a) {
    return (a * y).cwiseProduct(y).colwise().sum().eval();
  };
  const Eigen::RowVectorXcd s0 = squares(a0);
  out = s0.transpose();
  if (!modulus) return out;
  const Eigen::RowVectorXcd s1 = squares(a1);
  const bool slips = lambda.size() > 0;
  const Eigen::MatrixXcd y0 = slips ? Eigen::MatrixXcd(b0.transpose() * y) : Eigen::MatrixXcd();
  const Eigen::MatrixXcd y1 = slips ? Eigen::MatrixXcd(b1.transpose() * y) : Eigen::MatrixXcd();
  for (Eigen::Index j = 0; j < x.cols(); ++j) {
    const std::complex<double> g = modulus->modulus(freq_hz(j), temp_k);
    out(j) += g * s1(j);
    if (slips)
      out(j) -= ((y0.col(j) + g * y1.col(j)).array().square() /
                 (lambda.array().cast<std::complex<double>>() + g))
                    .sum();
  }
  return out;
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
  const Moduli g = moduli_of(piece, freq_hz, temp_k);
  PieceSystem s = piece_system(skin, piece, shapes, g);
  const double w2 = std::pow(base::kTwoPi * freq_hz, 2);
  Sparse felt = s.elastic + w2 * s.mass;
  for (std::size_t i = 0; i < s.lossy.size(); ++i) felt += g.size_pa[i] * s.lossy[i];
  out.span = span_felt(felt, s.motion);
  if (out.span.size() > 0) s.motion = (s.motion * out.span).eval();

  const Eigen::MatrixXd ke = sparse_times(s.elastic, s.motion);
  out.a0 = s.motion.transpose() * ke;
  out.a1 = Eigen::MatrixXd::Zero(out.a0.rows(), out.a0.cols());
  out.mass = s.motion.transpose() * sparse_times(s.mass, s.motion);
  Parts parts;
  parts.size_pa = g.size_pa;
  parts.b0 = ke.bottomRows(s.n_foil).transpose();
  parts.elastic = s.elastic.bottomRightCorner(s.n_foil, s.n_foil);
  for (std::size_t i = 0; i < s.lossy.size(); ++i) {
    const Eigen::MatrixXd kl = sparse_times(s.lossy[i], s.motion);
    const Eigen::MatrixXd a = s.motion.transpose() * kl;
    if (s.lossy.size() > 1)
      out.stack.push_back({g.models[i], a, {}, {}});
    else
      out.a1 = a;
    parts.b.push_back(kl.bottomRows(s.n_foil).transpose());
    parts.core.push_back(s.lossy[i].bottomRightCorner(s.n_foil, s.n_foil));
  }
  if (g.models.size() == 1) out.modulus = g.models.front();
  if (s.n_foil == 0) return out;
  const Eigen::MatrixXd slip = slip_basis(parts);
  if (out.stack.empty())
    finish_single(parts, slip, out);
  else
    finish_stack(parts, slip, out);
  return out;
}

}  // namespace calmplate::reduced
