// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench_panel.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "support/test_meshes.hpp"

namespace calmplate::bench {
namespace {

job::Piece rectangle_piece(double x, double y, double width, double height) {
  job::Piece piece;
  piece.sheets = {"butyl"};
  piece.region.outline = panel::rectangle({x, y}, {width, height}, 0.0);
  return piece;
}

}  // namespace

panel::Panel bench_panel(int nodes) {
  const int ny = std::max(4, static_cast<int>(std::lround(std::sqrt(nodes * 0.6)))),
            nx = ny * 10 / 6;
  panel::PanelOptions options;
  options.element_size_m = 0.0;
  return panel::make_panel(testing::cylinder_panel(1.0, 0.6, 3.0, nx, ny), options, "bench");
}

job::Job bench_job() {
  job::Job job;
  job.thickness_m = 0.8e-3;
  job.material = {"steel", 210e9, 0.3, 7850.0, 0.01};
  shell::EdgeInput hem;
  hem.part = "rim";
  hem.hold = shell::Hold::springs;
  hem.normal_stiffness = 2e7;
  hem.in_plane_stiffness = 2e7;
  hem.rotation_stiffness = 400.0;
  hem.loss_factor = 0.05;
  job.edges = {hem};
  sheet::Sheet butyl;
  butyl.name = "butyl";
  butyl.core_thickness_m = 2e-3;
  butyl.core_density = 1700.0;
  butyl.core_modulus = std::make_shared<sheet::ConstantModulus>(1.4e6, 0.92);
  butyl.foil_thickness_m = 1e-4;
  butyl.foil = {"aluminium", 70e9, 0.33, 2700.0, 0.0};
  job.sheets = {butyl};
  job.layouts.resize(3);
  job.layouts[0].name = "block";
  job.layouts[0].pieces = {rectangle_piece(0.5, 0.3, 0.5, 0.3)};
  job.layouts[1].name = "four blocks";
  for (const double x : {0.27, 0.73})
    for (const double y : {0.16, 0.44})
      job.layouts[1].pieces.push_back(rectangle_piece(x, y, 0.25, 0.16));
  job.layouts[2].name = "full";
  job::Piece everywhere;
  everywhere.sheets = {"butyl"};
  everywhere.region.rim_margin_m = 0.02;
  job.layouts[2].pieces = {everywhere};
  job.drive.at = {0.23, 0.2};
  return job;
}

}  // namespace calmplate::bench
