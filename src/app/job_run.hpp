// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <CLI/CLI.hpp>
#include <string>

#include "app/load_job.hpp"
#include "base/parallel.hpp"
#include "base/progress.hpp"
#include "study/results.hpp"

namespace calmplate::app {

/// What the commands that do a whole job have in common.
struct RunOptions {
  std::string job, folder;
  bool json = false, quiet = false, no_pictures = false, no_report = false;
  unsigned threads = base::hardware_threads();
};

/// JOB, -o, --threads, --no-pictures, --no-report, --json, --quiet.
void add_run_options(CLI::App& command, RunOptions& options);

/// Refuses a target that cannot be written, before the work.
/// @throws base::InputError
void probe_target(const RunOptions& options);

/// Finds the pieces of the layouts that ask for it. After a stop on request the best so far is kept
/// and the work goes on; layouts for which nothing was found by then are left out.
std::vector<study::PlaceResult> place_all(const RunOptions& options,
                                          LoadedJob& loaded,
                                          const base::Progress& progress);

/// Writes results, fields and pictures into the folder and prints the summary.
void finish_run(const RunOptions& options,
                const LoadedJob& loaded,
                const study::Results& results,
                const base::Progress& progress);

}  // namespace calmplate::app
