// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/job_run.hpp"

#include <algorithm>
#include <iostream>

#include "app/commands.hpp"
#include "app/draw_process.hpp"
#include "app/terminal.hpp"
#include "base/safe_output.hpp"
#include "page/page.hpp"
#include "report/page_json.hpp"
#include "report/placed_toml.hpp"
#include "report/results_json.hpp"
#include "report/summary.hpp"
#include "study/place.hpp"

namespace calmplate::app {
namespace {

constexpr const char* kMarker = "results.json";

/// Both pages of the folder, or none. @return why there are none, or empty
std::string write_pages(const std::filesystem::path& folder, const base::Progress& progress) {
  progress.step("pages", 1.0);
  try {
    for (const page::Voice voice : {page::Voice::fitter, page::Voice::customer})
      base::write_file_whole(folder / page::file_name(voice), page::report_page(folder, voice));
    return "";
  } catch (const std::exception& e) {
    std::error_code ignored;
    for (const page::Voice voice : {page::Voice::fitter, page::Voice::customer})
      std::filesystem::remove(folder / page::file_name(voice), ignored);
    return e.what();
  }
}

/// Writes everything into a temporary folder and puts it in place. @return what is missing and why,
/// or empty
std::string write_results(const RunOptions& options,
                          const LoadedJob& loaded,
                          const study::Results& results,
                          const std::string& json,
                          const std::string& text,
                          const base::Progress& progress) {
  base::OutputFolder folder(options.folder, kMarker);
  base::write_file_whole(folder.path() / kMarker, json);
  base::write_file_whole(folder.path() / "summary.txt", text);
  const std::string logo = report::logo_file(loaded.job);
  if (!logo.empty()) base::write_file_whole(folder.path() / logo, loaded.job.report.logo);
  if (!results.places.empty())
    base::write_file_whole(folder.path() / "placed.toml", report::placed_toml(loaded.job, results));
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
    if (!missing.empty()) {
      std::filesystem::remove_all(folder.path() / "pictures", ignored);
      missing = "not the pictures: " + missing;
    }
  }
  if (!options.no_report) {
    const std::string pages = write_pages(folder.path(), progress);
    if (!pages.empty())
      missing += (missing.empty() ? "not the pages: " : "; not the pages: ") + pages;
  }
  folder.commit();
  return missing;
}

}  // namespace

void add_run_options(CLI::App& command, RunOptions& options) {
  command.add_option("JOB", options.job, "job file (TOML)")->required();
  command
      .add_option("-o,--output", options.folder, "folder for the results; a former one is replaced")
      ->required();
  command
      .add_option("--threads", options.threads, "threads to use; the results do not depend on it")
      ->check(CLI::Range(1u, 256u))
      ->capture_default_str();
  command.add_flag("--no-pictures", options.no_pictures, "leave the pictures out");
  command.add_flag("--no-report", options.no_report, "leave report.html and customer.html out");
  command.add_flag("--json", options.json, "print results.json instead of the summary");
  command.add_flag("--quiet", options.quiet, "print nothing, show no progress");
}

void probe_target(const RunOptions& options) {
  // This folder goes away again.
  const base::OutputFolder probe(options.folder, kMarker);
}

std::vector<study::PlaceResult> place_all(const RunOptions& options,
                                          LoadedJob& loaded,
                                          const base::Progress& progress) {
  std::vector<study::PlaceResult> places =
      study::place_layouts(loaded.job, loaded.panel, options.threads, progress);
  const bool stopped =
      std::any_of(places.begin(), places.end(), [](const auto& p) { return p.stopped; });
  if (!stopped) return places;
  end_progress();
  if (!options.quiet)
    std::cerr << "calmplate: stopped looking; the best so far is worked out, Ctrl-C again leaves\n";
  forget_interrupt();
  auto& layouts = loaded.job.layouts;
  layouts.erase(
      std::remove_if(
          layouts.begin(), layouts.end(), [](const job::Layout& l) { return l.pieces.empty(); }),
      layouts.end());
  return places;
}

void finish_run(const RunOptions& options,
                const LoadedJob& loaded,
                const study::Results& results,
                const base::Progress& progress) {
  const std::string json = report::results_json(loaded.job, loaded.panel, loaded.mending, results);
  const std::string text = report::summary(loaded.job, loaded.panel, results);
  const std::string missing = write_results(options, loaded, results, json, text, progress);
  end_progress();
  if (options.json)
    std::cout << json;
  else if (!options.quiet)
    std::cout << text << "\nResults, pictures and pages: " << options.folder << "\n";
  if (!missing.empty()) {
    print_error("results are in " + options.folder + ", but " + missing);
    set_exit_status(kFailed);
  }
}

}  // namespace calmplate::app
