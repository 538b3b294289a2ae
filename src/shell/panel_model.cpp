// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/panel_model.hpp"

#include <map>
#include <utility>

#include "shell/attachments.hpp"

namespace calmplate::shell {
namespace {

/// Copies one small-matrix collection's sparse result into the terms, unless it is empty.
void add_term(const Assembler& from,
              int n_dof,
              const std::string& name,
              const sheet::ModulusPtr& modulus,
              double loss_factor,
              std::vector<StiffnessTerm>& terms) {
  if (!from.empty()) terms.push_back({name, from.build(n_dof), modulus, loss_factor});
}

void add_skin(const Skin& skin, Assembler& stiffness, Assembler& mass) {
  const double mass_per_area = skin.plate.density * skin.plate.thickness_m;
  for (int t = 0; t < static_cast<int>(skin.panel->mesh.triangles.rows()); ++t) {
    const FacetNodes nodes = skin.facet(t, 0.0);
    const std::array<int, 18> dofs = skin.facet_dofs(t);
    stiffness.add(dofs.data(), facet_stiffness(nodes, skin.plate));
    mass.add(dofs.data(), facet_mass(nodes, mass_per_area));
  }
}

}  // namespace

std::complex<double> StiffnessTerm::coefficient(double freq_hz, double temp_k) const {
  return modulus ? modulus->modulus(freq_hz, temp_k) : std::complex<double>(1.0, loss_factor);
}

Eigen::SparseMatrix<double> PanelModel::real_stiffness(double freq_hz, double temp_k) const {
  Eigen::SparseMatrix<double> k(n_dof, n_dof);
  for (const StiffnessTerm& term : terms)
    k += term.coefficient(freq_hz, temp_k).real() * term.matrix;
  return k;
}

PanelModel build_model(const Skin& skin,
                       const Attachments& attachments,
                       const std::vector<LaidPiece>& pieces) {
  PanelModel model;
  model.n_skin_dof = skin.n_dof;
  int next = skin.n_dof;
  Assembler stiffness, elastic, mass;
  std::map<double, Assembler> springs;  // by loss factor
  add_skin(skin, stiffness, mass);
  add_rim_springs(skin, springs);
  add_attachments(skin, attachments, next, {&elastic, &springs, &mass});

  std::map<const sheet::Sheet*, std::size_t> group;  // sheet -> place in cores
  std::vector<std::pair<const sheet::Sheet*, Assembler>> cores;
  std::vector<std::vector<std::size_t>> core_of;
  for (const LaidPiece& piece : pieces) {
    model.foils.push_back(number_foils(skin, piece, next));
    PieceMatrices m;
    std::swap(m.elastic, elastic);  // foils go on in the collections begun above
    std::swap(m.mass, mass);
    m.lossy.resize(piece.plies.size());
    std::vector<std::size_t> places;
    for (std::size_t p = 0; p < piece.plies.size(); ++p) {
      const sheet::Sheet* s = piece.plies[p];
      if (group.emplace(s, cores.size()).second) cores.emplace_back(s, Assembler());
      places.push_back(group[s]);
    }
    add_piece(skin, piece, skin.dof, model.foils.back(), m);
    for (std::size_t p = 0; p < piece.plies.size(); ++p) cores[places[p]].second.append(m.lossy[p]);
    std::swap(m.elastic, elastic);
    std::swap(m.mass, mass);
    core_of.push_back(places);
  }

  model.n_dof = next;
  add_term(stiffness, next, "skin", nullptr, skin.loss_factor, model.terms);
  add_term(elastic, next, "foils and beams", nullptr, 0.0, model.terms);
  for (const auto& [loss, assembler] : springs)
    add_term(assembler, next, "springs", nullptr, loss, model.terms);
  std::vector<int> term_of(cores.size(), -1);
  for (std::size_t c = 0; c < cores.size(); ++c) {
    if (cores[c].second.empty()) continue;
    term_of[c] = static_cast<int>(model.terms.size());
    add_term(cores[c].second,
             next,
             cores[c].first->name,
             cores[c].first->core_modulus,
             0.0,
             model.terms);
  }
  for (const auto& places : core_of) {
    model.core_term.emplace_back();
    for (const std::size_t c : places) model.core_term.back().push_back(term_of[c]);
  }
  model.mass = mass.build(next);
  return model;
}

Eigen::VectorXd bending_share(const Skin& skin, const Eigen::MatrixXd& shapes) {
  const Eigen::Index n = shapes.cols();
  Eigen::VectorXd bending = Eigen::VectorXd::Zero(n), membrane = Eigen::VectorXd::Zero(n);
  Eigen::MatrixXd local(18, n);
  for (int t = 0; t < static_cast<int>(skin.panel->mesh.triangles.rows()); ++t) {
    const std::array<int, 18> dofs = skin.facet_dofs(t);
    for (int i = 0; i < 18; ++i) {
      const int d = dofs[static_cast<std::size_t>(i)];
      if (d == kHeld)
        local.row(i).setZero();
      else
        local.row(i) = shapes.row(d);
    }
    const FacetNodes nodes = skin.facet(t, 0.0);
    const auto energy = [&](Part part) {
      const Matrix18d k = facet_stiffness(nodes, skin.plate, part);
      return (k * local).cwiseProduct(local).colwise().sum().transpose().eval();
    };
    bending += energy(Part::bending);
    membrane += energy(Part::membrane);
  }
  return bending.cwiseQuotient((bending + membrane).cwiseMax(1e-300));
}

}  // namespace calmplate::shell
