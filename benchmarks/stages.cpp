// SPDX-License-Identifier: GPL-3.0-or-later
// What each stage costs, from 5k to 100k nodes, and the ratios that count, in one run.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <vector>

#include "base/safe_output.hpp"
#include "bench_panel.hpp"
#include "modes/eigen_solve.hpp"
#include "modes/matrix_market.hpp"
#include "placement/benefit_map.hpp"
#include "response/band_response.hpp"
#include "stage_report.hpp"
#include "study/study.hpp"

namespace {

using namespace calmplate;
using bench::cpu_seconds;
using bench::wall_seconds;

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

template <typename Body>
double cpu_of(int repeats, Body&& body) {
  std::vector<double> times;
  for (int i = 0; i < repeats; ++i) {
    const double start = cpu_seconds();
    body();
    times.push_back(cpu_seconds() - start);
  }
  return median(times);
}

/// A piece of 150 mm that was moved: its new curve by model (b), and by a cold full solve.
void moved_piece(const job::Job& job,
                 const panel::Panel& panel,
                 const shell::Skin& skin,
                 const reduced::FullReduction& bare,
                 int repeats,
                 bench::JobTimes& out) {
  shell::LaidPiece piece;
  panel::Region region;
  region.outline = panel::rectangle({0.41, 0.22}, {0.15, 0.15}, 0.0);
  piece.covered = panel::cover(panel, region);
  piece.plies = {&job.sheets.front()};
  const double reference = study::reduction_of(job, true, 1).reference_hz;
  Eigen::VectorXd quick(200), cold(200);
  const auto freq = [&](int i) {
    return job.band.low_hz + (job.band.high_hz - job.band.low_hz) * i / 199.0;
  };
  out.moved_piece = cpu_of(repeats, [&] {
    const response::BandResponse r(
        reduced::reduce_by_pieces(skin, bare, {piece}, reference), job.drive, job.band.high_hz);
    for (int i = 0; i < 200; ++i) quick(i) = r.level_db(freq(i));
  });
  const shell::PanelModel model = shell::build_model(skin, {}, {piece});
  const reduced::FullReduction full = reduced::reduce_full(
      skin, model, study::ports_of(job, skin), study::reduction_of(job, false, 1), {});
  const response::BandResponse r(full.model, job.drive, job.band.high_hz);
  for (int i = 0; i < 200; ++i) cold(i) = r.level_db(freq(i));
  out.moved_error_db = (quick - cold).cwiseAbs().maxCoeff();
}

/// The bench job and a moved piece on a panel of this size, once each.
void whole_job(int nodes, bench::StageTimes& out) {
  const job::Job job = bench::bench_job();
  const panel::Panel panel = bench::bench_panel(nodes);
  const shell::Skin skin = study::skin_of(job, panel);
  const reduced::FullReduction bare = reduced::reduce_full(skin,
                                                           shell::build_model(skin, {}, {}),
                                                           study::ports_of(job, skin),
                                                           study::reduction_of(job, true, 1),
                                                           {});
  bench::JobTimes moved;
  moved_piece(job, panel, skin, bare, 1, moved);
  out.moved_piece = moved.moved_piece;
  study::StudyOptions options;
  options.with_map = false;
  out.full_job = cpu_of(1, [&] { study::run_study(job, panel, options, {}); });
}

/// @param folder  where to write the matrices for another solver; empty: nowhere
bench::StageTimes stage_times(int nodes, int modes, int repeats, const std::string& folder) {
  bench::StageTimes s;
  const job::Job job = bench::bench_job();
  const panel::Panel panel = bench::bench_panel(nodes);
  s.nodes = static_cast<int>(panel.mesh.nodes.rows());
  s.modes = modes;
  const shell::Skin skin = study::skin_of(job, panel);
  shell::PanelModel model;
  s.assembly = cpu_of(repeats, [&] { model = shell::build_model(skin, {}, {}); });
  s.dof = model.n_dof;
  const Eigen::SparseMatrix<double> stiffness = model.real_stiffness(100.0, 293.15);
  {
    std::unique_ptr<modes::CholeskyFactor> factor;
    s.factor =
        cpu_of(repeats, [&] { factor = std::make_unique<modes::CholeskyFactor>(stiffness); });
    s.nnz_l = static_cast<double>(factor->nnz_l());
    Eigen::MatrixXd one = Eigen::MatrixXd::Ones(s.dof, 1), many = Eigen::MatrixXd::Ones(s.dof, 16);
    s.solve1 = cpu_of(5, [&] { one = factor->solve(one).normalized(); });
    s.solve16 = cpu_of(3, [&] { many = factor->solve(many).normalized(); });
    s.product = cpu_of(5, [&] { one = (model.mass * one).normalized(); });
  }
  if (!folder.empty()) {
    modes::write_matrix_market(folder + "/stiffness.mtx", stiffness);
    modes::write_matrix_market(folder + "/mass.mtx", model.mass);
  }
  modes::ModeOptions options;
  options.count_check = false;
  s.eigen = cpu_of(repeats, [&] {
    const modes::ModeSet set = modes::lowest_modes(stiffness, model.mass, modes, options);
    s.worst_residual = set.residual.maxCoeff();
  });
  options.count_check = true;
  s.eigen_checked = cpu_of(1, [&] { modes::lowest_modes(stiffness, model.mass, modes, options); });
  s.peak = bench::peak_bytes();
  return s;
}

bench::JobTimes job_times(int nodes, int repeats) {
  bench::JobTimes out;
  const job::Job job = bench::bench_job();
  const panel::Panel panel = bench::bench_panel(nodes);
  const shell::Skin skin = study::skin_of(job, panel);
  const shell::PanelModel model = shell::build_model(skin, {}, {});
  reduced::FullReduction bare;
  out.first_eigen = cpu_of(repeats, [&] {
    bare = reduced::reduce_full(
        skin, model, study::ports_of(job, skin), study::reduction_of(job, true, 1), {});
  });
  study::StudyOptions options;
  options.with_map = false;
  double start = wall_seconds();
  out.full_cpu = cpu_of(1, [&] { study::run_study(job, panel, options, {}); });
  out.full_wall_1 = wall_seconds() - start;
  options.threads = 2;
  start = wall_seconds();
  study::run_study(job, panel, options, {});
  out.full_wall_2 = wall_seconds() - start;
  moved_piece(job, panel, skin, bare, repeats, out);

  placement::MapRequest request;
  request.sheet = &job.sheets.front();
  const placement::TrialBench bench(skin, bare, bare.model, job.drive, job.band);
  out.map = cpu_of(1, [&] {
    out.places = static_cast<int>(placement::benefit_map(panel, bench, request, {}).places.size());
  });
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"What each stage costs, and the ratios that count"};
  std::vector<int> nodes = {5000, 20000, 50000, 100000};
  int modes = 60, repeats = 3, job_nodes = 4700;
  std::string json, folder;
  app.add_option("--nodes", nodes, "panel sizes")->capture_default_str();
  app.add_option("--modes", modes, "modes of each eigen-solve")->capture_default_str();
  app.add_option("--repeats", repeats, "repeats, of which the median counts")
      ->capture_default_str();
  app.add_option("--job-nodes", job_nodes, "size of the bench job; 0: none")->capture_default_str();
  app.add_option("--json", json, "write the figures to this file too");
  app.add_option("--export", folder, "folder for the last size's matrices (MatrixMarket)");
  CLI11_PARSE(app, argc, argv);
  // Stages first, small to large: the process's peak memory is then that of the size just measured.
  std::vector<bench::StageTimes> stages;
  for (const int n : nodes) {
    std::cerr << "measuring " << n << " nodes\n";
    stages.push_back(stage_times(n, modes, n > 30000 ? 1 : repeats, folder));
  }
  for (std::size_t i = 0; i < stages.size(); ++i) {
    std::cerr << "full job on " << nodes[i] << " nodes\n";
    whole_job(nodes[i], stages[i]);
  }
  bench::JobTimes job;
  if (job_nodes > 0) job = job_times(job_nodes, repeats);
  if (!stages.empty()) bench::print_stages(stages);
  if (job_nodes > 0) bench::print_job(job);
  bench::print_start_up(repeats);
  if (!json.empty()) base::write_file_whole(json, bench::as_json(stages, job));
  return 0;
}
