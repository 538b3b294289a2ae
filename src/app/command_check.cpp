// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/load_job.hpp"
#include "report/results_json.hpp"
#include "report/summary.hpp"

namespace calmplate::app {

void add_check(CLI::App& app) {
  struct Options {
    std::string job;
    bool json = false, quiet = false;
  };
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("check", "Read a job and its panel, say what would be computed");
  command->add_option("JOB", options->job, "job file (TOML)")->required();
  command->add_flag("--json", options->json, "print JSON for machines");
  command->add_flag("--quiet", options->quiet, "print nothing if all is well");
  command->footer("Example: calmplate check meshes/estate_front_door.toml");
  command->callback([options] {
    const LoadedJob loaded = load_job(options->job);
    if (options->json)
      std::cout << report::check_json(loaded.job, loaded.panel, loaded.mending);
    else if (!options->quiet)
      std::cout << report::description(loaded.job, loaded.panel, loaded.mending);
  });
}

}  // namespace calmplate::app
