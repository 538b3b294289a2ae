// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <memory>

#include "app/commands.hpp"
#include "app/job_run.hpp"
#include "app/terminal.hpp"
#include "base/input_error.hpp"
#include "study/place.hpp"
#include "study/study.hpp"

namespace calmplate::app {
namespace {

struct Options : RunOptions {
  std::string sheet;
  std::vector<double> shares = {15.0, 25.0, 40.0};
};

/// The sheet to lay: the one asked for, else the job's first that damps.
std::string sheet_of(const Options& options, const job::Job& job) {
  std::vector<std::string> names;
  for (const sheet::Sheet& s : job.sheets)
    if (s.kind != sheet::Kind::mass) names.push_back(s.name);
  if (names.empty())
    throw base::InputError({job.file.string(), 0, "sheet"},
                           "has no sheet that damps",
                           "a [[sheet]] of kind \"constrained\" or \"free-layer\"");
  if (options.sheet.empty()) return names.front();
  if (std::find(names.begin(), names.end(), options.sheet) == names.end()) {
    const std::string near =
        base::nearest_word(options.sheet, names.data(), static_cast<std::size_t>(names.size()));
    throw base::InputError({job.file.string(), 0, "sheet"},
                           "has no damping sheet \"" + options.sheet + "\"" +
                               (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
  }
  return options.sheet;
}

void place(const Options& options) {
  LoadedJob loaded = load_job(options.job);
  probe_target(options);
  std::vector<double> shares = options.shares;
  std::sort(shares.begin(), shares.end());
  for (double& s : shares) s /= 100.0;
  const std::string sheet = sheet_of(options, loaded.job);
  loaded.job = study::with_habits(loaded.job, loaded.panel, sheet, shares);
  // The sweep and the comparison of sheets are the main job's.
  loaded.job.sheet_comparison = {};
  const base::Progress progress = terminal_progress(options.quiet);
  std::vector<study::PlaceResult> places = place_all(options, loaded, progress);
  study::StudyOptions study_options;
  study_options.threads = options.threads;
  study::Results results = study::run_study(loaded.job, loaded.panel, study_options, progress);
  results.places = std::move(places);
  if (!results.places.empty()) {
    const study::Common common = study::common_of(loaded.job, loaded.panel, progress);
    const study::LayoutResult* full = nullptr;
    for (const study::LayoutResult& l : results.layouts)
      if (l.name == study::full_layout(loaded.job, sheet)) full = &l;
    for (const job::Layout& l : loaded.job.layouts)
      if (l.name == results.places.back().layout)
        results.curve = study::coverage_curve(
            common, l, results.layouts.front(), full, options.threads, progress);
  }
  finish_run(options, loaded, results, progress);
}

}  // namespace

void add_place(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "place",
      "Find where sheet does most, at several amounts, beside what the trade lays by habit");
  add_run_options(*command, *options);
  command->add_option("--sheet", options->sheet, "sheet to lay; the job's first that damps");
  command->add_option("--share", options->shares, "amounts in % of the skin, with commas between")
      ->delimiter(',')
      ->check(CLI::Range(0.5, 95.0))
      ->capture_default_str();
  command->footer(
      "Example: calmplate place meshes/estate_front_door.toml --share 15,25,40 -o placed");
  command->callback([options] { place(*options); });
}

}  // namespace calmplate::app
