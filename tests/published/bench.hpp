// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "panel/panel.hpp"
#include "sheet/sheet.hpp"
#include "shell/panel_model.hpp"

namespace calmplate::published {

/// A panel ready to be solved: mesh kept as given, skin without loss of its own.
struct Bench {
  std::unique_ptr<panel::Panel> panel;  ///< the skin points to it
  shell::Skin skin;
  shell::Attachments attachments;
};

Bench make_bench(const panel::Mesh& mesh,
                 const shell::Plate& plate,
                 const std::vector<shell::EdgeInput>& edges);

/// The same from a panel as it is.
Bench make_bench(panel::Panel panel,
                 const shell::Plate& plate,
                 const std::vector<shell::EdgeInput>& edges);

/// One hold for the whole outer rim.
std::vector<shell::EdgeInput> all_round(shell::Hold hold);
/// Holds of a rectangle by letters C, S, F in the order x = 0, x = a, y = 0, y = b.
std::vector<shell::EdgeInput> by_letters(const std::string& letters);

shell::Plate steel(double thickness_m);

/// Modes with the normal displacement at the nodes beside them.
struct BenchModes {
  Eigen::VectorXd freq_hz;
  Eigen::VectorXd loss_factor;         ///< [n_mode] of the damped modes
  Eigen::VectorXd loss_factor_energy;  ///< [n_mode] by strain energy
  Eigen::MatrixXd normal;              ///< [n_node x n_mode] real part
  int rigid_body = 0;
};

/// Undamped modes, lowest first.
BenchModes bare_modes(const Bench& bench, int count);
/// Damped modes up to a frequency, pieces with their own degrees of freedom (model (a)).
BenchModes damped_modes(const Bench& bench,
                        const std::vector<shell::LaidPiece>& pieces,
                        double top_hz,
                        int air_faces = 0);

/// Normal displacement at a place on the flat map under a static pressure of 1 Pa, m.
double deflection_under_pressure(const Bench& bench, const Eigen::Vector2d& flat);

/// One sheet on all of the panel, or on the triangles whose middle lies between two x.
shell::LaidPiece full_cover(const Bench& bench, const sheet::Sheet& sheet, bool foil_held);
shell::LaidPiece cover_between(const Bench& bench,
                               const sheet::Sheet& sheet,
                               double from_x,
                               double to_x);

/// The mode most like sin(m pi u) sin(n pi v), u and v running from 0 to 1 over the flat map.
/// The likeness (1: the same) must be above 0.8, else std::runtime_error.
Eigen::Index find_mode(const Bench& bench, const BenchModes& modes, int m, int n);

/// Numbers of the modes of a strip along x that bend it without twist, lowest first.
std::vector<Eigen::Index> bending_modes(const Bench& bench, const BenchModes& modes);

/// Slope of log error over log size by least squares.
double fitted_order(const std::vector<double>& size, const std::vector<double>& error);

}  // namespace calmplate::published
