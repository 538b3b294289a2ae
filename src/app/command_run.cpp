// SPDX-License-Identifier: GPL-3.0-or-later
#include <memory>

#include "app/commands.hpp"
#include "app/job_run.hpp"
#include "app/terminal.hpp"
#include "study/study.hpp"
#include "study/unknowns.hpp"

namespace calmplate::app {
namespace {

struct Options : RunOptions {
  bool convergence = false;
};

void run(const Options& options) {
  LoadedJob loaded = load_job(options.job);
  probe_target(options);
  const base::Progress progress = terminal_progress(options.quiet);
  std::vector<study::PlaceResult> places = place_all(options, loaded, progress);
  study::StudyOptions study_options;
  study_options.threads = options.threads;
  study::Results results = study::run_study(loaded.job, loaded.panel, study_options, progress);
  results.places = std::move(places);
  if (loaded.job.unknowns.any())
    results.unknowns = study::study_unknowns(
        loaded.job, results, loaded.make_panel, loaded.element_m, options.threads, progress);
  if (options.convergence)
    results.convergence = study::study_convergence(
        loaded.job, loaded.make_panel, loaded.element_m, options.threads, progress);
  finish_run(options, loaded, results, progress);
}

int status = 0;

}  // namespace

int exit_status() { return status; }
void set_exit_status(int value) { status = value; }

void add_run(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "run", "Do the whole job: bare panel, every layout, benefit map, comparison, pictures");
  add_run_options(*command, *options);
  command->add_flag("--convergence",
                    options->convergence,
                    "also solve at two coarser element sizes and say what finer ones would change");
  command->footer("Example: calmplate run meshes/estate_front_door.toml -o door");
  command->callback([options] { run(*options); });
}

}  // namespace calmplate::app
