// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/draw_process.hpp"
#include "app/load_job.hpp"
#include "app/terminal.hpp"
#include "base/parallel.hpp"
#include "base/safe_output.hpp"
#include "report/results_json.hpp"
#include "report/summary.hpp"
#include "study/study.hpp"
#include "study/unknowns.hpp"

namespace calmplate::app {
namespace {

constexpr const char* kMarker = "results.json";

struct Options {
  std::string job, folder;
  bool json = false, quiet = false, no_pictures = false, convergence = false;
  unsigned threads = base::hardware_threads();
};

/// Writes everything into a temporary folder and puts it in place. @return why no pictures, or
/// empty
std::string write_results(const Options& options,
                          const LoadedJob& loaded,
                          const study::Results& results,
                          const std::string& json,
                          const std::string& text,
                          const base::Progress& progress) {
  base::OutputFolder folder(options.folder, kMarker);
  base::write_file_whole(folder.path() / kMarker, json);
  base::write_file_whole(folder.path() / "summary.txt", text);
  const report::ResultFields fields = report::result_fields(loaded.job, loaded.panel, results);
  mesh_io::write_vtu(
      folder.path() / "panel.vtu", loaded.panel.mesh, fields.nodes, fields.triangles);
  progress.check();
  std::string missing;
  if (!options.no_pictures) {
    progress.step("pictures", 1.0);
    missing = draw_pictures(folder.path(), progress);
    progress.check();
    // All pictures or none: nobody shall take a part for the whole.
    std::error_code ignored;
    if (!missing.empty()) std::filesystem::remove_all(folder.path() / "pictures", ignored);
  }
  folder.commit();
  return missing;
}

void run(const Options& options) {
  const LoadedJob loaded = load_job(options.job);
  {
    // Refuse a bad target before the work, not after it; this folder goes away again.
    const base::OutputFolder probe(options.folder, kMarker);
  }
  const base::Progress progress = terminal_progress(options.quiet);
  study::StudyOptions study_options;
  study_options.threads = options.threads;
  study::Results results = study::run_study(loaded.job, loaded.panel, study_options, progress);
  const double element_m = loaded.job.panel_options.element_size_m > 0.0
                               ? loaded.job.panel_options.element_size_m
                               : loaded.panel.element_size_m;
  if (loaded.job.unknowns.any())
    results.unknowns = study::study_unknowns(
        loaded.job, results, loaded.make_panel, element_m, options.threads, progress);
  if (options.convergence)
    results.convergence = study::study_convergence(
        loaded.job, loaded.make_panel, element_m, options.threads, progress);
  const std::string json = report::results_json(loaded.job, loaded.panel, loaded.mending, results);
  const std::string text = report::summary(loaded.job, loaded.panel, results);
  const std::string missing = write_results(options, loaded, results, json, text, progress);
  end_progress();
  if (options.json)
    std::cout << json;
  else if (!options.quiet)
    std::cout << text << "\nResults and pictures: " << options.folder << "\n";
  if (!missing.empty()) {
    print_error("results are in " + options.folder + ", but not the pictures: " + missing);
    set_exit_status(kFailed);
  }
}

int status = 0;

}  // namespace

int exit_status() { return status; }
void set_exit_status(int value) { status = value; }

void add_run(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "run", "Do the whole job: bare panel, every layout, benefit map, comparison, pictures");
  command->add_option("JOB", options->job, "job file (TOML)")->required();
  command
      ->add_option(
          "-o,--output", options->folder, "folder for the results; a former one is replaced")
      ->required();
  command
      ->add_option("--threads", options->threads, "threads to use; the results do not depend on it")
      ->check(CLI::Range(1u, 256u))
      ->capture_default_str();
  command->add_flag("--no-pictures", options->no_pictures, "leave the pictures out");
  command->add_flag("--convergence",
                    options->convergence,
                    "also solve at two coarser element sizes and say what finer ones would change");
  command->add_flag("--json", options->json, "print results.json instead of the summary");
  command->add_flag("--quiet", options->quiet, "print nothing, show no progress");
  command->footer("Example: calmplate run meshes/estate_front_door.toml -o door");
  command->callback([options] { run(*options); });
}

}  // namespace calmplate::app
