// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/piece.hpp"

#include <array>
#include <stdexcept>

#include "shell/triangle_geometry.hpp"

namespace calmplate::shell {
namespace {

using sheet::Kind;
using sheet::Sheet;

/// Heights over the skin's mid-surface, m; below 0 on the inner face.
struct PlyHeights {
  double lower = 0.0;   ///< mid-surface of the foil below, or of the skin
  double layer = 0.0;   ///< middle of the core, free layer or mass layer
  double foil = 0.0;    ///< mid-surface of this ply's foil
  int lower_foil = -1;  ///< ply whose foil lies below, or -1: the skin
};

std::vector<PlyHeights> ply_heights(const Skin& skin, const LaidPiece& piece) {
  const double side = piece.outer_face ? 1.0 : -1.0;
  double surface = 0.5 * skin.plate.thickness_m;
  PlyHeights below;
  std::vector<PlyHeights> out;
  for (std::size_t p = 0; p < piece.plies.size(); ++p) {
    const Sheet& s = *piece.plies[p];
    PlyHeights h;
    h.lower = below.lower;
    h.lower_foil = below.lower_foil;
    h.layer = side * (surface + 0.5 * s.core_thickness_m);
    surface += s.core_thickness_m;
    h.foil = side * (surface + 0.5 * s.foil_thickness_m);
    surface += s.foil_thickness_m;
    out.push_back(h);
    if (s.kind == Kind::constrained) {
      below.lower = h.foil;
      below.lower_foil = static_cast<int>(p);
    }
  }
  return out;
}

/// A facet's dofs with the foil's own in-plane ones in place of the skin's.
std::array<int, 18> foil_facet_dofs(const Skin& skin,
                                    int triangle,
                                    const Eigen::MatrixXi& skin_dof,
                                    const FoilDofs& foil) {
  std::array<int, 18> out{};
  for (int c = 0; c < 3; ++c) {
    const int node = skin.panel->mesh.triangles(triangle, c);
    const int slot = foil.slot[static_cast<std::size_t>(node)];
    const auto at = static_cast<std::size_t>(6 * c);
    out[at] = foil.dof(slot, 0);
    out[at + 1] = foil.dof(slot, 1);
    for (int k = 2; k < 5; ++k) out[at + static_cast<std::size_t>(k)] = skin_dof(node, k);
    out[at + 5] = foil.dof(slot, 2);
  }
  return out;
}

std::array<int, 18> skin_facet_dofs(const Skin& skin, int triangle, const Eigen::MatrixXi& dof) {
  std::array<int, 18> out{};
  for (int c = 0; c < 3; ++c)
    for (int k = 0; k < 6; ++k)
      out[static_cast<std::size_t>(6 * c + k)] = dof(skin.panel->mesh.triangles(triangle, c), k);
  return out;
}

/// Upper 1, 2, lower 1, 2 and the skin's six at each node.
std::array<int, 30> core_dofs(const Skin& skin,
                              int triangle,
                              const Eigen::MatrixXi& skin_dof,
                              const FoilDofs& upper,
                              const FoilDofs* lower) {
  std::array<int, 30> out{};
  for (int c = 0; c < 3; ++c) {
    const int node = skin.panel->mesh.triangles(triangle, c);
    const auto slot = [&](const FoilDofs& f) { return f.slot[static_cast<std::size_t>(node)]; };
    const auto at = static_cast<std::size_t>(10 * c);
    for (int k = 0; k < 2; ++k) {
      const auto i = at + static_cast<std::size_t>(k);
      out[i] = upper.dof(slot(upper), k);
      out[i + 2] = lower != nullptr ? lower->dof(slot(*lower), k) : skin_dof(node, k);
    }
    for (int k = 0; k < 6; ++k) out[at + 4 + static_cast<std::size_t>(k)] = skin_dof(node, k);
  }
  return out;
}

/// Moves the dofs of a layer bonded at a height to those of the skin: u1 += z theta2, u2 -= z
/// theta1.
Matrix18d bonded(const Matrix18d& layer, double height_m) {
  Matrix18d move = Matrix18d::Identity();
  for (int c = 0; c < 3; ++c) {
    move(6 * c, 6 * c + 4) = height_m;
    move(6 * c + 1, 6 * c + 3) = -height_m;
  }
  return move.transpose() * layer * move;
}

void require(bool good, const char* what) {
  if (!good) throw std::invalid_argument(std::string("add_piece: ") + what);
}

/// Core shear of one triangle per pascal.
Matrix30d core_matrix(const Skin& skin, int triangle, const Sheet& s, const PlyHeights& h) {
  // Slopes are those of the skin, so the sides are the skin's; the area is that of the core.
  const FacetNodes on_skin = skin.facet(triangle, 0.0);
  const double spread = triangle_geometry(skin.facet(triangle, h.layer).corners).area /
                        triangle_geometry(on_skin.corners).area;
  return spread * core_shear_stiffness(on_skin, s.core_thickness_m, h.foil - h.lower);
}

/// A bonded free layer of one triangle per pascal of its Young's modulus.
Matrix18d free_layer_matrix(
    const Skin& skin, int triangle, const Sheet& s, const PlyHeights& h, double membrane_share) {
  const Plate plate{s.core_thickness_m, 1.0, s.core_poisson, 0.0};
  const FacetNodes nodes = skin.facet(triangle, h.layer);
  return bonded(membrane_share * facet_stiffness(nodes, plate, Part::membrane) +
                    facet_stiffness(nodes, plate, Part::bending),
                h.layer);
}

/// Twice the strain energy, summed over columns.
template <std::size_t N, typename Matrix>
double energy_of(const std::array<int, N>& dofs, const Matrix& k, const Eigen::MatrixXcd& shapes) {
  Eigen::MatrixXcd local = Eigen::MatrixXcd::Zero(static_cast<Eigen::Index>(N), shapes.cols());
  for (std::size_t i = 0; i < N; ++i)
    if (dofs[i] != kHeld) local.row(static_cast<Eigen::Index>(i)) = shapes.row(dofs[i]);
  const Eigen::MatrixXd re = local.real(), im = local.imag();
  return (k * re).cwiseProduct(re).sum() + (k * im).cwiseProduct(im).sum();
}

void add_constrained(const Skin& skin,
                     const panel::CoveredTriangle& at,
                     const Sheet& s,
                     const PlyHeights& h,
                     const Eigen::MatrixXi& skin_dof,
                     const FoilDofs& foil,
                     const FoilDofs* lower,
                     std::size_t ply,
                     double membrane_share,
                     PieceMatrices& out) {
  const std::array<int, 18> dofs = foil_facet_dofs(skin, at.triangle, skin_dof, foil);
  const FacetNodes nodes = skin.facet(at.triangle, h.foil);
  const Plate plate = plate_of(s.foil, s.foil_thickness_m);
  out.elastic.add(dofs.data(),
                  at.fraction * (membrane_share * facet_stiffness(nodes, plate, Part::membrane) +
                                 facet_stiffness(nodes, plate, Part::bending)));
  out.mass.add(dofs.data(), at.fraction * facet_mass(nodes, s.foil.density * s.foil_thickness_m));
  out.lossy[ply].add(core_dofs(skin, at.triangle, skin_dof, foil, lower).data(),
                     at.fraction * core_matrix(skin, at.triangle, s, h));
}

void add_free_layer(const Skin& skin,
                    const panel::CoveredTriangle& at,
                    const Sheet& s,
                    const PlyHeights& h,
                    const std::array<int, 18>& dofs,
                    std::size_t ply,
                    double membrane_share,
                    PieceMatrices& out) {
  out.lossy[ply].add(dofs.data(),
                     at.fraction * free_layer_matrix(skin, at.triangle, s, h, membrane_share));
}

}  // namespace

Eigen::VectorXd lossy_energy(const Skin& skin,
                             const LaidPiece& piece,
                             std::size_t ply,
                             const std::vector<FoilDofs>& foils,
                             const Eigen::MatrixXcd& shapes) {
  const PlyHeights h = ply_heights(skin, piece).at(ply);
  const Sheet& s = *piece.plies[ply];
  Eigen::VectorXd energy(static_cast<Eigen::Index>(piece.covered.size()));
  for (std::size_t c = 0; c < piece.covered.size(); ++c) {
    const int t = piece.covered[c].triangle;
    double e = 0.0;
    if (s.kind == Kind::constrained) {
      const FoilDofs* lower =
          h.lower_foil < 0 ? nullptr : &foils[static_cast<std::size_t>(h.lower_foil)];
      e = energy_of(
          core_dofs(skin, t, skin.dof, foils[ply], lower), core_matrix(skin, t, s, h), shapes);
    } else if (s.kind == Kind::free_layer) {
      e = energy_of(skin.facet_dofs(t), free_layer_matrix(skin, t, s, h, 1.0), shapes);
    }
    energy(static_cast<Eigen::Index>(c)) = piece.covered[c].fraction * e;
  }
  return energy;
}

std::vector<int> covered_nodes(const Skin& skin, const LaidPiece& piece) {
  std::vector<bool> touched(static_cast<std::size_t>(skin.dof.rows()), false);
  for (const panel::CoveredTriangle& c : piece.covered)
    for (int k = 0; k < 3; ++k)
      touched[static_cast<std::size_t>(skin.panel->mesh.triangles(c.triangle, k))] = true;
  std::vector<int> nodes;
  for (std::size_t i = 0; i < touched.size(); ++i)
    if (touched[i]) nodes.push_back(static_cast<int>(i));
  return nodes;
}

std::vector<FoilDofs> number_foils(const Skin& skin, const LaidPiece& piece, int& next_dof) {
  const std::vector<int> nodes = covered_nodes(skin, piece);
  std::vector<FoilDofs> out(piece.plies.size());
  for (std::size_t p = 0; p < piece.plies.size(); ++p) {
    if (piece.plies[p]->kind != Kind::constrained) continue;
    FoilDofs& foil = out[p];
    foil.slot.assign(static_cast<std::size_t>(skin.dof.rows()), -1);
    foil.dof.resize(static_cast<Eigen::Index>(nodes.size()), 3);
    constexpr std::array<int, 3> kSame = {0, 1, 5};  // the skin's dofs of the same sense
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      foil.slot[static_cast<std::size_t>(nodes[i])] = static_cast<int>(i);
      for (std::size_t k = 0; k < 3; ++k) {
        const bool held = piece.foil_held && skin.dof(nodes[i], kSame[k]) == kHeld;
        foil.dof(static_cast<int>(i), static_cast<int>(k)) = held ? kHeld : next_dof++;
      }
    }
  }
  return out;
}

