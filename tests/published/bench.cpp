// SPDX-License-Identifier: GPL-3.0-or-later
#include "published/bench.hpp"

#include <cmath>
#include <map>
#include <stdexcept>

#include "base/units.hpp"
#include "modes/eigen_solve.hpp"
#include "reduced/complex_modes.hpp"
#include "reduced/full_reduction.hpp"

namespace calmplate::published {
namespace {

Eigen::MatrixXd normal_of(const shell::Skin& skin, const Eigen::MatrixXd& shapes) {
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(skin.dof.rows(), shapes.cols());
  for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
    if (skin.dof(i, 2) != shell::kHeld) normal.row(i) = shapes.row(skin.dof(i, 2));
  return normal;
}

}  // namespace

Bench make_bench(const panel::Mesh& mesh,
                 const shell::Plate& plate,
                 const std::vector<shell::EdgeInput>& edges) {
  panel::PanelOptions options;
  options.outward = Eigen::Vector3d::UnitZ();
  return make_bench(panel::make_panel(mesh, options, "bench"), plate, edges);
}

Bench make_bench(panel::Panel panel,
                 const shell::Plate& plate,
                 const std::vector<shell::EdgeInput>& edges) {
  Bench bench;
  bench.panel = std::make_unique<panel::Panel>(std::move(panel));
  bench.skin = shell::make_skin(*bench.panel, plate, 0.0, edges);
  return bench;
}

std::vector<shell::EdgeInput> all_round(shell::Hold hold) {
  shell::EdgeInput edge;
  edge.part = "rim";
  edge.hold = hold;
  return {edge};
}

std::vector<shell::EdgeInput> by_letters(const std::string& letters) {
  const std::vector<std::string> part = {"left", "right", "bottom", "top"};
  if (letters.size() != part.size()) throw std::invalid_argument("by_letters: four letters");
  std::vector<shell::EdgeInput> edges(4);
  for (std::size_t i = 0; i < 4; ++i) {
    edges[i].part = part[i];
    edges[i].hold = letters[i] == 'C'   ? shell::Hold::clamped
                    : letters[i] == 'S' ? shell::Hold::simply_supported
                                        : shell::Hold::free;
  }
  return edges;
}

shell::Plate steel(double thickness_m) { return {thickness_m, 210e9, 0.3, 7850.0}; }

BenchModes bare_modes(const Bench& bench, int count) {
  const shell::PanelModel model = shell::build_model(bench.skin, bench.attachments, {});
  const modes::ModeSet set =
      modes::lowest_modes(model.real_stiffness(100.0, 293.15), model.mass, count);
  BenchModes out;
  out.freq_hz = set.omega2.cwiseMax(0.0).cwiseSqrt() / base::kTwoPi;
  out.loss_factor = out.loss_factor_energy = Eigen::VectorXd::Zero(out.freq_hz.size());
  out.normal = normal_of(bench.skin, set.shape);
  out.rigid_body = set.rigid_body;
  return out;
}

BenchModes damped_modes(const Bench& bench,
                        const std::vector<shell::LaidPiece>& pieces,
                        double top_hz,
                        int air_faces) {
  const shell::PanelModel model = shell::build_model(bench.skin, bench.attachments, pieces);
  reduced::Ports ports;
  ports.load = shell::uniform_pressure(bench.skin);
  ports.listen.resize(0, bench.skin.n_dof);
  reduced::ReductionOptions options;
  options.top_hz = 1.4 * top_hz;
  options.air_faces = air_faces;
  options.count_check = false;
  const reduced::FullReduction full = reduced::reduce_full(bench.skin, model, ports, options, {});
  const reduced::ComplexModes modes = reduced::complex_modes(full.model, top_hz);
  BenchModes out;
  out.freq_hz = modes.freq_hz;
  out.loss_factor = modes.loss_factor;
  out.loss_factor_energy = modes.loss_factor_energy;
  out.normal = full.normal * modes.shape.real();
  out.rigid_body = full.modes.rigid_body;
  return out;
}

double deflection_under_pressure(const Bench& bench, const Eigen::Vector2d& flat) {
  const shell::PanelModel model = shell::build_model(bench.skin, bench.attachments, {});
  const modes::ModeSolver solver(model.real_stiffness(100.0, 293.15), model.mass);
  const Eigen::MatrixXd answer = solver.factor().solve(shell::uniform_pressure(bench.skin), 1);
  return shell::normal_at(bench.skin, bench.panel->flat.nearest(flat)).dot(answer.col(0));
}

shell::LaidPiece full_cover(const Bench& bench, const sheet::Sheet& sheet, bool foil_held) {
  shell::LaidPiece piece = cover_between(bench, sheet, -1e9, 1e9);
  piece.foil_held = foil_held;
  return piece;
}

shell::LaidPiece cover_between(const Bench& bench,
                               const sheet::Sheet& sheet,
                               double from_x,
                               double to_x) {
  shell::LaidPiece piece;
  piece.plies = {&sheet};
  const panel::Mesh& mesh = bench.panel->mesh;
  for (int t = 0; t < static_cast<int>(mesh.triangles.rows()); ++t) {
    double x = 0.0;
    for (int c = 0; c < 3; ++c) x += mesh.nodes(mesh.triangles(t, c), 0) / 3.0;
    if (x > from_x && x < to_x) piece.covered.push_back({t, 1.0});
  }
  return piece;
}

Eigen::Index find_mode(const Bench& bench, const BenchModes& modes, int m, int n) {
  const panel::FlatPoints& at = bench.panel->flat.points();
  const Eigen::Vector2d size = bench.panel->flat.size();
  const Eigen::VectorXd wanted = (base::kPi * m / size.x() * at.col(0)).array().sin() *
                                 (base::kPi * n / size.y() * at.col(1)).array().sin();
  const Eigen::VectorXd& area = bench.skin.node_area;
  Eigen::Index best = -1;
  double likeness = 0.8;
  for (Eigen::Index j = 0; j < modes.normal.cols(); ++j) {
    const Eigen::VectorXd weighted = area.cwiseProduct(modes.normal.col(j));
    const double both = wanted.dot(weighted);
    const double like =
        both * both / modes.normal.col(j).dot(weighted) / wanted.dot(area.cwiseProduct(wanted));
    if (like > likeness) {
      likeness = like;
      best = j;
    }
  }
  if (best < 0)
    throw std::runtime_error("no mode looks like (" + std::to_string(m) + "," + std::to_string(n) +
                             ")");
  return best;
}

std::vector<Eigen::Index> bending_modes(const Bench& bench, const BenchModes& modes) {
  // Nodes of one x are a section; in pure bending all of them move alike.
  std::map<long, std::vector<Eigen::Index>> sections;
  for (Eigen::Index i = 0; i < bench.skin.dof.rows(); ++i)
    sections[std::lround(1e7 * bench.panel->mesh.nodes(i, 0))].push_back(i);
  std::vector<Eigen::Index> found;
  for (Eigen::Index j = 0; j < modes.normal.cols(); ++j) {
    double alike = 0.0, all = 0.0;
    for (const auto& entry : sections) {
      double mean = 0.0;
      for (const Eigen::Index i : entry.second) {
        mean += modes.normal(i, j) / static_cast<double>(entry.second.size());
        all += modes.normal(i, j) * modes.normal(i, j);
      }
      alike += mean * mean * static_cast<double>(entry.second.size());
    }
    // Share of the kinetic energy that lies in the normal displacement; in-plane modes have none.
    const double out_of_plane = modes.normal.col(j).cwiseAbs2().dot(bench.skin.node_area) *
                                bench.skin.plate.density * bench.skin.plate.thickness_m;
    if (alike > 0.9 * all && out_of_plane > 0.2) found.push_back(j);
  }
  return found;
}

double fitted_order(const std::vector<double>& size, const std::vector<double>& error) {
  const auto n = static_cast<double>(size.size());
  double sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
  for (std::size_t i = 0; i < size.size(); ++i) {
    const double x = std::log(size[i]), y = std::log(std::abs(error[i]));
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

}  // namespace calmplate::published
