// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>
#include <optional>

#include "app/commands.hpp"
#include "app/draw_process.hpp"
#include "app/load_job.hpp"
#include "app/terminal.hpp"
#include "base/safe_output.hpp"
#include "report/results_json.hpp"
#include "report/summary.hpp"

namespace calmplate::app {

namespace {

constexpr const char* kMarker = "check.json";

struct Options {
  std::string job, folder;
  bool json = false, quiet = false;
};

void check(const Options& options) {
  const LoadedJob loaded = load_job(options.job);
  std::optional<base::OutputFolder> folder;
  if (!options.folder.empty()) folder.emplace(options.folder, kMarker);
  const std::string json = report::check_json(loaded.job, loaded.panel, loaded.mending);
  std::string missing;
  if (folder) {
    base::write_file_whole(folder->path() / kMarker, json);
    const base::Progress progress = terminal_progress(true);
    missing = draw_pictures(folder->path(), progress);
    progress.check();
    folder->commit();
  }
  if (options.json)
    std::cout << json;
  else if (!options.quiet)
    std::cout << report::description(loaded.job, loaded.panel, loaded.mending);
  if (folder && !options.json && !options.quiet)
    std::cout << "\nRim parts and holes: " << options.folder
              << (missing.empty() ? "/pictures/rim.png" : "/check.json") << "\n";
  if (!missing.empty()) {
    print_error("check.json is in " + options.folder + ", but not the picture: " + missing);
    set_exit_status(kFailed);
  }
}

}  // namespace

void add_check(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("check", "Read a job and its panel, say what would be computed");
  command->add_option("JOB", options->job, "job file (TOML)")->required();
  command->add_option("-o,--output",
                      options->folder,
                      "folder for check.json and a picture of the rim parts and holes with their "
                      "names; a former one is replaced");
  command->add_flag("--json", options->json, "print JSON for machines");
  command->add_flag("--quiet", options->quiet, "print nothing if all is well");
  command->footer("Example: calmplate check meshes/estate_front_door.toml -o out/check");
  command->callback([options] { check(*options); });
}

}  // namespace calmplate::app