void add_piece(const Skin& skin,
               const LaidPiece& piece,
               const Eigen::MatrixXi& skin_dof,
               const std::vector<FoilDofs>& foils,
               PieceMatrices& out,
               double membrane_share) {
  out.lossy.resize(piece.plies.size());
  const std::vector<PlyHeights> heights = ply_heights(skin, piece);
  for (const Sheet* s : piece.plies) {
    require(s->core_thickness_m > 0.0, "core_thickness_m must be above 0");
    require(s->kind != Kind::constrained || s->foil_thickness_m > 0.0,
            "foil_thickness_m must be above 0 for a constrained layer");
  }
  for (const panel::CoveredTriangle& at : piece.covered) {
    const std::array<int, 18> dofs = skin_facet_dofs(skin, at.triangle, skin_dof);
    for (std::size_t p = 0; p < piece.plies.size(); ++p) {
      const Sheet& s = *piece.plies[p];
      const PlyHeights& h = heights[p];
      out.mass.add(dofs.data(),
                   at.fraction * facet_mass(skin.facet(at.triangle, 0.0),
                                            s.core_density * s.core_thickness_m));
      if (s.kind == Kind::constrained) {
        const FoilDofs* lower =
            h.lower_foil < 0 ? nullptr : &foils[static_cast<std::size_t>(h.lower_foil)];
        add_constrained(skin, at, s, h, skin_dof, foils[p], lower, p, membrane_share, out);
      } else if (s.kind == Kind::free_layer) {
        add_free_layer(skin, at, s, h, dofs, p, membrane_share, out);
      }
    }
  }
}

}  // namespace calmplate::shell
