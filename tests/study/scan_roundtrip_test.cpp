// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "base/units.hpp"
#include "meshes/door_shape.hpp"
#include "meshes/plane_mesher.hpp"
#include "modes/eigen_solve.hpp"
#include "study/demo_job.hpp"
#include "study/study.hpp"
#include "support/rough_scan.hpp"

namespace {

using namespace calmplate;

constexpr double kElement = 0.02;
constexpr int kModes = 20;

/// The invented estate door as its maker would export it, in triangles of about `edge_m`.
panel::Mesh exported_door(double edge_m) {
  const demo::PlaneMesh plane = demo::mesh_region(
      demo::resample(demo::door_outline(), edge_m),
      demo::door_holes(),
      [=](const Eigen::Vector2d&) { return edge_m; },
      2);
  panel::Mesh mesh{panel::Nodes(plane.points.rows(), 3), plane.triangles};
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    mesh.nodes.row(i) = demo::door_in_car(plane.points.row(i).transpose());
  return mesh;
}

struct Figures {
  Eigen::VectorXd freq_hz;
  double reduction_db = 0.0;
  panel::PanelReport report;
};

/// The bare door's first frequencies and what one layout does, by the demo door's job.
Figures figures_of(const panel::Mesh& mesh, const char* name) {
  job::Job job = job::read_job(std::string(CALMPLATE_MESHES) + "/estate_front_door.toml");
  job.air = job::Air::none;
  job.cavity.wanted = false;
  job.drive.kind = drive::Kind::force;
  job.drive.at = {0.23, 0.20};
  job.layouts = {testing::layout_named(job, "centre block")};
  job.sheet_comparison = {};
  job.temperatures_k.clear();
  job.panel_options.element_size_m = kElement;
  Figures out;
  const panel::Panel panel = panel::make_panel(mesh, job.panel_options, name, &out.report);
  job::check_against_panel(job, panel);
  const shell::Skin skin = study::skin_of(job, panel);
  const shell::PanelModel model = shell::build_model(skin, study::attachments_of(job), {});
  const modes::ModeSet set =
      modes::lowest_modes(model.real_stiffness(100.0, 293.15), model.mass, kModes);
  out.freq_hz = set.omega2.cwiseSqrt() / base::kTwoPi;
  study::StudyOptions options;
  options.with_map = false;
  const study::Results results = study::run_study(job, panel, options, {});
  out.reduction_db = results.layouts[0].band_level_db - results.layouts[1].band_level_db;
  return out;
}

}  // namespace

// Source: [derived] the scan is made from the door it is held against: noise of 0.3 mm, one
// triangle in twenty missing, points doubled, triangles turned. Limits: what a fitter would not
// notice.
TEST_CASE("a door exported and roughened into a scan rings as the door does", "[study][derived]") {
  const panel::Mesh exported = exported_door(0.004);
  REQUIRE(exported.triangles.rows() > 150000);
  const Figures drawn = figures_of(exported, "door.stl");
  CHECK_FALSE(drawn.report.smoothed);
  const Figures scan = figures_of(testing::roughened(exported, {}), "scan.stl");
  CHECK(scan.report.smoothed);
  CHECK(std::abs(scan.report.noise_m / 0.0003 - 1.0) < 0.05);
  CHECK(scan.report.holes_filled > 5000);
  CHECK(scan.report.flipped_triangles > 4000);
  CHECK(scan.report.duplicate_nodes > 20000);
  const Eigen::ArrayXd off = scan.freq_hz.array() / drawn.freq_hz.array() - 1.0;
  CAPTURE(off.transpose(), scan.reduction_db, drawn.reduction_db);
  CHECK(off.abs().maxCoeff() < 0.02);
  CHECK(drawn.reduction_db > 3.0);
  CHECK(std::abs(scan.reduction_db - drawn.reduction_db) < 0.5);
  CHECK(std::abs(scan.report.kept.mean_height_m / scan.report.scanned.mean_height_m - 1.0) < 0.01);
  CHECK(std::abs(scan.report.kept.mean_curvature() / scan.report.scanned.mean_curvature() - 1.0) <
        0.01);
}
