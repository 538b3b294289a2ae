// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/load_job.hpp"
#include "app/terminal.hpp"
#include "base/parallel.hpp"
#include "base/safe_output.hpp"
#include "report/cutting_words.hpp"
#include "study/cut_study.hpp"
#include "study/place.hpp"

namespace calmplate::app {
namespace {

constexpr const char* kMarker = "cutting.json";

struct Options {
  std::string job, folder, paper = "A4";
  std::vector<std::string> layouts;
  bool json = false, quiet = false;
  unsigned threads = base::hardware_threads();
};

/// The layouts to cut. Those whose pieces are still to be found are placed first.
std::vector<job::Layout> layouts_for(const Options& options,
                                     LoadedJob& loaded,
                                     const base::Progress& progress) {
  const std::vector<job::Layout> chosen = study::layouts_to_cut(loaded.job, options.layouts);
  std::vector<std::string> names;
  bool to_place = false;
  for (const job::Layout& layout : chosen) {
    names.push_back(layout.name);
    to_place = to_place || layout.place.has_value();
  }
  if (!to_place) return chosen;
  for (job::Layout& layout : loaded.job.layouts)
    if (std::find(names.begin(), names.end(), layout.name) == names.end()) layout.place.reset();
  study::place_layouts(loaded.job, loaded.panel, options.threads, progress);
  progress.check();
  return study::layouts_to_cut(loaded.job, names);
}

void write_files(const Options& options,
                 const std::vector<std::pair<std::string, std::string>>& files) {
  base::OutputFolder folder(options.folder, kMarker);
  for (const auto& [name, bytes] : files) {
    std::filesystem::create_directories((folder.path() / name).parent_path());
    base::write_file_whole(folder.path() / name, bytes);
  }
  folder.commit();
}

void cut(const Options& options) {
  LoadedJob loaded = load_job(options.job);
  {
    // Refuse a bad target before the work; this folder goes away again.
    const base::OutputFolder probe(options.folder, kMarker);
  }
  const base::Progress progress = terminal_progress(options.quiet);
  const std::vector<job::Layout> layouts = layouts_for(options, loaded, progress);
  const study::CutStudy study = study::cut_layouts(loaded.job, loaded.panel, layouts, progress);
  progress.step("templates", 1.0);
  const auto files =
      report::cutting_files(loaded.job, loaded.panel, study, cutting::paper_named(options.paper));
  progress.check();
  write_files(options, files);
  end_progress();
  if (options.json)
    std::cout << files[0].second;
  else if (!options.quiet)
    std::cout << files[1].second << "\nPlans and templates: " << options.folder << "\n";
}

}  // namespace

void add_cut(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "cut", "Plan how to cut the pieces out of the stock; full-size templates, laying sheet");
  command->add_option("JOB", options->job, "job file (TOML)")->required();
  command
      ->add_option("-o,--output",
                   options->folder,
                   "folder for plans and templates; a former one is replaced")
      ->required();
  command
      ->add_option(
          "--layout", options->layouts, "layout to cut; may be given several times; else all")
      ->allow_extra_args(false);
  command->add_option("--paper", options->paper, "paper of the templates")
      ->check(CLI::IsMember({"A4", "Letter"}))
      ->capture_default_str();
  command->add_flag("--json", options->json, "print cutting.json instead of the text");
  command->add_flag("--quiet", options->quiet, "print nothing, show no progress");
  command->footer("Example: calmplate cut meshes/estate_front_door.toml --layout partial -o cut");
  command->callback([options] { cut(*options); });
}

}  // namespace calmplate::app
